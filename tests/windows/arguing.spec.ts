/** Arguing with a plan: its curve, what a field could have been, questions, drafts side by side, a clash settled. */
import type { Page } from '@playwright/test'
import { isClean } from './axe.ts'
import { expect, test } from './fixtures.ts'
import { openPlanned } from './planned-farm.ts'

/** A plan of the demo takes a few seconds alone; on a machine that does other work, many more. */
const planned = { timeout: 90_000 }
test.setTimeout(240_000)

const running = (page: Page) => page.getByLabel('Running line')
const atWork = (page: Page) => page.getByRole('region', { name: 'Work beside the plan' })
const part = (page: Page, name: string) =>
  page.getByRole('navigation', { name: 'Parts of the plan' }).getByRole('button', { name }).click()

/** Presses one question’s button and waits until its draft is solved. */
async function ask(page: Page, name: string) {
  await page.getByRole('button', { name: `Ask: ${name}` }).click()
  await expect(atWork(page)).toBeVisible()
  await expect(atWork(page)).toBeHidden(planned)
}

test('a curve is drawn, cancelled with what it has, and a point of it made the plan and unmade', async ({
  page,
  standwell,
}) => {
  await openPlanned(page, standwell)
  const before = await running(page).innerText()
  await part(page, 'Cash and loss')
  await page.getByRole('button', { name: 'Draw the curve' }).press('Enter')
  // The keys go to what can be pressed meanwhile.
  await expect(page.getByRole('button', { name: 'Cancel, keep what there is' })).toBeFocused()
  const rows = page.getByRole('table', { name: /^The points of the curve/ }).getByRole('row')
  // Head, two points and the plan in hand.
  await expect.poll(() => rows.count(), { timeout: 120_000 }).toBeGreaterThanOrEqual(4)
  await expect(page.getByRole('button', { name: /^Look at point/ })).toHaveCount(0)
  await page.keyboard.press('Enter')
  await expect(atWork(page)).toBeHidden(planned)
  await expect(page.getByRole('button', { name: 'Draw it again' })).toBeFocused()
  await expect(page.getByText('Not all of it was drawn.')).toBeVisible()
  await expect(page.getByRole('img', { name: /^Curve of \d+ points/ })).toBeVisible()

  await page.getByRole('button', { name: 'Look at point 1' }).press('Enter')
  await expect(
    page.getByText(/^Against the plan in hand: \$[\d,]+ more paid.*\$[\d,]+ less expected loss/s),
  ).toBeVisible()
  await isClean(page, 'curve')
  await page.getByRole('button', { name: 'Make this the plan' }).click()
  await expect(page.getByRole('heading', { name: 'Point 1: the plan in hand' })).toBeVisible()
  await expect(running(page)).toContainText(/expected loss.*−\$[\d,]+/s)
  // The season has not changed, so the plan is not out of date.
  await expect(running(page)).toContainText('changes since the plan before')
  await page.getByRole('button', { name: 'Earlier plan' }).click()
  await expect(page.getByRole('heading', { name: 'Point 1', exact: true })).toBeVisible()
  const cash = /cash\s+\$[\d,]+/
  await expect(running(page)).toContainText(cash.exec(before)?.[0].replace(/\s+/, ' ') ?? 'no cash')
})

test('a click on the drawn curve chooses a point', async ({ page, standwell }) => {
  await openPlanned(page, standwell)
  await part(page, 'Cash and loss')
  await page.getByRole('button', { name: 'Draw the curve' }).click()
  const rows = page.getByRole('table', { name: /^The points of the curve/ }).getByRole('row')
  await expect.poll(() => rows.count(), { timeout: 120_000 }).toBeGreaterThanOrEqual(4)
  await page.getByRole('button', { name: 'Cancel, keep what there is' }).click()
  await expect(atWork(page)).toBeHidden(planned)
  // Points lie somewhere on the picture: it is searched until one answers. The page may still move when its work ends.
  const heading = page.getByRole('heading', { name: /^Point \d+/ })
  await expect(async () => {
    const box = await page.locator('canvas').boundingBox()
    if (!box) throw new Error('The curve is not drawn.')
    for (let y = 4; y < box.height && !(await heading.isVisible()); y += 12) {
      for (let x = 50; x < box.width && !(await heading.isVisible()); x += 12) {
        await page.mouse.click(box.x + x, box.y + y)
      }
    }
    expect(await heading.isVisible()).toBe(true)
  }).toPass()
})

