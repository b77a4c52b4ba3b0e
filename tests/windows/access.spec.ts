/** Every page and every part of it, light and dark: nothing serious that axe can find, and nothing cut off sideways at 200 % zoom. */
import type { Page } from '@playwright/test'
import { isClean } from './axe.ts'
import { expect, test } from './fixtures.ts'
import { openPlanned } from './planned-farm.ts'

/** A plan of the demo takes a few seconds alone; on a machine that does other work, many more. */
const planned = { timeout: 90_000 }
test.setTimeout(240_000)

/** Parts of the pages that are tables. */
const tables = {
  fields: [],
  varieties: [],
  quotes: ['Quotes', 'Dealers', 'Seed on hand'],
  rules: ['Rules', 'Assumptions', 'Planting windows', 'Weeks', 'Machines', 'Threats', 'Measures'],
} as const
const planParts = ['The plan', 'Cash and loss', 'Other years', 'What rules cost', 'What if, and drafts'] as const

async function open(page: Page, stage: string) {
  await page.evaluate((hash) => {
    location.hash = hash
  }, stage)
  await expect(
    page.getByRole('navigation', { name: 'Stages of the year' }).locator('[aria-current=page]'),
  ).toHaveAttribute('href', `#${stage}`)
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
}

const part = (page: Page, name: string) =>
  page
    .getByRole('navigation', { name: /^Parts of/ })
    .getByRole('button', { name: new RegExp(`^${name}`) })
    .click()

async function openDemo(page: Page, address: string, door: string) {
  await page.goto(address)
  await page.getByRole('button', { name: door }).click()
}

test('axe finds nothing serious on the first page nor on any page of tables', async ({ page, standwell }) => {
  await page.goto(standwell.address)
  await expect(page.getByRole('button', { name: 'Open the demo farm' })).toBeVisible()
  await isClean(page, 'first page')
  await page.getByRole('button', { name: 'Open it without a plan' }).click()
  for (const [stage, parts] of Object.entries(tables)) {
    await open(page, stage)
    for (const name of parts.length > 0 ? parts : [null]) {
      if (name !== null) await part(page, name)
      await isClean(page, `${stage}, ${name ?? 'its table'}`)
    }
  }
  // A row of the book that is open, and one that was not taken.
  await part(page, 'Assumptions')
  await page.getByRole('button', { name: /source and effect of drop\/seeds per foot\/single$/ }).click()
  const own = page.getByRole('textbox', { name: 'Own value of drop/seeds per foot/single' })
  await own.fill('many')
  await own.press('Enter')
  await expect(page.getByRole('alert')).toContainText('is not a number')
  await isClean(page, 'a row of the book')
  await own.fill('5.5')
  await own.press('Enter')
  await expect(page.getByLabel('Found from')).toBeVisible()
  await isClean(page, 'a row of the book that the farm has changed')
  for (const stage of ['plan', 'orders', 'calendar', 'deliveries', 'rates', 'planting'] as const) {
    await open(page, stage)
    await isClean(page, `${stage} before a plan`)
  }
  // With farms to go on with.
  await page.getByRole('button', { name: 'Close the farm' }).click()
  await expect(page.getByRole('heading', { name: 'Go on with' })).toBeVisible()
  await isClean(page, 'first page with farms')
})

test('axe finds nothing serious in empty pages, cells refused, files brought in', async ({ page, standwell }) => {
  await page.goto(standwell.address)
  await page.getByLabel('Name of the farm').fill('Two Creeks')
  await page.getByRole('button', { name: 'Start my farm' }).click()
  await expect(page.getByRole('heading', { name: 'No fields yet' })).toBeVisible()
  for (const stage of [...Object.keys(tables), 'plan', 'orders', 'calendar']) {
    await open(page, stage)
    await isClean(page, `empty ${stage}`)
  }
  await open(page, 'fields')
  await page.getByRole('button', { name: 'Import files' }).click()
  await isClean(page, 'a file to choose')
  const choose = page.locator('input[type=file]')
  const table = 'Field name,Size,Water,Goal\nHome,40.5,dryland,3500\nCreek,"1,234",irrigated,5000\nOdd,many,dryland,1\n'
  await choose.setInputFiles({ name: 'ours.csv', mimeType: 'text/csv', buffer: Buffer.from(table) })
  await expect(page.getByText(/^1 table: 2 rows to import/)).toBeVisible()
  for (const part of ['Columns', 'All rows']) await page.getByText(part, { exact: true }).click()
  await isClean(page, 'a table with its columns and rows')
  await page.getByLabel('Import what is ready and leave the rest').check()
  await page.getByRole('button', { name: 'Import 2 rows' }).click()
  const acres = page.getByRole('row', { name: /^Home/ }).getByRole('gridcell').first()
  await acres.dblclick()
  await isClean(page, 'a cell that is typed in')
  await page.getByRole('textbox', { name: 'Planted' }).fill('many')
  await page.keyboard.press('Enter')
  await expect(acres).toHaveAttribute('aria-invalid', 'true')
  await isClean(page, 'a cell that was not taken')
  await page.getByRole('button', { name: 'Import files' }).click()
  const features = ['Home', 'New Ground'].map((name, at) => {
    const [west, east] = [-80 - at / 50, -79.996 - at / 50]
    const ring = [
      [west, 31.5],
      [east, 31.5],
      [east, 31.504],
      [west, 31.504],
      [west, 31.5],
    ]
    return { type: 'Feature', properties: { name }, geometry: { type: 'Polygon', coordinates: [ring] } }
  })
  const boundaries = Buffer.from(JSON.stringify({ type: 'FeatureCollection', features }))
  await choose.setInputFiles({ name: 'ours.geojson', mimeType: 'application/geo+json', buffer: boundaries })
  await expect(page.getByText(/^2\s+boundaries read/)).toBeVisible()
  await isClean(page, 'boundaries')
})

