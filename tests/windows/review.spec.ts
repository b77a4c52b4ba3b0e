/** The season review on the demo farm: empty, half-filled, whole; every part by mouse and keys, on paper, as files, lessons. */
import type { Page } from '@playwright/test'
import { spawnSync } from 'node:child_process'
import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import { isClean } from './axe.ts'
import { expect, project, test } from './fixtures.ts'
import { openPlannedFarm } from './planned-farm.ts'
import { go } from './stages.ts'
import { callsOf, harvestAndBill, orderPlan, receiveAndPlant } from './season-in.ts'
import { focusWords } from './winter-farm.ts'

test.setTimeout(240_000)

const part = (page: Page, name: string | RegExp) =>
  page.getByRole('navigation', { name: 'Parts of the review' }).getByRole('button', { name })

async function fits(page: Page, where: string) {
  const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)
  expect(over, where).toBeLessThanOrEqual(0)
}

test('an empty and a half-filled season read well', async ({ page, standwell }) => {
  const must = callsOf(standwell)
  await must('farm.start', { name: 'New ground', season: 2027 })
  await page.goto(standwell.address)
  await go(page, 'review')
  await expect(page.getByRole('heading', { name: 'Nothing to look back on yet' })).toBeVisible()
  await isClean(page, 'empty review')
  await openPlannedFarm(standwell)
  await orderPlan(must)
  await page.reload()
  await go(page, 'review')
  const side = page.getByRole('region', { name: 'From plan to harvest' })
  await expect(side.getByRole('row', { name: /^Acres/ })).toContainText('–')
  await expect(page.getByText(/Not there yet: deliveries, plantings, loads\./)).toBeVisible()
  for (const [name, says] of [
    ['Seed cost', /No seed with a known price has come yet/],
    ['Acres and tons', /Nothing was paid, planted or harvested yet/],
    ['Stands', /No seed has come yet/],
    ['Trouble', /Nothing is planted yet/],
    ['What was left', /No field is both planted and harvested/],
    [/^Lessons/, /Nothing yet: tags and tests/],
  ] as const) {
    await part(page, name).click()
    await expect(page.getByText(says)).toBeVisible()
  }
  await isClean(page, 'review without a harvest')
})

