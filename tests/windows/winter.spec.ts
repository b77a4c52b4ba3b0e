/**
 * A whole winter on a farm of one's own, from an empty start to a farm that is closed and opened again: once by mouse,
 * once by keyboard alone. Long because a winter is one story: each step stands on the one before.
 */
import { readFileSync } from 'node:fs'
import type { Download, Page } from '@playwright/test'
import { expect, test } from './fixtures.ts'
import { copyFor, dealers, fields, focusWords, press, quotes, tabTo, varieties } from './winter-farm.ts'

/** Plans of this farm take a second or two alone; on a machine that does other work, many more. */
const planned = { timeout: 90_000 }
test.setTimeout(300_000)
test.beforeEach(async ({ page, context }) => {
  await context.grantPermissions(['clipboard-read', 'clipboard-write'])
  await page.clock.setFixedTime(new Date('2027-01-20T10:00:00'))
})

const rail = (page: Page, stage: string) =>
  page.getByRole('navigation', { name: 'Stages of the year' }).getByRole('link', { name: new RegExp(`^${stage}\\b`) })
const part = (page: Page, name: string | RegExp) =>
  page.getByRole('navigation', { name: /^Parts of/ }).getByRole('button', { name })
const button = (page: Page, name: string | RegExp) => page.getByRole('button', { name })
const running = (page: Page) => page.getByLabel('Running line')
const atWork = (page: Page) => page.getByRole('region', { name: 'Work beside the plan' })
const proof = /^(Proven least cost|Within [\d.]+ % of least cost)/
const states = (page: Page) => page.getByRole('combobox', { name: /^State of/ })
const draft = 'Bison cannot be had'

async function fileOf(page: Page, act: () => Promise<void>): Promise<{ name: string; bytes: Buffer }> {
  const [file] = await Promise.all<[Promise<Download>, Promise<void>]>([page.waitForEvent('download'), act()])
  return { name: file.suggestedFilename(), bytes: readFileSync(await file.path()) }
}

test('a winter by mouse', async ({ page, standwell }) => {
  await page.goto(standwell.address)
  await page.getByLabel('Name of the farm').fill('Two Creeks')
  await page.getByLabel('Crop year').fill('2027')
  await button(page, 'Start my farm').click()
  await expect(page.getByRole('heading', { name: 'No fields yet' })).toBeVisible()

  for (const [stage, tab, grid, fresh, rows] of [
    ['Fields', null, 'Fields', 'New field', fields],
    ['Varieties', null, 'Varieties', 'New variety', varieties],
    ['Quotes', 'Dealers', 'Dealers', 'New dealer', dealers],
    ['Quotes', 'Quotes', 'Quotes', 'New quote', quotes],
  ] as const) {
    await rail(page, stage).click()
    if (tab !== null) await part(page, new RegExp(`^${tab}`)).click()
    await copyFor(page, grid, rows)
    await page.getByRole('rowheader', { name: fresh }).click()
    await page.keyboard.press('Control+v')
    await expect(button(page, new RegExp(`^Undo: paste ${rows.length} `))).toBeVisible()
    await expect(page.getByRole('grid', { name: grid }).getByRole('rowheader')).toHaveCount(rows.length + 1)
  }
  await expect(rail(page, 'Fields')).toContainText('5 fields, 255.5 acres')
  await expect(rail(page, 'Quotes')).toContainText('5 quotes, 2 dealers')

  await rail(page, 'House rules').click()
  const fewest = page.getByRole('switch', { name: /^Plant at least .* varieties/ })
  await page.getByRole('textbox', { name: /^Amount of: Plant at least .* varieties/ }).fill('2')
  await fewest.check()
  await expect(button(page, /^Undo: switch on: Plant at least/)).toBeVisible()

  await rail(page, 'Plan').click()
  await button(page, 'Solve the plan').click()
  await expect(page.getByText(proof)).toBeVisible(planned)
  await expect(running(page)).toContainText('255.5 of 255.5')

  // Argued with: one field held to what it has, one kept from what it has, and solved again.
  await button(page, /^Ridge, 35 acres/).click()
  const why = page.getByRole('complementary')
  await why.getByRole('button', { name: /^Lock to/ }).click()
  await expect(why.getByRole('heading', { name: /^Locked to/ })).toBeVisible()
  await button(page, /^River, 90 acres/).click()
  const off = why.getByRole('button', { name: /^Leave \w+ off this field$/ })
  const planted = /^Leave (\w+) off/.exec(await off.innerText())?.[1] ?? ''
  await off.click()
  await expect(why.getByRole('heading', { name: 'Kept off this field' })).toBeVisible()
  await button(page, 'Solve again').click()
  await expect(button(page, 'Earlier plan')).toBeVisible(planned)
  await expect(page.getByRole('heading', { name: 'Out of date' })).toBeHidden()
  await expect(button(page, /^River, 90 acres/)).not.toHaveAttribute('aria-label', new RegExp(`acres: ${planted}`))
  await expect(button(page, /^Ridge, 35 acres/)).toHaveAttribute('aria-label', /locked to/)

  // A question as a draft, looked at beside the plan, made the plan and unmade.
  await part(page, /^What if, and drafts/).click()
  await page.getByLabel('Variety that cannot be had', { exact: true }).selectOption('Bison')
  await button(page, 'Ask: A variety that cannot be had').click()
  await expect(page.getByRole('region', { name: 'Side by side' }).getByRole('columnheader')).toHaveText(
    ['Plan in hand', draft],
    planned,
  )
  await button(page, `Make it the plan: ${draft}`).click()
  await expect(button(page, 'Earlier plan')).toBeVisible()
  await expect(atWork(page)).toBeHidden()

  await part(page, 'Cash and loss').click()
  await button(page, 'Draw the curve').click()
  await expect(button(page, 'Draw it again')).toBeVisible(planned)
  await button(page, 'Look at point 1').click()
  await expect(page.getByText(/^Against the plan in hand:/)).toBeVisible()

  // Orders from the plan; one line refused, planned around, made again.
  await rail(page, 'Orders').click()
  await button(page, 'Make the orders').click()
  await expect(states(page).first()).toBeVisible()
  const title = ((await states(page).first().getAttribute('aria-label')) ?? '').replace('State of ', '')
  await states(page).first().selectOption('refused')
  await page.getByRole('textbox', { name: `Why refused, ${title}` }).fill('sold out')
  await page.keyboard.press('Enter')
  await expect(page.getByRole('heading', { name: /^Short of seed for [\d.]+ acres$/ })).toBeVisible()
  await button(page, 'Plan without the refused seed').click()
  await button(page, 'Take this plan').click(planned)
  await expect(page.getByRole('heading', { name: /^The plan has changed/ })).toBeVisible()
  await button(page, 'Remake the lines still to order').click()
  await expect(page.getByRole('heading', { name: /^Short of seed/ })).toBeHidden()
  const lines = await states(page).count()

  await button(page, 'Undo: make the orders').click()
  await expect(page.getByRole('heading', { name: /^The plan has changed/ })).toBeVisible()
  await button(page, 'Redo: make the orders').click()
  await expect(states(page)).toHaveCount(lines)

  const orders = await fileOf(page, () =>
    page.getByRole('group', { name: 'All orders' }).getByRole('button', { name: 'CSV' }).click(),
  )
  expect(orders.bytes.toString('utf8')).toContain('refused')
  await rail(page, 'Fields').click()
  const table = await fileOf(page, () => button(page, 'XLSX').click())
  expect(table.name).toBe('Fields.xlsx')
  expect(table.bytes.subarray(0, 2).toString()).toBe('PK')

  const before = (await running(page).innerText()).replace(/\s+/g, ' ')
  await button(page, 'Close the farm').click()
  await page.getByRole('button', { name: 'Two Creeks', exact: true }).click()
  await isAsLeft(page, { before, lines, title, locked: 'Ridge' })
})

