/** A button or link pressed as people press: the page may shift beneath the finger, and who slides off it meant nothing. */
import type { Locator, Page } from '@playwright/test'
import { expect, test } from './fixtures.ts'
import { frames } from './frames.ts'

const demo = (page: Page) => page.getByRole('button', { name: 'Open the demo farm' })
const opened = (page: Page) => page.getByRole('navigation', { name: 'Stages of the year' })

async function press(page: Page, button: Locator) {
  const { x, y, width, height } = (await button.boundingBox())!
  await page.mouse.move(x + width / 2, y + height / 2)
  await page.mouse.down()
}

test('the page shifts while a button is held: it is pressed all the same', async ({ page, standwell }) => {
  await page.goto(standwell.address)
  await press(page, demo(page))
  await page.evaluate(() => {
    const line = document.createElement('div')
    line.style.height = '200px'
    document.body.prepend(line)
  })
  await page.mouse.up()
  await expect(opened(page)).toBeVisible({ timeout: 30_000 })
})

test('the rail shifts while one of its links is held: it is gone to all the same, unless one slides off', async ({
  page,
  standwell,
}) => {
  await page.goto(standwell.address)
  await page.getByRole('button', { name: 'Open it without a plan' }).click()
  // What waits below each stage is told a moment after the rail is there.
  await expect(opened(page).getByRole('link', { name: /^Varieties/ })).toContainText('8 varieties')
  const rules = opened(page).getByRole('link', { name: /^House rules/ })
  const shift = () => rules.evaluate((link) => (link.style.marginTop = '80px'))
  await press(page, rules)
  await shift()
  await page.mouse.move(700, 400, { steps: 5 })
  await page.mouse.up()
  await expect(rules).not.toHaveAttribute('aria-current', 'page')
  await rules.evaluate((link) => (link.style.marginTop = ''))
  await press(page, rules)
  await shift()
  await page.mouse.up()
  await expect(rules).toHaveAttribute('aria-current', 'page')
})

test('who slides off a button before letting go has not pressed it', async ({ page, standwell }) => {
  await page.goto(standwell.address)
  await press(page, demo(page))
  await page.mouse.move(5, 5, { steps: 5 })
  await page.mouse.up()
  await frames(page, 30)
  await expect(demo(page)).toBeEnabled()
  await expect(opened(page)).toBeHidden()
})
