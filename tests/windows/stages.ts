/** Going about in the window, and looking at a page with the eyes of those who see little. */
import { expect, type Page } from '@playwright/test'
import { isClean } from './axe.ts'

export async function go(page: Page, stage: string): Promise<void> {
  await page.evaluate((hash) => void (location.hash = hash), stage)
}

export const rail = (page: Page, stage: RegExp) =>
  page.getByRole('navigation', { name: 'Stages of the year' }).getByRole('link', { name: stage })

/** Nothing serious in either theme, nothing cut off sideways, and the frame stands still. */
export async function calm(page: Page, where: string): Promise<void> {
  await isClean(page, where)
  await page.emulateMedia({ colorScheme: 'light' })
  const over = await page.evaluate(() => {
    const { scrollWidth, scrollHeight } = document.documentElement
    // Without a farm, and in a small window, the page scrolls as a whole; else only its stage does.
    const isFramed = innerWidth > 52 * 16 && document.querySelector('[aria-label="Stages of the year"]') !== null
    return [scrollWidth - innerWidth, isFramed ? scrollHeight - innerHeight : 0]
  })
  expect(Math.max(...over), where).toBeLessThanOrEqual(0)
  // The browser would scroll to it.
  const named = await page.evaluate(() => document.getElementById(location.hash.slice(1))?.outerHTML ?? null)
  expect(named, `${where}: nothing has the page’s own name`).toBeNull()
}
