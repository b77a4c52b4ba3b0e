/** Harvest on the demo farm: a load typed by keys, a settlement brought in twice, its working, totals, trouble and costs. */
import type { Page } from '@playwright/test'
import { expect, test } from './fixtures.ts'
import { openPlanned } from './planned-farm.ts'
import { calm, go, rail } from './stages.ts'
import { press } from './winter-farm.ts'

test.setTimeout(120_000)

const settlement = [
  'Ticket No,Date,Field,Gross Wt,Tare Wt,FM %,LSK %,Moist,SMK,SS,OK,DK,Hulls,Seg,Price per ton,Total Paid,Buying point',
  '5001,2027-10-02,Alder Forty,41000,15000,4,3,8.2,69,4,4,1,22,1,,"$4,210.55",Depot',
  '5002,2027-10-02,Big Sandy,40250,15000,5,2,7,71,3,3,1,22,1,,,Depot',
  '5003,2027-10-03,Big Sandy,39000,15000,4,3,6.5,68,5,4,1,22,1,480,,Depot',
].join('\r\n')

async function bring(page: Page, text: string) {
  await page.getByRole('button', { name: 'Import files' }).click()
  await page
    .locator('input[type=file]')
    .setInputFiles({ name: 'settlement.csv', mimeType: 'text/csv', buffer: Buffer.from(text) })
}

test('from the first truck to the costs', async ({ page, standwell }) => {
  const main = page.getByRole('main')
  await page.clock.setFixedTime(new Date('2027-10-20T10:00:00'))
  await openPlanned(page, standwell)
  await go(page, 'harvest')
  await expect(main.getByRole('heading', { name: 'No loads yet' })).toBeVisible()
  await calm(page, 'harvest, empty')

  // By keys alone: the new row, cell after cell.
  await page.getByRole('rowheader', { name: 'New load' }).focus()
  for (const text of ['Camp House', '77', '2027-10-01']) {
    await page.keyboard.type(text)
    await page.keyboard.press('Tab')
  }
  // Past what is worked out and the variety, which the plantings tell.
  for (let step = 0; step < 3; step += 1) await page.keyboard.press('ArrowRight')
  await page.keyboard.type('30000')
  await page.keyboard.press('Tab')
  await expect(rail(page, /^Harvest/)).toContainText('1 load')
  await page.keyboard.type('32000')
  await page.keyboard.press('Enter')
  await expect(main.getByText(/truck empty would weigh more/).first()).toBeVisible()
  await page.keyboard.press('ArrowUp')
  await page.keyboard.type('12000')
  await page.keyboard.press('Enter')
  await expect(page.getByRole('row', { name: /^Camp House/ })).toContainText('18,000')
  await expect(rail(page, /^Harvest/)).toContainText('1 load has no value')
  const typed = page.getByRole('row', { name: /^Camp House/ })
  await typed.getByRole('rowheader').click()
  const working = page.getByRole('region', { name: 'Working of the load' })
  await expect(working).toContainText('30,000 lb − 12,000 lb tare = 18,000 lb')
  await expect(working).toContainText('none yet: it needs a price a ton')

  // A settlement by its own headings; the same again changes nothing.
  await bring(page, settlement)
  await page.getByRole('button', { name: 'Import 3 rows' }).click()
  await expect(rail(page, /^Harvest/)).toContainText('4 loads')
  await bring(page, settlement)
  await expect(main.getByText(/3 unchanged/i).first()).toBeVisible()
  await page.getByRole('button', { name: 'Close', exact: true }).click()
  await page.getByRole('row', { name: /5003/ }).getByRole('rowheader').click()
  await expect(working).toContainText('22,320 lb = 11.160 tons')
  await expect(working).toContainText('11.160 tons × $480.00 a ton, by market = $5,356.80')
  await calm(page, 'harvest, loads')

  await page.getByRole('button', { name: /^By field/ }).click()
  const sandy = page.getByRole('row', { name: /^Big Sandy/ })
  await expect(sandy).toContainText('$5,356.80')
  await expect(sandy).toContainText('1 load without')
  await calm(page, 'harvest, by field')

  await page.getByRole('button', { name: /^Trouble seen/ }).click()
  await page.getByRole('rowheader', { name: 'New trouble seen' }).focus()
  for (const text of ['Big Sandy', 'spotted wilt', 'high']) {
    await page.keyboard.type(text)
    await page.keyboard.press('Tab')
  }
  await page.keyboard.press('Escape')
  await expect(page.getByRole('row', { name: /^Big Sandy/ })).toContainText('high')
  await calm(page, 'harvest, trouble')

  await page.getByRole('button', { name: /^Costs/ }).click()
  await expect(page.getByRole('region', { name: 'Known costs' })).toContainText('acres of the plan')
  await page.getByRole('rowheader', { name: 'New cost' }).focus()
  for (const text of ['Insurance', 'other', '-125.00']) {
    await page.keyboard.type(text)
    await page.keyboard.press('Tab')
  }
  await page.keyboard.press('Escape')
  await expect(page.getByRole('row', { name: /^Insurance/ })).toContainText('125.00')
  await calm(page, 'harvest, costs')
  await press(page, /^Undo/)
  await expect(page.getByRole('row', { name: /^Insurance/ })).toHaveCount(0)
})
