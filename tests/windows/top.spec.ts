/** A page that is gone to begins at its top, however far down one stood before, and the keyboard goes on in it. */
import { expect, test } from './fixtures.ts'
import { go } from './stages.ts'
import { frames } from './frames.ts'

const sizes = { 'where the window scrolls': [800, 600], 'where the stage scrolls': [1280, 400] } as const

for (const [where, [width, height]] of Object.entries(sizes)) {
  test(`a page begins at its top, ${where}`, async ({ page, standwell }) => {
    await page.setViewportSize({ width, height })
    await page.goto(standwell.address)
    await page.getByRole('button', { name: 'Open it without a plan' }).click()
    const heading = page.getByRole('heading', { level: 1 })
    const scrolled = () =>
      page.evaluate(() => document.documentElement.scrollTop + (document.querySelector('main')?.scrollTop ?? 0))
    // Once seen, a page is there in its whole length at once, and nothing makes it go up by itself.
    for (const [stage, title] of [
      ['file', 'Farm file'],
      ['method', 'Method and words'],
      ['file', 'Farm file'],
      ['method', 'Method and words'],
    ] as const) {
      await go(page, stage)
      await expect(heading).toHaveText(title)
      await frames(page, 30)
      expect(await scrolled()).toBe(0)
      await page.evaluate(() => {
        for (const scroller of [document.documentElement, document.querySelector('main')])
          if (scroller) scroller.scrollTop = 100
      })
      expect(await scrolled()).toBeGreaterThan(50)
    }
  })
}

test('a link in a page takes the keyboard along', async ({ page, standwell }) => {
  await page.goto(standwell.address)
  await page.getByRole('button', { name: 'Open it without a plan' }).click()
  await go(page, 'deliveries')
  await page.getByRole('link', { name: 'Make the orders' }).press('Enter')
  await expect(page.getByRole('heading', { level: 1, name: 'Orders' })).toBeVisible()
  await expect(page.locator('main:focus')).toBeVisible()
  await expect(page.getByRole('link', { name: 'Go to the plan' })).toBeVisible()
  await page.keyboard.press('Tab')
  await expect(page.locator('main :focus')).toHaveText('Go to the plan')
})