test('from the side by side to a lesson taken', async ({ page, standwell }) => {
  const must = callsOf(standwell)
  await openPlannedFarm(standwell)
  await orderPlan(must)
  await receiveAndPlant(must)
  await harvestAndBill(must)
  await page.addInitScript(() => Object.assign(window, { print: () => undefined }))
  await page.goto(standwell.address)
  await go(page, 'review')
  const review = await must('review.now', {})

  // One stop for the whole table; arrows within, Enter opens the working, Escape goes back to the figure.
  const side = page.getByRole('region', { name: 'From plan to harvest' })
  await side.getByRole('button', { name: /: Acres, Planned$/ }).focus()
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('ArrowRight')
  expect(await focusWords(page)).toMatch(/Pounds of seed, Ordered$/)
  await page.keyboard.press('Enter')
  const panel = page.getByRole('complementary', { name: 'Pounds of seed ordered, the whole farm' })
  await expect(panel).toBeVisible()
  await isClean(page, 'working')
  await panel.getByRole('button', { name: 'Close' }).focus()
  await page.keyboard.press('Escape')
  await expect(panel).toBeHidden()
  expect(await focusWords(page)).toMatch(/Pounds of seed, Ordered$/)
  await page.getByLabel('Show').selectOption('Tons')
  await expect(page.getByRole('region', { name: 'Tons by variety' }).getByRole('row')).toHaveCount(
    review.side.varieties.length + 2,
  )

  // Each part: by mouse, in both themes, on a small screen.
  await page.setViewportSize({ width: 1024, height: 700 })
  await part(page, 'Seed cost').click()
  await expect(page.getByRole('img', { name: /^Seed cost from .* planned to .* paid/ })).toBeVisible()
  await page.getByRole('button', { name: /: All, Price$/ }).click()
  await expect(page.getByRole('complementary', { name: 'Because of the price' })).toBeVisible()
  await isClean(page, 'seed cost')
  await fits(page, 'seed cost')
  await part(page, 'Acres and tons').click()
  for (const view of ['field', 'variety', 'dealer', 'lot'] as const) {
    await page.getByRole('radio', { name: view, exact: true }).check()
    const rows = page.getByRole('region', { name: `Cost by ${view}` }).getByRole('row')
    await expect(rows).toHaveCount(review.money[view].rows.length + 2)
  }
  await page.getByRole('button', { name: /: All, Cost$/ }).click()
  await expect(page.getByRole('complementary', { name: 'Cost, the whole farm' })).toContainText('Land rent')
  await isClean(page, 'costs')
  await fits(page, 'costs')
  for (const [name, heading] of [
    ['Stands', 'Germination and stands, by dealer and lot'],
    ['Trouble', 'Trouble expected and seen'],
    ['What was left', 'Left of an acre, by variety'],
  ] as const) {
    await part(page, name).click()
    await expect(page.getByRole('heading', { name: heading })).toBeVisible()
    await isClean(page, name)
    await fits(page, name)
  }
  await expect(page.getByText(/cannot be told apart|left more than/).first()).toBeVisible()

  // A lesson is taken by keys, says so, and one undo takes it back.
  await part(page, /^Lessons/).click()
  const { open } = await must('lesson.list', {})
  const [first] = open
  const take = page.getByRole('button', { name: `Take: ${first!.about}`, exact: true })
  await take.focus()
  await page.keyboard.press('Enter')
  await expect(page.getByText(`${first!.about}: taken, ${first!.old} became ${first!.proposed}.`)).toBeVisible()
  await expect(take).toHaveCount(0)
  await expect.poll(async () => (await focusWords(page)).slice(0, 40)).toMatch(/^Take: /)
  await page.getByRole('button', { name: `Set aside: ${open[1]!.about}`, exact: true }).click()
  await expect(page.getByRole('button', { name: `Take up again: ${open[1]!.about}` })).toBeVisible()
  await isClean(page, 'lessons')
  await fits(page, 'lessons')
  await page.keyboard.press('Control+z')
  await expect(page.getByRole('button', { name: `Set aside: ${open[1]!.about}`, exact: true })).toBeVisible()
  await page.keyboard.press('Control+z')
  await expect(take).toBeVisible()

  // On paper: two to four pages in either size, with pictures, assumptions and cautions.
  for (const format of ['Letter', 'A4'] as const) {
    const text = (await page.pdf({ format })).toString('latin1')
    const pages = text.match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0
    expect(pages, format).toBeGreaterThanOrEqual(2)
    expect(pages, format).toBeLessThanOrEqual(4)
  }
  await page.emulateMedia({ media: 'print' })
  const sheet = page.getByRole('article', { name: 'Season review on paper' })
  await expect(sheet.getByRole('img')).toHaveCount(3)
  await expect(sheet).toContainText('The label is the law')
  await expect(sheet).toContainText('price, peanuts: 520')
  await page.emulateMedia({ media: null })

  for (const [button, name] of [
    ['Workbook', 'Season review 2027.xlsx'],
    ['CSV of this part', 'Season review 2027, assumed.csv'],
  ] as const) {
    const download = page.waitForEvent('download')
    await page.getByRole('button', { name: button }).click()
    expect((await download).suggestedFilename()).toBe(name)
  }

  // Half the width and twice the text.
  await page.setViewportSize({ width: 640, height: 400 })
  for (const name of ['Side by side', 'Seed cost', 'Acres and tons', 'What was left', /^Lessons/] as const) {
    await part(page, name).click()
    await fits(page, String(name))
  }

  // The built command reads the same file once the window has let go of it.
  await page.close()
  await standwell.stop()
  const files = readdirSync(standwell.home, { recursive: true, encoding: 'utf8' })
  const farm = join(standwell.home, files.find((name) => name.endsWith('.farm')) ?? '')
  const { NO_COLOR: _no, FORCE_COLOR: _force, ...env } = process.env
  const run = spawnSync(process.execPath, [join(project, 'out/main/cli.js'), 'review', farm], { encoding: 'utf8', env })
  expect(run.stderr).toBe('')
  expect(run.stdout).toContain('By field')
})
