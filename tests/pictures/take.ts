/**
 * Takes the README's pictures from the demo farm, as a person would come to them. Run by hand before a release; a test
 * looks that every picture the README shows is here, and that none is here that it does not show.
 */
import type { Page } from '@playwright/test'
import { join } from 'node:path'
import { expect, test } from '../windows/fixtures.ts'
import { callsOf } from '../windows/season-in.ts'
import { go } from '../windows/stages.ts'

const solved = { timeout: 120_000 }

/** Stands still, without a focus ring and without what is said in passing. */
async function take(page: Page, name: string) {
  await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur())
  await page.mouse.move(0, 0)
  await page.waitForTimeout(500)
  await page.screenshot({ path: join(import.meta.dirname, `${name}.png`), animations: 'disabled' })
}

test('winter', async ({ page, standwell }) => {
  await page.clock.setFixedTime(new Date('2027-01-20T10:00:00'))
  await page.goto(standwell.address)
  await page.getByRole('button', { name: 'Open the demo farm' }).click()
  await expect(page.getByRole('heading', { name: 'What to order' })).toBeVisible(solved)
  await take(page, 'plan')

  await page
    .getByRole('button', { name: /^Camp House, / })
    .first()
    .click()
  const why = page.getByRole('complementary')
  await why.getByRole('button', { name: 'Work it out' }).click()
  await expect(why.getByText('not yet worked out')).toHaveCount(0, solved)
  await expect(page.getByRole('button', { name: /^Cancel/ })).toBeHidden(solved)
  await why.getByRole('heading', { name: 'What else it could be' }).evaluate((head) => head.scrollIntoView())
  await page.emulateMedia({ colorScheme: 'dark' })
  await take(page, 'why-dark')
  await page.emulateMedia({ colorScheme: 'light' })

  await go(page, 'orders')
  await page.getByRole('button', { name: 'Make the orders' }).click()
  await expect(page.getByRole('button', { name: 'Confirm all' }).first()).toBeVisible()
  await take(page, 'orders')
})

test('fall', async ({ page, standwell }) => {
  await page.clock.setFixedTime(new Date('2027-11-20T10:00:00'))
  const must = callsOf(standwell)
  const { seasons } = await must('farm.openDemo', { today: '2027-11-20', harvested: true })
  const past = seasons.find(({ isOpen }) => !isOpen)
  if (past) await must('season.open', { id: past.id })
  await page.goto(standwell.address)
  await go(page, 'review')
  await expect(page.getByRole('heading', { level: 1, name: 'Season review' })).toBeVisible()
  await take(page, 'review')
})