test('what a field could have been: bounded, worked out, kept off and taken back, taken', async ({
  page,
  standwell,
}) => {
  await openPlanned(page, standwell)
  await page.getByRole('button', { name: /^Creek Bottom, 88 acres/ }).click()
  const why = page.getByRole('complementary', { name: 'Why: Creek Bottom' })
  await expect(why.getByText('quick bound').first()).toBeVisible()
  const bounds = await why.getByText('quick bound').count()
  await why.getByRole('button', { name: 'Work it out', exact: true }).click()
  await expect.poll(() => why.getByText('quick bound').count(), planned).toBeLessThan(bounds)
  // All of it may be worked out by now: then there is nothing left to cancel.
  const cancel = page.getByRole('button', { name: 'Cancel, keep what there is' })
  await expect(async () => {
    if (await cancel.isVisible()) await cancel.click({ timeout: 2000 })
    await expect(atWork(page)).toBeHidden({ timeout: 2000 })
  }).toPass(planned)
  await expect(why.getByText(/^worked out/).first()).toBeVisible()
  await isClean(page, 'why')

  const off = why.getByRole('button', { name: /^Leave \w+ off this field$/ })
  const planted = /^Leave (\w+) off/.exec(await off.innerText())?.[1] ?? ''
  await off.click()
  await expect(why.getByRole('heading', { name: 'Kept off this field' })).toBeVisible()
  await expect(page.getByRole('heading', { name: 'Out of date' })).toBeVisible()
  await expect(page.getByText('1 variety kept off a field', { exact: true })).toBeVisible()
  await page.keyboard.press('Control+z')
  await expect(why.getByRole('heading', { name: 'Kept off this field' })).toBeHidden()
  await expect(page.getByRole('heading', { name: 'Out of date' })).toBeHidden()

  await why
    .getByRole('button', { name: /^Take this: lock/ })
    .first()
    .click()
  await expect(why.getByRole('heading', { name: /^Locked to/ })).toBeVisible()
  await expect(page.getByRole('button', { name: 'Earlier plan' })).toBeVisible(planned)
  await expect(page.getByRole('button', { name: /^Creek Bottom, 88 acres/ })).not.toHaveAttribute(
    'aria-label',
    new RegExp(`acres: ${planted}`),
  )
})

test('questions become drafts; three plans stand side by side; one is made the plan', async ({ page, standwell }) => {
  await openPlanned(page, standwell)
  await part(page, 'What if, and drafts')
  await page.getByLabel('Whose price').selectOption({ label: 'seed of Saltgrass' })
  await page.getByLabel('Percent', { exact: true }).fill('much')
  await page.getByRole('button', { name: 'Ask: A price up or down' }).click()
  await expect(page.getByRole('alert')).toContainText('is not a number')
  await page.getByLabel('Percent', { exact: true }).fill('150')
  await ask(page, 'A price up or down')
  await expect(page.getByText(/cost \+\$[\d,]+.*against the plan in hand\./)).toBeVisible()
  await ask(page, 'What risk counts')

  // Of the plan in hand and two drafts.
  const table = page.getByRole('region', { name: 'Side by side' }).getByRole('table')
  await expect(table.getByRole('columnheader')).toHaveText([
    'Plan in hand',
    'A dollar of expected loss counts as 2 dollars of cash',
    'Saltgrass is 150 % dearer',
  ])
  await expect(table.getByText(/^Fields that differ: \d+$/)).toBeVisible()
  await expect(table.getByRole('row', { name: /^Expected loss/ })).toContainText(/−\$[\d,]+/)
  await isClean(page, 'drafts')

  const named = (name: string) => page.getByRole('row').filter({ has: page.getByRole('checkbox', { name }) })
  await page.getByRole('button', { name: 'Rename “Saltgrass is 150 % dearer”' }).click()
  await page.getByLabel('Name of the draft').fill('Dear Saltgrass')
  await page.keyboard.press('Enter')
  await expect(page.getByRole('button', { name: 'Rename “Dear Saltgrass”' })).toBeFocused()
  await page.getByRole('button', { name: 'Copy “Dear Saltgrass”' }).click()
  await page.keyboard.press('Escape')
  await expect(named('Copy of Dear Saltgrass')).toContainText('Not solved yet.')
  await page.getByRole('button', { name: 'Remove “Copy of Dear Saltgrass”' }).click()
  await expect(named('Copy of Dear Saltgrass')).toBeHidden()
  await page.keyboard.press('Control+z')
  await expect(named('Copy of Dear Saltgrass')).toBeVisible()
  await page.keyboard.press('Control+y')
  await expect(named('Copy of Dear Saltgrass')).toBeHidden()

  await page.getByRole('button', { name: 'Make it the plan: Dear Saltgrass' }).click()
  // It was made at prices that are not the season’s, and says so.
  await expect(page.getByRole('heading', { name: 'Out of date' })).toBeVisible()
  await expect(page.getByText(/^\d+ prices?$/)).toBeVisible()
  await page.getByRole('button', { name: 'Earlier plan' }).click()
  await expect(page.getByRole('heading', { name: 'Out of date' })).toBeHidden()
})

