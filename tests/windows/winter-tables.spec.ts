/**
 * A farm of one's own from a spreadsheet: pasted, imported from files, typed, ruled, exported, undone. Long because it is one
 * table in every way it can be filled.
 */
import { readFileSync } from 'node:fs'
import type { Page } from '@playwright/test'
import { expect, test } from './fixtures.ts'
import { go } from './stages.ts'

test.setTimeout(120_000)

const cell = (page: Page, row: string, at: number) =>
  page
    .getByRole('row', { name: new RegExp(`^${row}`) })
    .locator('th, td')
    .nth(at)

async function fileOf(page: Page, button: string) {
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: button, exact: true }).click(),
  ])
  return { name: file.suggestedFilename(), bytes: readFileSync(await file.path()) }
}

async function startOwn(page: Page, address: string) {
  await page.goto(address)
  await page.getByLabel('Name of the farm').fill('Two Creeks')
  await page.getByLabel('Crop year').fill('2027')
  await page.getByRole('button', { name: 'Start my farm' }).click()
  await expect(page.getByRole('heading', { name: 'No fields yet' })).toBeVisible()
}

test('fields pasted into an empty page, one step back takes all of it', async ({ page, standwell, context }) => {
  await context.grantPermissions(['clipboard-read', 'clipboard-write'])
  await startOwn(page, standwell.address)
  await page.evaluate(() =>
    navigator.clipboard.writeText('Home\t40\t\t36\tsingle\tdryland\nCreek\t60.5\t\t36\ttwin\tirrigated\nOdd\tmany\n'),
  )
  await page.getByRole('rowheader', { name: 'New field' }).click()
  await page.keyboard.press('Control+v')
  await expect(page.getByRole('status').filter({ hasText: 'not added yet' })).toContainText('needs Yield goal')
  // The yield goal is further right: typed once, filled down.
  const goal = page.getByRole('columnheader', { name: /^Yield goal/ })
  const at = await goal.evaluate((header) => [...(header.parentElement?.children ?? [])].indexOf(header))
  await page.getByRole('row', { name: /^Home/ }).locator('th, td').nth(at).click()
  await page.keyboard.type('4000')
  await page.keyboard.press('Enter')
  await expect(page.getByRole('link', { name: /^Fields/ })).toContainText('1 field, 40 acres')
  await page.keyboard.press('Control+d')
  await expect(page.getByRole('link', { name: /^Fields/ })).toContainText(/\d fields?, [\d.]+ acres/)
  await page.getByRole('button', { name: /^Undo/ }).click()
  await expect(page.getByRole('button', { name: /^Redo: add 1 field/ })).toBeVisible()
})

test('a block with headings of its own goes in by their names; quotes wait for their dealers', async ({
  page,
  standwell,
  context,
}) => {
  await context.grantPermissions(['clipboard-read', 'clipboard-write'])
  await startOwn(page, standwell.address)
  const paste = async (block: string, into: string) => {
    await page.evaluate((text) => navigator.clipboard.writeText(text), block)
    await page.getByRole('rowheader', { name: into }).click()
    await page.keyboard.press('Control+v')
  }
  const block =
    'Yield goal\tName\tRow width\tIrrigation\tAcres\n4800 lb\tHome\t36"\tirrigated\t40 ac\n3700\tHome\t36\tdryland\t9\n'
  await paste(block, 'New field')
  await expect(page.getByRole('heading', { name: 'Import what you pasted' })).toBeFocused()
  await expect(page.getByText('1 table: 1 row to import, 0 questions, 1 refused')).toBeVisible()
  await page.getByLabel('Import what is ready and leave the rest').check()
  await page.getByRole('button', { name: 'Import 1 row' }).click()
  await expect(cell(page, 'Home', 1)).toHaveText('40')

  await page.getByRole('link', { name: /^Varieties/ }).click()
  await paste('Variety\tSeed count\tVine\tMaturity\nAmber\t640\tmedium\t140\n', 'New variety')
  await page.getByRole('button', { name: 'Import 1 row' }).click()
  await page.getByRole('link', { name: /^Quotes/ }).click()
  await paste('Far Barn\tAmber\t\t50\t46.50\nFar Barn\tAmber\tlate\t50\t48\n', 'New quote')
  await expect(page.locator('[data-status="waiting"]')).toHaveText('2 quotes not added yet')
  const part = (name: RegExp) =>
    page.getByRole('main').getByRole('tab', { name }).or(page.getByRole('main').getByRole('button', { name }))
  await part(/^Dealers/).click()
  await paste('Far Barn\n', 'New dealer')
  await expect(page.getByRole('button', { name: /^Undo: (add|paste) 1 dealer/ })).toBeVisible()
  await part(/^Quotes/).click()
  await expect(page.getByRole('link', { name: /^Quotes/ })).toContainText('2 quotes, 1 dealer')
  await expect(page.getByRole('button', { name: 'Undo: add 2 quotes' })).toBeVisible()
})

