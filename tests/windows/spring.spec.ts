/** Spring on the demo farm: seed received and its tag checked, rates, a planting begun and finished, a stand, the trace. */
import type { Page } from '@playwright/test'
import { spawnSync } from 'node:child_process'
import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import { expect, project, test, type Standwell } from './fixtures.ts'
import { openPlanned } from './planned-farm.ts'
import { calm, go, rail } from './stages.ts'

test.setTimeout(240_000)

async function pagesOf(page: Page) {
  const text = (await page.pdf({ format: 'Letter' })).toString('latin1')
  return text.match(/\/Type\s*\/Page\b(?!s)/g)?.length
}

/** A confirmed order of the demo's plan, in winter; then it is the twentieth of April. */
async function ordered(page: Page, standwell: Standwell) {
  await page.clock.setFixedTime(new Date('2027-01-20T10:00:00'))
  await openPlanned(page, standwell)
  await go(page, 'deliveries')
  await expect(page.getByRole('heading', { name: 'Nothing ordered, nothing delivered' })).toBeVisible()
  await go(page, 'orders')
  await page.getByRole('button', { name: 'Make the orders' }).click()
  const confirm = page.getByRole('button', { name: 'Confirm all' })
  await expect(confirm.first()).toBeVisible()
  while ((await confirm.count()) > 0) {
    const left = await confirm.count()
    await confirm.first().click()
    await expect(confirm).toHaveCount(left - 1)
  }
  await page.clock.setFixedTime(new Date('2027-04-20T10:00:00'))
  await page.reload()
}

