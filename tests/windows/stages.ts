/** Going about in the window, and looking at a page with the eyes of those who see little. */
import { expect, type Page } from '@playwright/test'
import { isClean } from './axe.ts'

export const go = (page: Page, stage: string) => page.evaluate((hash) => void (location.hash = hash), stage)

export const rail = (page: Page, stage: RegExp) =>
  page.getByRole('navigation', { name: 'Stages of the year' }).getByRole('link', { name: stage })

/** Nothing serious in either theme, nothing cut off sideways, and the frame stands still. */
export async function calm(page: Page, where: string): Promise<void> {
  await isClean(page, where)
  await page.emulateMedia({ colorScheme: 'light' })
  const over = await page.evaluate(() => {
    const { scrollWidth, scrollHeight } = document.documentElement
    // A small window scrolls as a whole; a large one only in its stage.
    return [scrollWidth - innerWidth, innerWidth > 52 * 16 ? scrollHeight - innerHeight : 0]
  })
  expect(Math.max(...over), where).toBeLessThanOrEqual(0)
}