test('a file with a question and a bad cell, and the table out again', async ({ page, standwell }) => {
  await startOwn(page, standwell.address)
  await page.getByRole('button', { name: 'Import files' }).click()
  const table =
    'Field name,Size,Water,Goal,White mold\nHome,40,dry,3500,some\nCreek,60.5,pivot,5000,some\nOdd,many,dryland,3000,\n'
  const take = page.getByRole('button', { name: /^Import \d+ rows?$/ })
  await page
    .locator('input[type=file]')
    .setInputFiles({ name: 'ours.csv', mimeType: 'text/csv', buffer: Buffer.from(table) })
  await expect(page.getByText('1 table: 2 rows to import, 1 question, 1 refused')).toBeVisible()
  await expect(take).toBeDisabled()
  // One question for both cells, answered in one click.
  await expect(page.getByText('What does “some” under White mold mean?')).toBeVisible()
  await page.getByRole('button', { name: 'Accept “moderate”' }).click()
  await expect(page.getByText('1 table: 2 rows to import, 0 questions, 1 refused')).toBeVisible()
  // What is refused can be mended elsewhere, or here.
  const leftover = await fileOf(page, 'Save leftovers')
  expect(leftover.name).toBe('Leftovers.csv')
  expect(leftover.bytes.toString('utf8')).toMatch(
    /^\uFEFFFile,Row,Result,Why,Field name,Size,Water,Goal,White mold\r\nours.csv,4,row refused,Size: “many” is not a number\. Correct the cell\.,Odd,many,dryland,3000,/,
  )
  await page.getByRole('textbox', { name: 'Size, row 4' }).fill('12.5')
  await page.keyboard.press('Tab')
  await expect(page.getByText('1 table: 3 rows to import, 0 questions, 0 refused')).toBeVisible()
  await take.click()
  await expect(cell(page, 'Creek', 1)).toHaveText('60.5')
  await expect(cell(page, 'Odd', 1)).toHaveText('12.5')
  // In the order of the file.
  await expect(page.getByRole('row').nth(1)).toContainText('Home')
  await expect(page.getByRole('button', { name: 'Undo: import ours.csv' })).toBeVisible()
  // The answer is remembered, and can be taken back.
  await page.getByRole('button', { name: 'Import files' }).click()
  await page.getByText('Answers on this computer').click()
  await page.getByRole('button', { name: 'Delete the answer for some' }).click()
  await expect(page.getByText('Answers on this computer')).toHaveCount(0)
  await page.getByRole('button', { name: 'Close', exact: true }).click()

  for (const as of ['CSV', 'XLSX']) {
    const { name, bytes } = await fileOf(page, as)
    expect(name).toBe(`Fields.${as.toLowerCase()}`)
    if (as === 'CSV')
      expect(bytes.toString('utf8')).toMatch(/^\uFEFFField,Planted \(acres\),.*\r\nHome,40,[^]*\r\nCreek,60.5,/)
    else expect(bytes.subarray(0, 2).toString()).toBe('PK')
  }
  await page.getByRole('button', { name: 'Undo: import ours.csv' }).click()
  await expect(page.getByRole('heading', { name: 'No fields yet' })).toBeVisible()
})

test('by keyboard: a column made wider stays so, a row removed comes back', async ({ page, standwell }) => {
  await page.goto(standwell.address)
  await page.getByRole('button', { name: 'Open it without a plan' }).click()
  await page.getByRole('link', { name: /^Fields/ }).click()
  await cell(page, 'Alder Forty', 1).click()
  const header = page.getByRole('columnheader', { name: /^Planted/ })
  const width = async () => (await header.boundingBox())?.width ?? 0
  const before = await width()
  await page.keyboard.press('Alt+Shift+ArrowRight')
  await page.keyboard.press('Alt+Shift+ArrowRight')
  await expect.poll(width).toBeGreaterThan(before + 20)
  await expect(page.getByText(/All changes saved/)).toBeVisible()
  await page.reload()
  await expect.poll(width).toBeGreaterThan(before + 20)

  await cell(page, 'Alder Forty', 1).click()
  await page.keyboard.press('Shift+ArrowDown')
  await expect(page.locator('[data-status="marked"]')).toHaveText('2 cells, 2 figures · sum 180 · average 90')
  await page.keyboard.press('Control+Delete')
  await expect(page.getByRole('link', { name: /^Fields/ })).toContainText('12 fields')
  await page.keyboard.press('Control+z')
  await expect(page.getByRole('link', { name: /^Fields/ })).toContainText('14 fields')
})

