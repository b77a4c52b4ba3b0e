/** Every page, light and dark: nothing serious that axe can find, and nothing cut off sideways at 200 % zoom. */
import type { Page } from '@playwright/test'
import { faultsOf } from './axe.ts'
import { expect, test } from './fixtures.ts'

test.setTimeout(300_000)
// Before the host goes: a page left open would look for it, and a failed look is a fault on its console.
test.afterEach(({ page }) => page.close())

const pages = ['fields', 'varieties', 'quotes', 'plan', 'orders', 'rules', 'deliveries', 'rates', 'planting'] as const

/** Buttons of a page that show another part of it. */
const parts: Partial<Record<string, string[]>> = {
  fields: ['Bring in a file'],
  quotes: ['Dealers', 'Seed on hand'],
  plan: ['Cash and loss', 'Other years', 'What rules cost', 'What if, and drafts', 'The plan'],
  rules: ['The book', 'Planting windows', 'Machines', 'Threats', 'Measures', 'Rules'],
}

async function open(page: Page, stage: string) {
  await page.evaluate((hash) => {
    location.hash = hash
  }, stage)
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
}

test('axe finds nothing serious on any page in either theme', async ({ page, standwell }) => {
  await page.goto(standwell.address)
  await expect(page.getByRole('button', { name: 'Open the demo farm' })).toBeVisible()
  for (const colorScheme of ['light', 'dark'] as const) {
    await page.emulateMedia({ colorScheme })
    expect(await faultsOf(page), `first page, ${colorScheme}`).toEqual([])
  }
  await page.getByRole('button', { name: 'Open the demo farm' }).click()
  await expect(page.getByRole('button', { name: /^Cancel/ })).toBeVisible()
  expect(await faultsOf(page), 'while it works').toEqual([])
  await expect(page.getByRole('heading', { name: 'What to order' })).toBeVisible({ timeout: 90_000 })
  for (const stage of pages) {
    await open(page, stage)
    for (const part of parts[stage] ?? []) {
      await page.getByRole('button', { name: part, exact: false }).first().click()
      expect(await faultsOf(page), `${stage}, ${part}`).toEqual([])
      if (part === 'Bring in a file') await page.getByRole('button', { name: 'Close without bringing in' }).click()
    }
    if (stage === 'plan') await page.getByRole('button', { name: /^Creek Bottom, 88 acres/ }).click()
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme })
      expect(await faultsOf(page), `${stage}, ${colorScheme}`).toEqual([])
    }
  }
})

test('at 200 % nothing runs off the side', async ({ page, standwell }) => {
  await page.goto(standwell.address)
  await page.getByRole('button', { name: 'Open it without a plan' }).click()
  await page.setViewportSize({ width: 640, height: 400 })
  for (const stage of pages) {
    await open(page, stage)
    const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)
    expect(over, stage).toBeLessThanOrEqual(0)
  }
})
