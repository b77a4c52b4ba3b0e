/** The calendar: a plan by weeks, a block moved by keys and by mouse, kept in a week and let go, on paper and as files. */
import type { Locator, Page } from '@playwright/test'
import { readFileSync } from 'node:fs'
import { expect, test, type Standwell } from './fixtures.ts'
import { openPlanned } from './planned-farm.ts'
import { calm, go, rail } from './stages.ts'

/** A plan of the demo takes a few seconds alone; on a machine that does other work, many more. */
const planned = { timeout: 120_000 }
const worked = { timeout: 60_000 }
test.setTimeout(360_000)

const sliders = (page: Page) => page.getByRole('slider', { name: /^Planting week of / })
/** Without what is only said aloud. */
const main = (page: Page) => page.getByRole('main')
const keepIt = (page: Page) => page.getByRole('button', { name: 'Keep it there' })
const putBack = (page: Page) => page.getByRole('button', { name: 'Put it back' })
/** What a move costs, or why it cannot be. */
const cost =
  /\$[\d,]+ (more|less) with all else as it is\.|Costs the same|It fits only if|It does not fit|may be planted/

async function openCalendar(page: Page, standwell: Standwell) {
  await openPlanned(page, standwell)
  await go(page, 'calendar')
  await expect(sliders(page).first()).toBeVisible(worked)
}

const weekOf = (slider: Locator) => slider.getAttribute('aria-valuetext')

/** A slider that can go later, and its week. */
async function onTheLeft(page: Page): Promise<{ slider: Locator; name: string; week: string }> {
  const slider = sliders(page).first()
  const name = (await slider.getAttribute('aria-label')) ?? ''
  return { slider, name, week: (await weekOf(slider)) ?? '' }
}

test('a block is moved by keys, put back, kept in another week and let go', async ({ page, standwell }) => {
  await openCalendar(page, standwell)
  const { slider, name, week } = await onTheLeft(page)
  await slider.focus()
  await page.keyboard.press('ArrowRight')
  await expect(slider).not.toHaveAttribute('aria-valuetext', week)
  await expect(page.getByText('Working it out…')).toBeVisible()
  await expect(main(page).getByText(cost).first()).toBeVisible(worked)
  await page.keyboard.press('Escape')
  await expect(slider).toHaveAttribute('aria-valuetext', week)
  await expect(keepIt(page)).toBeHidden()
  await expect(slider).toBeFocused()

  // One of the weeks can be had: on the demo, most can.
  let to = ''
  for (let tries = 0; tries < 6 && to === ''; tries += 1) {
    await page.keyboard.press('ArrowRight')
    await expect(main(page).getByText(cost).first()).toBeVisible(worked)
    if (await keepIt(page).isEnabled()) to = (await weekOf(slider)) ?? ''
  }
  expect(to).toMatch(/^week of [A-Z][a-z]{2} \d+$/)
  await page.keyboard.press('Enter')
  const field = /^Planting week of ([^,]+), /.exec(name)?.[1] ?? ''
  await expect(main(page).getByText(`planted in the ${to}. This plan stays as it is.`)).toBeVisible()
  // The plan in hand is not changed; the season is.
  await expect(slider).toHaveAttribute('aria-valuetext', week)
  await expect(slider).toBeFocused()
  await expect(main(page).getByText('Out of date')).toBeVisible()
  await expect(
    page
      .getByRole('listitem')
      .filter({ hasText: `${field}, ` })
      .filter({ hasText: to }),
  ).toBeVisible()
  await calm(page, 'calendar with a kept week')

  // The next plan holds it there.
  await page.getByRole('button', { name: 'Solve again' }).click()
  // What the plan had there is kept in the week; what else is on the field may be in others.
  const kept = page.getByRole('slider', { name: new RegExp(`^Planting week of ${field}, `) })
  const weeks = () => kept.evaluateAll((all) => [...new Set(all.map((each) => each.getAttribute('aria-valuetext')))])
  await expect.poll(weeks, planned).toContain(`${to}, kept`)
  await page.getByRole('button', { name: `Let go: ${field}, ` }).click()
  await expect(main(page).getByText(`${field} is let go`)).toBeVisible()
  await expect(page.getByRole('heading', { name: 'Kept weeks' })).toBeHidden()
})