test('a rule is switched and its amount changed; a row of the book too, and put back', async ({ page, standwell }) => {
  await page.goto(standwell.address)
  await page.getByRole('button', { name: 'Open it without a plan' }).click()
  await page.getByRole('link', { name: /^House rules/ }).click()
  const budget = page.getByRole('switch', { name: /^Spend no more than/ })
  await expect(budget).not.toBeChecked()
  await budget.check()
  await expect(page.getByRole('button', { name: /^Undo: switch on: Spend/ })).toBeVisible()
  const amount = page.getByRole('textbox', { name: /^Amount of: Spend/ })
  await amount.fill('lots')
  await amount.press('Tab')
  await expect(page.getByRole('alert')).toContainText('is not a number')
  await amount.fill('250,000')
  await amount.press('Tab')
  await expect(page.getByRole('button', { name: /^Undo: change: Spend/ })).toBeVisible()
  await page.getByRole('button', { name: /^Undo/ }).click()
  await expect(amount).toHaveValue('240000')

  await page.getByRole('button', { name: 'Assumptions' }).click()
  const drop = page.getByRole('textbox', { name: 'Own value of drop/seeds per foot/single' })
  await drop.fill('5.5')
  await drop.press('Enter')
  await expect(page.getByRole('button', { name: 'Undo: change an assumption' })).toBeVisible()
  await page.getByRole('button', { name: /source and effect of drop\/seeds per foot\/single$/ }).click()
  await expect(page.getByText(/^Felt now in/)).toContainText('Alder Forty')
  // A range of the farm's own, with its ends in their order.
  const row = page.getByRole('row', { name: /^drop · seeds per foot · single/ })
  await page.getByLabel('Found from').fill('7')
  await page.getByLabel('to', { exact: true }).fill('5')
  await page.keyboard.press('Tab')
  await expect(page.getByRole('alert')).toContainText('down to 5')
  await page.getByLabel('Found from').fill('4.5')
  await page.keyboard.press('Tab')
  await page.getByLabel('to', { exact: true }).press('Enter')
  await expect(row).toContainText('4.5 to')
  const book = await fileOf(page, 'CSV')
  expect(book.name).toBe('The book.csv')
  expect(book.bytes.toString('utf8')).toContain('drop/seeds per foot/single,6,5.5,seeds/ft,4.5,')
  await page.getByRole('button', { name: 'Back to the default', exact: true }).click()
  await expect(drop).toHaveValue('')
  await page
    .getByRole('navigation', { name: 'Parts of House rules' })
    .getByRole('button', { name: /^Rules/ })
    .click()
  const rules = await fileOf(page, 'CSV')
  expect(rules.bytes.toString('utf8')).toContain(
    'Varieties and acres,No more than 40 % of the acres in any one variety.,yes',
  )
})

test('boundaries bring the fields that are not there', async ({ page, standwell }) => {
  await startOwn(page, standwell.address)
  await page.getByRole('button', { name: 'Import files' }).click()
  const [west, east] = [-80, -79.996]
  const corners = [
    [west, 31.5],
    [east, 31.5],
    [east, 31.504],
    [west, 31.504],
    [west, 31.5],
  ]
  const geometry = { type: 'Polygon', coordinates: [corners] }
  const feature = { type: 'Feature', properties: { name: 'New Ground' }, geometry }
  const buffer = Buffer.from(JSON.stringify({ type: 'FeatureCollection', features: [feature] }))
  await page
    .locator('input[type=file]')
    .setInputFiles({ name: 'ours.geojson', mimeType: 'application/geo+json', buffer })
  await expect(page.getByText(/^1\s+boundary read = 0 added .* 1 refused/)).toBeVisible()
  await page.getByLabel('Add the field that is not there yet:').check()
  await page.getByLabel('Water of new fields').selectOption('irrigated')
  await page.getByLabel('with a yield goal of').fill('4,500')
  await page.keyboard.press('Tab')
  await expect(page.getByText(/^1\s+boundary read = 1 added/)).toBeVisible()
  await page.getByRole('button', { name: 'Import 1 boundary' }).click()
  // 0.004° by 0.004° at 31.5° north is some 380 by 444 m.
  await expect(cell(page, 'New Ground', 1)).toHaveText(/^41\.\d$/)
  await page.getByRole('button', { name: /^Undo: bring in boundaries/ }).click()
  await expect(page.getByRole('heading', { name: 'No fields yet' })).toBeVisible()
})