interface Left {
  before: string
  lines: number
  title: string
  locked: string
}

/** What was left must stand there again: fields, rule, lock, draft, plan and orders, and the step that undo takes back. */
async function isAsLeft(page: Page, { before, lines, title, locked }: Left) {
  await expect(rail(page, 'Fields')).toContainText('5 fields, 255.5 acres')
  await expect(button(page, 'Undo: make the orders')).toBeVisible()
  await rail(page, 'House rules').click()
  await expect(page.getByRole('switch', { name: /^Plant at least 2 varieties/ })).toBeChecked()
  await rail(page, 'Plan').click()
  await expect(button(page, new RegExp(`^${locked}, [\\d.]+ acres`))).toHaveAttribute('aria-label', /locked to/)
  await expect.poll(async () => (await running(page).innerText()).replace(/\s+/g, ' ')).toBe(before)
  await part(page, /^What if, and drafts/).click()
  await expect(page.getByRole('checkbox', { name: `Set “${draft}” beside the plan in hand` })).toBeVisible()
  await rail(page, 'Orders').click()
  await expect(states(page)).toHaveCount(lines)
  await expect(page.getByRole('combobox', { name: `State of ${title}`, exact: true })).toHaveValue('refused')
}

test('a winter by keyboard alone', async ({ page, standwell }) => {
  const go = async (stage: string) => {
    // The rail stands before the stage, so the way to it is back.
    await tabTo(page, new RegExp(`^${stage}( |$)`))
    await page.keyboard.press('Enter')
    await expect(rail(page, stage)).toHaveAttribute('aria-current', 'page')
  }
  await page.goto(standwell.address)
  await expect(button(page, 'Start my farm')).toBeVisible()
  await tabTo(page, 'Name of the farm')
  await page.keyboard.type('Two Creeks')
  await page.keyboard.press('Enter')
  await expect(page.getByRole('heading', { name: 'No fields yet' })).toBeVisible()
  // The button that was pressed is gone: Tab goes on in the page that came.
  await expect(page.locator('main:focus')).toBeVisible()

  for (const [stage, tab, grid, fresh, rows] of [
    ['Fields', null, 'Fields', 'New field', fields],
    ['Varieties', null, 'Varieties', 'New variety', varieties],
    ['Quotes', /^Dealers/, 'Dealers', 'New dealer', dealers],
    ['Quotes', /^Quotes \d|^Quotes0$/, 'Quotes', 'New quote', quotes],
  ] as const) {
    await go(stage)
    if (tab !== null) await press(page, tab)
    await copyFor(page, grid, rows)
    // The table is one stop, at the cell where one was last; who came through it on the way to the rail was in the last.
    await tabTo(page, /^Import files/)
    await page.keyboard.press('Tab')
    await page.keyboard.press('Home')
    expect(await focusWords(page)).toBe(fresh)
    await page.keyboard.press('Control+v')
    await expect(button(page, new RegExp(`^Undo: paste ${rows.length} `))).toBeVisible()
  }

  await go('House rules')
  await tabTo(page, /^Amount of: Plant at least .* varieties/)
  await page.keyboard.type('2')
  await tabTo(page, /^Plant at least 2 varieties/, 'Shift+Tab')
  await page.keyboard.press('Space')
  await expect(button(page, /^Undo: switch on: Plant at least/)).toBeVisible()

  await go('Plan')
  await press(page, 'Solve the plan')
  await expect(page.getByText(proof)).toBeVisible(planned)

  // The picture is one stop; arrows and Enter do the rest.
  await tabTo(page, /^\w[\w ]*, [\d.]+ acres: /)
  await page.keyboard.press('Enter')
  const why = page.getByRole('complementary')
  await expect(why).toBeVisible()
  await press(page, /^Lock to/)
  await expect(why.getByRole('heading', { name: /^Locked to/ })).toBeVisible()
  await tabTo(page, /^\w[\w ]*, [\d.]+ acres: /, 'Shift+Tab')
  const locked = /^[^,]+/.exec((await page.locator(':focus').getAttribute('aria-label')) ?? '')?.[0] ?? ''
  await page.keyboard.press('ArrowRight')
  await page.keyboard.press('Enter')
  await expect(why.getByRole('heading', { level: 2 })).not.toHaveText(`Why: ${locked}`)
  await press(page, /^Leave \w+ off this field$/)
  await expect(why.getByRole('heading', { name: 'Kept off this field' })).toBeVisible()
  await tabTo(page, 'Solve again', 'Shift+Tab')
  await page.keyboard.press('Enter')
  await expect(button(page, 'Earlier plan')).toBeVisible(planned)
  await expect(page.getByRole('heading', { name: 'Out of date' })).toBeHidden()

  await press(page, /^What if, and drafts/)
  await tabTo(page, 'Variety that cannot be had')
  await page.keyboard.type('Bison')
  await press(page, 'Ask: A variety that cannot be had')
  await expect(page.getByRole('region', { name: 'Side by side' }).getByRole('columnheader')).toHaveText(
    ['Plan in hand', draft],
    planned,
  )
  await press(page, `Make it the plan: ${draft}`)
  await expect(page.getByRole('heading', { name: 'Out of date' })).toBeVisible()

  await press(page, 'Cash and loss')
  await press(page, 'Draw the curve')
  await expect(button(page, 'Draw it again')).toBeFocused(planned)
  await press(page, /^Look at point 1/)
  await expect(page.getByText(/^Against the plan in hand:/)).toBeVisible()

  await go('Orders')
  await press(page, 'Make the orders')
  await expect(states(page).first()).toBeVisible()
  const title = ((await states(page).first().getAttribute('aria-label')) ?? '').replace('State of ', '')
  await tabTo(page, `State of ${title}`)
  await page.keyboard.press('r')
  await expect(states(page).first()).toHaveValue('refused')
  await tabTo(page, `Why refused, ${title}`)
  await page.keyboard.type('sold out')
  await page.keyboard.press('Enter')
  await press(page, 'Plan without the refused seed')
  await expect(button(page, 'Take this plan')).toBeVisible(planned)
  await press(page, 'Take this plan')
  await press(page, 'Remake the lines still to order')
  await expect(page.getByRole('heading', { name: /^Short of seed/ })).toBeHidden()
  const lines = await states(page).count()

  await page.keyboard.press('Control+z')
  await expect(page.getByRole('heading', { name: /^The plan has changed/ })).toBeVisible()
  await page.keyboard.press('Control+y')
  await expect(states(page)).toHaveCount(lines)

  const orders = await fileOf(page, () => press(page, 'CSV'))
  expect(orders.bytes.toString('utf8')).toContain('refused')

  const before = (await running(page).innerText()).replace(/\s+/g, ' ')
  await press(page, 'Close the farm')
  await press(page, 'Two Creeks')
  await expect(running(page)).toBeVisible()
  await isAsLeft(page, { before, lines, title, locked })
})
