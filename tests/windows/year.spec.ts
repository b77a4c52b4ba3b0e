/**
 * A year in the desktop program: the demo farm opened, a field corrected, solved, ordered by a PDF, received, planted,
 * hauled, looked back on, closed and opened again. Each stage leaves a picture in test-results for whoever looks.
 */
import { expect, test } from '@playwright/test'
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { closeDesk, openDesk, project, skipWithoutDesk, type Desk } from './desk.ts'
import { go, rail } from './stages.ts'

skipWithoutDesk()
test.setTimeout(300_000)

let desk: Desk
let folder: string

test.beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'standwell-year-'))
  desk = await openDesk()
})
test.afterEach(async () => {
  await closeDesk(desk)
  rmSync(folder, { recursive: true, force: true })
})

let shot = 0
async function picture(name: string) {
  shot += 1
  const file = `${String(shot).padStart(2, '0')}-${name}.png`
  await desk.page.screenshot({ path: join(project, 'test-results', 'desk', file) })
}

/** Planted acres as the foot of the fields' table has them. */
const acresOf = async (name: string) => {
  const fields = (await desk.call('field.list', {})).value as { name: string; acres: number }[]
  return fields.find((field) => field.name === name)?.acres
}

test('from the first page to the next start', async () => {
  const { page } = desk
  const main = page.getByRole('main')
  await picture('first')
  await page.getByRole('button', { name: 'Open the demo farm' }).click()
  const ordered = page.getByRole('heading', { name: 'What to order' })
  await expect(ordered).toBeVisible({ timeout: 90_000 })
  await picture('plan')

  // A field is larger than was thought: the plan is out of date, and is worked out again.
  await go(page, 'fields')
  await page
    .getByRole('row', { name: /^Camp House/ })
    .getByRole('gridcell')
    .first()
    .click()
  await page.keyboard.type('70')
  await page.keyboard.press('Enter')
  await expect.poll(() => acresOf('Camp House')).toBe(70)
  await picture('fields')
  await go(page, 'plan')
  await page.getByRole('button', { name: 'Solve again' }).click()
  await expect(page.getByRole('contentinfo')).not.toContainText('out of date', { timeout: 90_000 })
  await expect(ordered).toBeVisible()

  // The order of a dealer as a PDF, where the system's dialog puts it.
  await go(page, 'orders')
  await page.getByRole('button', { name: 'Make the orders' }).click()
  const confirm = page.getByRole('button', { name: 'Confirm all' })
  await expect(confirm.first()).toBeVisible()
  const pdf = join(folder, 'order.pdf')
  await desk.app.evaluate(({ session }, path) => {
    session.defaultSession.once('will-download', (_event, item) => item.setSavePath(path))
  }, pdf)
  await page
    .getByRole('button', { name: /^PDF, / })
    .first()
    .click()
  await expect.poll(() => existsSync(pdf)).toBe(true)
  const written = readFileSync(pdf).toString('latin1')
  expect(written.slice(0, 5)).toBe('%PDF-')
  // One dealer alone: one sheet.
  expect(written.match(/\/Type\s*\/Page\b(?!s)/g)).toHaveLength(1)
  while ((await confirm.count()) > 0) {
    const left = await confirm.count()
    await confirm.first().click()
    await expect(confirm).toHaveCount(left - 1)
  }
  await picture('orders')

  // Spring: a lot received and its rate, and planted.
  await go(page, 'deliveries')
  await page
    .getByRole('button', { name: /^Receive / })
    .first()
    .click()
  await page.keyboard.type('0071-A')
  await page.keyboard.press('Enter')
  await expect(main.getByRole('button', { name: '0071-A', exact: true })).toBeVisible()
  await picture('deliveries')
  await go(page, 'rates')
  const table = page.getByRole('region', { name: 'Rates by field and lot' })
  await expect(table.getByRole('cell', { name: '0071-A' }).first()).toBeVisible()
  await picture('rates')
  await go(page, 'planting')
  await page.getByRole('button', { name: 'Begin a planting' }).click()
  const form = page.getByRole('form', { name: 'A new planting' })
  const lot = form.getByRole('combobox', { name: 'Lot' })
  await lot.selectOption(await lot.locator('option', { hasText: '0071-A' }).getAttribute('value'))
  await form.getByLabel('Acres').fill('20')
  await form.getByLabel('Bags').fill('50')
  await form.getByRole('button', { name: 'Finish' }).click()
  // Where the plan has another variety on the field, the form asks first.
  const asked = form.getByRole('button', { name: 'Save as it is' })
  const told = main.getByText(/^20 of [\d,]+ acres are planted\.$/)
  await expect(asked.or(told)).toBeVisible()
  if (await asked.isVisible()) await asked.click()
  await expect(main.getByText(/^20 of [\d,]+ acres are planted\.$/)).toBeVisible()
  await picture('planting')

  // Fall: a load by keys, and the year looked back on.
  await go(page, 'harvest')
  await page.getByRole('rowheader', { name: 'New load' }).focus()
  const planted = ((await desk.call('planting.list', {})).value as { plantings: { field: string }[] }).plantings
  for (const text of [planted[0]?.field ?? '', '77', '2026-10-01']) {
    await page.keyboard.type(text)
    await page.keyboard.press('Tab')
  }
  for (let step = 0; step < 3; step += 1) await page.keyboard.press('ArrowRight')
  await page.keyboard.type('30000')
  await page.keyboard.press('Tab')
  // With its gross weight the row has all it needs and is on its way into the farm; who types on is not to notice.
  await page.keyboard.type('12000')
  await page.keyboard.press('Enter')
  await expect(main.getByRole('row', { name: /77/ }).first()).toContainText('18,000')
  await expect(rail(page, /^Harvest/)).toContainText('1 load')
  await picture('harvest')
  await go(page, 'review')
  await expect(main.getByText('20.0 acres').or(main.getByText('20 acres')).first()).toBeVisible()
  await picture('review')

  // Closed and started again, it goes on where it was left.
  await desk.app.close()
  await desk.again()
  await expect(desk.page.getByRole('navigation', { name: 'Stages of the year' })).toBeVisible()
  expect(await acresOf('Camp House')).toBe(70)
  await go(desk.page, 'planting')
  await expect(desk.page.getByText(/^20 of [\d,]+ acres are planted\.$/)).toBeVisible()
  await picture('again')
})