test('a rule is tried without, and other years are looked at', async ({ page, standwell }) => {
  await openPlanned(page, standwell)
  await part(page, 'What rules cost')
  await expect(page.getByRole('row', { name: /^At least 700 acres of high oleic\./ })).toContainText('not worked out')
  await page
    .getByRole('button', { name: /^Try without it: Without the rule: Plant at least 700 acres of high oleic/ })
    .click()
  await expect(page.getByRole('heading', { name: 'What if …' })).toBeVisible()
  await expect(atWork(page)).toBeVisible()
  await expect(atWork(page)).toBeHidden(planned)
  await expect(page.getByRole('columnheader', { name: /^Without the rule: Plant at least 700 acres/ })).toBeVisible()

  await part(page, 'Other years')
  await page.getByRole('button', { name: 'Look at other years' }).click()
  await expect(page.getByRole('heading', { name: 'Planning for the wrong year' })).toBeVisible(planned)
  await expect(page.getByRole('row', { name: /^Hard year/ })).toContainText(/\$[\d,]+ to \$[\d,]+.*−\$[\d,]+/s)
  await isClean(page, 'other years')
})

test('where nothing fits, each rule that would settle it is tried with one click', async ({ page, standwell }) => {
  await openPlanned(page, standwell)
  await page.getByRole('button', { name: /^Creek Bottom, 88 acres/ }).click()
  const why = page.getByRole('complementary', { name: 'Why: Creek Bottom' })
  await why.getByRole('button', { name: /^Lock to/ }).click()
  await expect(why.getByRole('heading', { name: /^Locked to/ })).toBeVisible()
  await why.getByRole('button', { name: /^Leave \w+ off this field$/ }).click()
  await expect(why.getByRole('heading', { name: 'Kept off this field' })).toBeVisible()
  await page.getByRole('button', { name: 'Solve again' }).click()
  await expect(page.getByRole('heading', { name: 'These rules cannot all be kept' })).toBeVisible(planned)
  await expect(page.getByRole('button', { name: /^Try: \w+ may be planted on Creek Bottom\.$/ })).toBeVisible()
  await isClean(page, 'clash')
  await page.getByRole('button', { name: 'Try: Creek Bottom is not kept for anything.' }).click()
  await expect(atWork(page)).toBeVisible()
  await expect(atWork(page)).toBeHidden(planned)
  // The plan in hand stays where a solve finds none, so the draft is told against it.
  await expect(page.getByText(/cost [+−]\$[\d,]+, cash .*, against the plan in hand\./).first()).toBeVisible()
  await page.getByRole('button', { name: 'Make it the plan: Creek Bottom is not kept for anything' }).click()
  await expect(running(page)).toContainText('of a plan that is out of date')
  await expect(page.getByRole('heading', { name: 'These rules cannot all be kept' })).toBeHidden()
})