test('axe finds nothing serious in any part of the plan, at work and after', async ({ page, standwell }) => {
  await openDemo(page, standwell.address, 'Open the demo farm')
  await expect(page.getByRole('button', { name: /^Cancel/ })).toBeVisible()
  await isClean(page, 'while it works')
  await expect(page.getByRole('heading', { name: 'What to order' })).toBeVisible(planned)
  for (const name of planParts) {
    await part(page, name)
    await isClean(page, name)
  }
  await page.getByRole('button', { name: 'Ask: What risk counts' }).click()
  await expect(page.getByRole('region', { name: 'Side by side' })).toBeVisible(planned)
  await isClean(page, 'drafts side by side')
  await part(page, 'Cash and loss')
  await page.getByRole('button', { name: 'Draw the curve' }).click()
  await expect(page.getByRole('button', { name: 'Cancel, keep what there is' })).toBeVisible()
  await isClean(page, 'the curve while it is drawn')
  const rows = page.getByRole('table', { name: /^The points of the curve/ }).getByRole('row')
  await expect.poll(() => rows.count(), planned).toBeGreaterThanOrEqual(4)
  await page.getByRole('button', { name: 'Cancel, keep what there is' }).click()
  await page.getByRole('button', { name: 'Look at point 1' }).click(planned)
  await isClean(page, 'a point of the curve')
  await part(page, 'The plan')
  await page.getByRole('button', { name: /^Creek Bottom, 88 acres/ }).click()
  const why = page.getByRole('complementary')
  await why.getByText('The working, with sources').click()
  await why.getByRole('button', { name: /^Lock to/ }).click()
  await expect(page.getByRole('heading', { name: 'Out of date' })).toBeVisible()
  await isClean(page, 'why, and out of date')
})

test('axe finds nothing serious in orders made, answered and short', async ({ page, standwell }) => {
  await openPlanned(page, standwell)
  await open(page, 'orders')
  await isClean(page, 'orders to make')
  await page.getByRole('button', { name: 'Make the orders' }).click()
  const states = page.getByRole('combobox', { name: /^State of/ })
  await states.first().selectOption('refused')
  await expect(page.getByRole('heading', { name: /^Short of seed/ })).toBeVisible()
  await states.nth(1).selectOption('confirmed')
  await expect(states.nth(1)).toHaveValue('confirmed')
  await isClean(page, 'orders answered')
})

test('at 200 % nothing runs off the side', async ({ page, standwell }) => {
  await page.setViewportSize({ width: 640, height: 400 })
  const isInside = async (what: string) => {
    const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)
    expect(over, what).toBeLessThanOrEqual(0)
  }
  await page.goto(standwell.address)
  await expect(page.getByRole('button', { name: 'Open the demo farm' })).toBeVisible()
  await isInside('first page')
  await page.getByRole('button', { name: 'Open the demo farm' }).click()
  await expect(page.getByRole('heading', { name: 'What to order' })).toBeVisible(planned)
  for (const [stage, parts] of Object.entries({
    ...tables,
    plan: planParts,
    orders: [],
    calendar: [],
    deliveries: [],
    rates: [],
    planting: [],
  })) {
    await open(page, stage)
    for (const name of parts.length > 0 ? parts : [null]) {
      if (name !== null) await part(page, name)
      await isInside(`${stage}, ${name}`)
    }
  }
  await open(page, 'orders')
  await page.getByRole('button', { name: 'Make the orders' }).click()
  await expect(page.getByRole('combobox', { name: /^State of/ }).first()).toBeVisible()
  await isInside('orders made')
})