test('on paper a table has the columns in which something stands, and a cell half-typed waits', async ({
  page,
  standwell,
}) => {
  await page.goto(standwell.address)
  await page.getByRole('button', { name: 'Open it without a plan' }).click()
  await page.getByRole('link', { name: /^Fields/ }).click()
  const heads = page.getByRole('grid', { name: 'Fields' }).getByRole('columnheader')
  await expect(heads.filter({ hasText: 'Own drop' })).toHaveCount(1)
  const onScreen = await heads.count()
  await page.emulateMedia({ media: 'print' })
  // Nine are empty, and nematodes stand in one unit.
  await expect(
    page.getByText(
      'Columns left out, being empty: Brings otherwise, Nematode counted, Sampled on, Own drop, Landlord, Farm number, Tract, Place, Locked to.',
    ),
  ).toBeVisible()
  await expect(heads).toHaveCount(onScreen - 10)
  await page.emulateMedia({ media: null })
  await expect(heads).toHaveCount(onScreen)

  await page.getByRole('gridcell').first().click()
  await page.keyboard.type('4')
  await page.emulateMedia({ media: 'print' })
  await expect(heads).toHaveCount(onScreen)
  await page.emulateMedia({ media: null })
  await expect(page.locator('td input')).toHaveValue('4')
})

test('a row on its way as its page is left is in the farm once; one that is refused is there to be mended', async ({
  page,
  standwell,
}) => {
  await page.goto(standwell.address)
  await page.getByRole('button', { name: 'Open it without a plan' }).click()
  const dealers = page.getByRole('navigation', { name: /^Parts of/ }).getByRole('button', { name: /^Dealers/ })
  await go(page, 'quotes')
  await dealers.click()
  // The engine takes its time.
  await page.route('**/call/sheet.change', async (route) => {
    await new Promise((done) => setTimeout(done, 400))
    await route.continue()
  })
  for (const name of ['Long Road Seed', 'Burrow Bend Seed']) {
    await page.getByRole('rowheader', { name: 'New dealer' }).click()
    await page.keyboard.type(name)
    const answered = page.waitForResponse('**/call/sheet.change')
    await page.keyboard.press('Enter')
    await go(page, 'fields')
    await expect(page.getByRole('grid', { name: 'Fields' })).toBeVisible()
    await answered
    await go(page, 'quotes')
    await dealers.click()
    await expect(page.getByRole('rowheader', { name: 'New dealer' })).toBeVisible()
    await expect(page.getByRole('rowheader', { name: 'Long Road Seed' })).toHaveCount(1)
  }
  // The second is a dealer that is there already.
  await expect(page.getByRole('rowheader', { name: /Burrow Bend Seed/ })).toHaveCount(2)
  await expect(page.getByText('1 dealer not added yet')).toBeVisible()
})

test('a new farm starts by its region: proposals with sources, one left, one changed, one step back', async ({
  page,
  standwell,
}) => {
  await startOwn(page, standwell.address)
  await page.getByRole('button', { name: 'Start by region' }).click()
  const part = page.getByRole('region', { name: 'Start by region' })
  await part.getByLabel('Region').selectOption('Alabama')
  await part.getByLabel('Planter rows').selectOption('6')
  await expect(part.getByText(/USDA NASS crop progress .* Alabama: from 15 % to 85 % planted/)).toBeVisible()
  await part.getByLabel('Add Reduced spray program (5 sprays)').uncheck()
  await part.getByLabel('Price of your peanuts, $/ton').fill('545')
  const add = part.getByRole('button', { name: /^Add \d+ proposals$/ })
  await add.click()
  await expect(page.getByRole('button', { name: 'Undo: start by region' })).toBeVisible()
  await expect(page.getByRole('button', { name: 'Start by region', exact: true })).toHaveCount(0)
  await page.getByRole('link', { name: /^House rules/ }).click()
  await page.getByRole('main').getByText('Machines').first().click()
  await expect(page.getByRole('row', { name: /^6-row planter/ })).toBeVisible()
  await page.getByRole('button', { name: 'Undo: start by region' }).click()
  await expect(page.getByRole('row', { name: /^6-row planter/ })).toHaveCount(0)
})