test('a block is dragged, says what it costs before it is let go, and is put back or kept', async ({
  page,
  standwell,
}) => {
  await openCalendar(page, standwell)
  const { slider, week } = await onTheLeft(page)
  const bar = slider.locator('rect')
  await bar.scrollIntoViewIfNeeded()
  const box = await bar.boundingBox()
  if (!box) throw new Error('The bar is not drawn.')
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2]
  await page.mouse.move(x, y)
  await page.mouse.down()
  await page.mouse.move(x + box.width * 1.1, y, { steps: 4 })
  await expect(slider).not.toHaveAttribute('aria-valuetext', week)
  // Before it is let go there is a cost, and nothing to press.
  await expect(main(page).getByText(cost).first()).toBeVisible(worked)
  await expect(keepIt(page)).toBeHidden()
  await page.mouse.up()
  await expect(keepIt(page)).toBeVisible()
  await calm(page, 'calendar with a block on its way')
  await putBack(page).click()
  await expect(slider).toHaveAttribute('aria-valuetext', week)
  await expect(keepIt(page)).toBeHidden()
  await expect(slider).toBeFocused()

  // Dragged there and back there is nothing to keep.
  await page.mouse.move(x, y)
  await page.mouse.down()
  await page.mouse.move(x + box.width * 1.1, y, { steps: 4 })
  await page.mouse.move(x, y, { steps: 4 })
  await page.mouse.up()
  await expect(slider).toHaveAttribute('aria-valuetext', week)
  await expect(keepIt(page)).toBeHidden()
})

test('loads, orders of work, paper and files are of the same plan', async ({ page, standwell }) => {
  await openCalendar(page, standwell)
  await expect(rail(page, /^Calendar/)).toHaveAttribute('aria-current', 'page')
  for (const work of ['Planting', 'Digging', 'Combining']) {
    await expect(page.getByRole('img', { name: new RegExp(`^${work}, \\d+ weeks? from `) })).toBeVisible()
  }
  const planting = page.getByRole('region', { name: 'Planting order, table' }).getByRole('row')
  const rows = await planting.count()
  expect(rows).toBe(1 + (await sliders(page).count()))
  await page.getByText('Table of weeks').click()
  await expect(page.getByRole('columnheader', { name: 'Combining' })).toBeVisible()
  await calm(page, 'calendar')

  const files = page.getByRole('group', { name: 'Paper and files' })
  const saved = async (name: string) => {
    const [file] = await Promise.all([
      page.waitForEvent('download'),
      files.getByRole('button', { name, exact: true }).click(),
    ])
    return { name: file.suggestedFilename(), text: readFileSync(await file.path(), 'utf8') }
  }
  const csv = await saved('CSV')
  expect(csv.name).toMatch(/^Calendar \d{4}\.csv$/)
  expect(csv.text.split('\r\n').filter((line) => line.startsWith('planting,'))).toHaveLength(rows - 1)
  const ics = await saved('iCalendar')
  expect(ics.name).toMatch(/^Calendar \d{4}\.ics$/)
  expect(ics.text.match(/^SUMMARY:Plant /gm)).toHaveLength(rows - 1)

  await page.emulateMedia({ media: 'print' })
  const sheet = page.getByRole('article', { name: 'Planting order' })
  await expect(sheet.getByRole('row')).not.toHaveCount(0)
  expect(await sheet.locator('.box').count()).toBe(rows - 1)
  await expect(page.getByRole('article', { name: 'Digging order' })).toBeVisible()
  await expect(page.getByRole('article', { name: 'Machines by week' })).toBeVisible()
  // Letters that can be read from a step away.
  const size = await sheet
    .getByRole('row')
    .last()
    .evaluate((row) => Number.parseFloat(getComputedStyle(row).fontSize))
  expect(size).toBeGreaterThanOrEqual((12 * 96) / 72)
  await page.emulateMedia({ media: 'screen' })
  await expect(sheet).toBeHidden()
})