test('from the first load to the recall sheet', async ({ page, standwell }) => {
  const main = page.getByRole('main')
  await page.addInitScript(() => Object.assign(window, { print: () => undefined }))
  await ordered(page, standwell)
  await expect(rail(page, /^Deliveries/)).toContainText(/\d of \d+ lines to come/)

  // Received by keys alone: the line's button, the lot number, Enter.
  await go(page, 'deliveries')
  const receive = page.getByRole('button', { name: /^Receive / }).first()
  const offer = ((await receive.getAttribute('aria-label')) ?? '').replace('Receive ', '')
  await receive.focus()
  await page.keyboard.press('Enter')
  await expect(page.getByLabel('Lot number')).toBeFocused()
  await page.keyboard.type('0071-A')
  await page.keyboard.press('Enter')
  await expect(main.getByRole('button', { name: '0071-A', exact: true })).toBeVisible()
  // The same number once more is asked about.
  await page.keyboard.type('0071-A')
  await page.getByLabel('Packs', { exact: true }).fill('2')
  await page.getByRole('button', { name: 'Write the lot down' }).click()
  await expect(main.getByText(/has a lot 0071-A already/).first()).toBeVisible()
  await page.getByLabel('Lot number').fill('0072')
  await page.getByRole('button', { name: 'Write the lot down' }).click()
  await expect(main.getByRole('button', { name: '0072', exact: true })).toBeVisible()
  await expect(page.getByLabel('Lot number')).toBeFocused()
  await page.keyboard.press('Escape')
  await expect(receive).toBeFocused()
  await expect(
    page.getByRole('row', { name: new RegExp(`^${offer.split(' · ')[1] ?? offer}.*over`) }).first(),
  ).toBeVisible()
  await calm(page, 'deliveries')

  // The tag: what is typed is kept item by item; more than 100 % is refused where it stands.
  await main.getByRole('button', { name: '0071-A', exact: true }).click()
  const item = (name: string) => page.getByLabel(`${name}, tag of lot 0071-A`)
  await item('Germination, %').fill('104')
  await page.keyboard.press('Enter')
  await expect(main.getByText('104 is not from 0 to 100 %.')).toBeVisible()
  await item('Germination, %').fill('78')
  await page.keyboard.press('Enter')
  await expect(main.getByText('78 % is weak: more seeds a foot are needed.')).toBeVisible()
  await item('Tested in, as 2027-01').fill('2027-05')
  await page.keyboard.press('Enter')
  await expect(main.getByText(/tested in 2027-05, which is still to come/).first()).toBeVisible()
  await item('Tested in, as 2027-01').fill('2026-10')
  await page.keyboard.press('Enter')
  await expect(main.getByText(/had to be shipped by Mar 31, 2027/)).toBeVisible()
  await item('Seeds a pound').fill('640')
  await page.keyboard.press('Enter')
  await expect(item('Seeds a pound')).toHaveValue('640')
  await page.setInputFiles('input[type=file]', {
    name: 'tag.jpg',
    mimeType: 'image/jpeg',
    buffer: Buffer.from('no picture'),
  })
  await expect(main.getByText(/“tag.jpg” is not a JPEG or PNG picture/).first()).toBeVisible()
  const jpeg = Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), Buffer.alloc(200)])
  await page.setInputFiles('input[type=file]', { name: 'tag.jpg', mimeType: 'image/jpeg', buffer: jpeg })
  await expect(main.getByRole('button', { name: 'tag.jpg' })).toBeVisible()
  for (const [at, seedlings] of ['80', '79', '82', '83'].entries()) {
    await page.getByLabel(`Seedlings ${at + 1}`).fill(seedlings)
  }
  await page.getByRole('button', { name: 'Write the test down' }).click()
  await expect(main.getByText('at home:')).toBeVisible()
  await calm(page, 'tag')
  await expect(rail(page, /^Deliveries/)).toContainText('1 lot has no tag')

  // Rates: the weaker lot is dropped closer; sheets for fields and for a tractor; three files.
  await go(page, 'rates')
  const table = page.getByRole('region', { name: 'Rates by field and lot' })
  await expect(table.getByRole('cell', { name: '0071-A' }).first()).toBeVisible()
  // Which lot goes where: placed, with a reason for each field; a lot that is kept says so.
  await page.getByRole('button', { name: 'Place the lots' }).click()
  const placed = page.getByRole('region', { name: /^Lots of / }).first()
  await expect(placed.getByRole('cell', { name: '0071-A' }).first()).toBeVisible({ timeout: 60_000 })
  await expect(page.getByRole('button', { name: 'Place the lots again' })).toBeVisible()
  const keep = placed.getByRole('checkbox', { name: /^Keep lot 0071-A on / }).first()
  await keep.focus()
  await page.keyboard.press('Space')
  await expect(keep).toBeChecked()
  await expect(page.getByText('Lots, rates or acres have changed since:')).toBeVisible()
  await calm(page, 'rates')
  await page.emulateMedia({ media: 'print' })
  await expect(page.getByRole('article')).not.toHaveCount(0)
  const sheets = await page.getByRole('article').count()
  await page.emulateMedia({ media: null })
  await expect(page.getByRole('article', { includeHidden: true })).toHaveCount(0)
  expect(await pagesOf(page)).toBe(sheets)
  await table.getByRole('checkbox').nth(0).check()
  await table.getByRole('checkbox').nth(1).check()
  await page.getByRole('button', { name: 'Print 2 fields' }).click()
  expect(await pagesOf(page)).toBe(1)
  await page.emulateMedia({ media: 'print' })
  await expect(page.getByRole('article')).toContainText('Treated seed is poisonous: never food, feed or oil.')
  await expect(page.getByRole('article')).toContainText('The label is the law')
  await page.emulateMedia({ media: null })
  for (const [button, name] of [
    ['CSV', 'Planned seed 2027.csv'],
    ['GeoJSON', 'Planned seed 2027.geojson'],
    ['Task data (ISO 11783)', 'TASKDATA.XML'],
  ] as const) {
    const download = page.waitForEvent('download')
    await page.getByRole('button', { name: button, exact: true }).click()
    expect((await download).suggestedFilename()).toBe(name)
  }

  // A planting begun, broken off by a reload, gone on with and finished.
  await page.setViewportSize({ width: 1024, height: 700 })
  await go(page, 'planting')
  await page.getByRole('button', { name: 'Begin a planting' }).click()
  const form = page.getByRole('form', { name: 'A new planting' })
  const lot = form.getByRole('combobox', { name: 'Lot' })
  const first = await lot.locator('option', { hasText: '0071-A' }).getAttribute('value')
  await lot.selectOption(first)
  await expect(form.getByRole('status')).toHaveText('Kept, half-finished')
  await calm(page, 'planting form')
  await page.reload()
  await expect(main.getByText(/half-finished: the acres, bags or pounds of each lot missing/)).toBeVisible()
  await expect(rail(page, /^Planting/)).toContainText('1 half-finished')
  await page.getByRole('region', { name: 'Plantings' }).getByRole('button').first().click()
  const again = page.getByRole('form', { name: /^Planting of / })
  await again.getByLabel('Day').fill('2027-04-01')
  await again.getByLabel('Acres').fill('20')
  await again.getByLabel('Bags').fill('20')
  await again.getByLabel('Set to').fill('6')
  await again.getByRole('button', { name: 'Finish' }).click()
  // A day before the lot came is asked about, and may stand.
  await expect(again.getByText(/is planted on Apr 1, 2027, before lot 0071-A came/)).toBeVisible()
  await again.getByRole('button', { name: 'Save as it is' }).click()
  await expect(again).toBeHidden()
  await expect(main.getByText(/^20 of [\d,]+ acres are planted\.$/)).toBeVisible()
  await calm(page, 'plantings')

  await page.getByRole('button', { name: /^Stands/ }).click()
  await page.getByRole('button', { name: 'Count', exact: true }).click()
  for (const [at, plants] of ['24', '26', '25', '23', '27'].entries()) {
    await page.getByRole('textbox', { name: new RegExp(`^Spot ${at + 1}`) }).fill(plants)
  }
  await page.getByRole('button', { name: 'Write it down' }).click()
  await expect(main.getByText('2.50 plants/ft')).toBeVisible()
  await expect(page.getByRole('row', { name: /^as counted, 2.50/ })).toBeVisible()
  await expect(rail(page, /^Planting/)).toContainText('1 low stand')
  await calm(page, 'stands')

  await page.getByRole('button', { name: /^Trace/ }).click()
  await expect(page.getByRole('heading', { name: 'Lot 0071-A' })).toBeVisible()
  await calm(page, 'trace')
  await page.emulateMedia({ media: 'print' })
  await expect(page.getByRole('article').first()).toContainText('where it went')
  await page.emulateMedia({ media: null })
  expect(await pagesOf(page)).toBe(2)
  await page.getByRole('button', { name: 'Field to lots' }).click()
  await expect(page.getByRole('row', { name: /^0071-A/ })).toBeVisible()

  // Half the width and twice the text.
  await page.setViewportSize({ width: 640, height: 400 })
  for (const stage of ['deliveries', 'rates', 'planting']) {
    await go(page, stage)
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
    const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)
    expect(over, stage).toBeLessThanOrEqual(0)
  }

  // The built command reads the same file once the window has let go of it.
  await page.close()
  await standwell.stop()
  const files = readdirSync(standwell.home, { recursive: true, encoding: 'utf8' })
  const farm = join(standwell.home, files.find((name) => name.endsWith('.farm')) ?? '')
  // The runner sets colour variables that make Node print a warning of its own.
  const { NO_COLOR: _no, FORCE_COLOR: _force, ...env } = process.env
  const run = (...args: string[]) =>
    spawnSync(process.execPath, [join(project, 'out/main/cli.js'), ...args], { encoding: 'utf8', env })
  const trace = run('trace', farm, '--lot', '0071-A')
  expect(trace.stderr).toBe('')
  expect(trace.stdout).toContain('Lot 0071-A')
  // Of the variety's two lots the first is planted: what is to come is set to the other's seed count.
  expect(run('rates', farm, '--today', '2027-04-20').stdout).toMatch(/^Mule Lot .* 0072 /m)
})
