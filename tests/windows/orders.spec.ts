/** The orders of the demo's plan: made, answered, printed, planned around and taken back; by mouse and by keyboard alone. */
import type { Page } from '@playwright/test'
import { isClean } from './axe.ts'
import { expect, test } from './fixtures.ts'
import { go } from './stages.ts'

/** A plan of the demo takes a few seconds alone; on a machine that does other work, many more. */
const planned = { timeout: 90_000 }
test.setTimeout(240_000)

const sheet = (page: Page, dealer: string) => page.getByRole('region', { name: dealer, exact: true })
const rail = (page: Page) => page.getByRole('navigation', { name: 'Stages of the year' })

/** Pages of a PDF, and the size of its paper in points. */
async function pdfOf(page: Page, format: 'Letter' | 'A4') {
  const text = (await page.pdf({ format })).toString('latin1')
  return {
    pages: text.match(/\/Type\s*\/Page\b(?!s)/g)?.length,
    box: /MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(text)?.slice(1).map(Number),
  }
}

async function tabTo(page: Page, name: string | RegExp) {
  for (let press = 0; press < 200; press += 1) {
    const words = await page.evaluate(() => {
      const on = document.activeElement
      return on?.getAttribute('aria-label') ?? on?.textContent?.replace(/\s+/g, ' ').trim() ?? ''
    })
    if (typeof name === 'string' ? words === name : name.test(words)) return
    await page.keyboard.press('Tab')
  }
  throw new Error(`Tab never came to ${name}.`)
}

test('by mouse: made to the cent, confirmed, refused, planned around, remade, printed, taken back', async ({
  page,
  standwell,
}) => {
  await page.clock.setFixedTime(new Date('2027-01-20T10:00:00'))
  await page.addInitScript(() => {
    const printed: string[] = []
    Object.assign(window, {
      printed,
      print: () =>
        printed.push(
          [...document.querySelectorAll('article:not(.left-out) dd')].map((each) => each.textContent).join(' '),
        ),
    })
  })
  const printed = () => page.evaluate(() => (window as unknown as { printed: string[] }).printed)
  await page.goto(standwell.address)
  await page.getByRole('button', { name: 'Open it without a plan' }).click()
  await go(page, 'orders')
  await expect(page.getByRole('heading', { name: 'No plan to order from' })).toBeVisible()
  await page.getByRole('link', { name: 'Go to the plan' }).click()
  await page.getByRole('button', { name: 'Solve the plan' }).click()
  const seed = page.getByRole('row', { name: /^Seed, all dealers/ })
  await expect(seed).toBeVisible(planned)
  const dollars = Number((await seed.innerText()).replace(/[^\d]/g, ''))
  await expect(rail(page).getByRole('link', { name: /^Orders/ })).toContainText('not made yet')
  await rail(page)
    .getByRole('link', { name: /^Orders/ })
    .click()
  await page.getByRole('button', { name: 'Make the orders' }).click()
  const standing = page.getByText(/ for [\d,]+ packs from \d dealers?;/)
  await expect(standing).toContainText('to order')
  const total = Number((await standing.locator('strong').innerText()).replace(/[$,]/g, ''))
  expect(Math.round(total)).toBe(dollars)
  await expect(rail(page).getByRole('link', { name: /^Orders/ })).toContainText(/\d order lines not confirmed/)
  await isClean(page, 'made')

  // Paper: one page a dealer, in both sizes, with what must be on it.
  const dealers = await page.getByRole('button', { name: /^Print, / }).count()
  const letter = await pdfOf(page, 'Letter')
  expect(letter).toEqual({ pages: dealers, box: [612, 792] })
  const a4 = await pdfOf(page, 'A4')
  expect(a4.pages).toBe(dealers)
  // 210 × 297 mm is 595.3 × 841.9 points; the browser rounds up to its own pixels.
  expect(Math.abs((a4.box?.[0] ?? 0) - 595.3)).toBeLessThan(1)
  expect(Math.abs((a4.box?.[1] ?? 0) - 841.9)).toBeLessThan(1.5)
  await page.emulateMedia({ media: 'print' })
  const first = page.getByRole('article').first()
  await expect(page.getByRole('article')).toHaveCount(dealers)
  await expect(first).toContainText('Halfmoon Branch Farm · season 2027 · order to')
  await expect(first).toContainText('printed Jan 20, 2027')
  await expect(first).toContainText(/seeds a pound, \d+ % germination/)
  await expect(first).toContainText('Treated seed is poisonous: never food, feed or oil.')
  await expect(first).toContainText('For the dealer')
  await expect(page.getByRole('button', { name: 'Make the orders' })).toBeHidden()
  await page.emulateMedia({ media: 'screen' })
  await page
    .getByRole('button', { name: /^Print, / })
    .first()
    .click()
  await page.getByRole('button', { name: 'Print all' }).click()
  await expect.poll(async () => (await printed()).length).toBe(2)
  const [one = '', all = ''] = await printed()
  expect(one.match(/Halfmoon/g)).toHaveLength(1)
  expect(all.match(/Halfmoon/g)).toHaveLength(dealers)

  // The largest line is refused; whatever else that dealer and the others have is confirmed.
  const states = page.getByRole('combobox', { name: /^State of/ })
  const amounts = await page.locator('tbody .amount').allInnerTexts()
  const cents = amounts.map((text) => Number(text.replace(/[$,]/g, '')))
  const largest = cents.indexOf(Math.max(...cents))
  const label = (await states.nth(largest).getAttribute('aria-label')) ?? ''
  const refused = page.getByRole('combobox', { name: label, exact: true })
  for (let at = 0; at < cents.length; at += 1) if (at !== largest) await states.nth(at).selectOption('confirmed')
  await refused.selectOption('refused')
  const title = label.replace('State of ', '')
  await page.getByRole('textbox', { name: `Why refused, ${title}` }).fill('sold out')
  await page.keyboard.press('Enter')
  await expect(page.getByRole('heading', { name: /^Short of seed for [\d.]+ acres$/ })).toBeVisible()
  await expect(rail(page).getByRole('link', { name: /^Plan\b/ })).toContainText('plan is out of date')
  await isClean(page, 'refused')

  await page.getByRole('button', { name: 'Plan without the refused seed' }).click()
  await expect(page.getByRole('button', { name: 'Cancel, keep the best so far' })).toBeVisible()
  const take = page.getByRole('button', { name: 'Take this plan' })
  await expect(take).toBeVisible(planned)
  await isClean(page, 'planned around')
  await take.click()
  await expect(page.getByRole('heading', { name: /^The plan has changed: \d+ lines? differs?$/ })).toBeVisible()
  await page.getByRole('button', { name: 'Remake the lines still to order' }).click()
  await expect(page.getByText('“Without the refused seed”').first()).toBeVisible()
  await expect(page.getByRole('heading', { name: /^Short of seed/ })).toBeHidden()
  await expect(refused).toHaveValue('refused')
  const after = await states.count()
  expect(after).toBeGreaterThan(cents.length - 1)

  await page.getByRole('button', { name: 'Undo: make the orders' }).click()
  await expect(states).toHaveCount(cents.length)
  await expect(page.getByRole('heading', { name: /^The plan has changed/ })).toBeVisible()
  await page.reload()
  await expect(states).toHaveCount(cents.length)
  await expect(refused).toHaveValue('refused')
})

test('by keyboard alone, with quotes that have ended left out', async ({ page, standwell }) => {
  // Opened in January, planned in February: two quotes have ended between.
  await page.clock.setFixedTime(new Date('2027-01-20T10:00:00'))
  await page.goto(standwell.address)
  await expect(page.getByRole('button', { name: 'Open the demo farm' })).toBeVisible()
  await tabTo(page, 'Open it without a plan')
  await page.keyboard.press('Enter')
  await expect(page.getByRole('button', { name: 'Solve the plan' })).toBeVisible()
  await page.clock.setFixedTime(new Date('2027-02-20T10:00:00'))
  await tabTo(page, 'Solve the plan')
  await page.keyboard.press('Enter')
  await expect(page.getByText('2 quotes have ended and were left out.')).toBeVisible(planned)
  await expect(rail(page).getByRole('link', { name: /^Plan\b/ })).toContainText('2 ended quotes left out')
  await rail(page)
    .getByRole('link', { name: /^Orders/ })
    .focus()
  await page.keyboard.press('Enter')
  await expect(page.getByRole('button', { name: 'Make the orders' })).toBeVisible()
  await tabTo(page, 'Make the orders')
  await page.keyboard.press('Enter')
  const states = page.getByRole('combobox', { name: /^State of/ })
  await expect(states.first()).toHaveValue('to order')
  await expect(page.getByText(/quotes have ended and were left out of/)).toContainText('Linden')

  // The first line by its first letter: confirmed; then fewer packs, which is a change; then as asked again.
  const name = ((await states.first().getAttribute('aria-label')) ?? '').replace('State of ', '')
  await tabTo(page, `State of ${name}`)
  await page.keyboard.press('c')
  await expect(states.first()).toHaveValue('confirmed')
  await expect(page.getByRole('status').filter({ hasText: /^Confirm [\d,]+ packs? of .*: done\.$/ })).toHaveCount(1)
  const packs = page.getByRole('textbox', { name: `Packs agreed, ${name}` })
  await expect(packs).not.toHaveValue('')
  const asked = await packs.inputValue()
  await tabTo(page, `Packs agreed, ${name}`)
  await page.keyboard.press('Control+a')
  await page.keyboard.type('ten')
  await page.keyboard.press('Enter')
  await expect(page.getByRole('alert')).toContainText('is not a number')
  await page.keyboard.press('Escape')
  await expect(packs).toHaveValue(asked)
  await page.keyboard.press('Control+a')
  await page.keyboard.type('10')
  await page.keyboard.press('Enter')
  await expect(states.first()).toHaveValue('changed')
  await page.keyboard.press('Control+z')
  await expect(states.first()).toHaveValue('confirmed')
  await expect(packs).toHaveValue(asked)
  await page.keyboard.press('Control+Shift+z')
  await expect(packs).toHaveValue('10')
  await page.keyboard.press('Control+z')

  // A whole dealer in one step, and back; the focus stays with the dealer although the button has gone.
  await tabTo(page, 'Confirm all')
  await page.keyboard.press('Enter')
  const dealer = await page.locator(':focus').innerText()
  await expect(page.getByRole('heading', { name: dealer, exact: true, level: 2 })).toBeFocused()
  await expect(sheet(page, dealer)).toContainText('every line is confirmed')
  await page.keyboard.press('Control+z')
  await expect(sheet(page, dealer)).toContainText('to order')

  // Refused, planned around and taken. The focus follows the work: to the way out, then to what was found.
  await tabTo(page, `State of ${name}`)
  await page.keyboard.press('r')
  await expect(states.first()).toHaveValue('refused')
  await expect(page.getByRole('heading', { name: /^Short of seed/ })).toBeVisible()
  await tabTo(page, 'Plan without the refused seed')
  await page.keyboard.press('Enter')
  await expect(page.locator(':focus')).toHaveText('Cancel, keep the best so far')
  await expect(page.getByRole('button', { name: 'Take this plan' })).toBeVisible(planned)
  await expect(page.locator(':focus')).toHaveText(/^Short of seed/)
  await tabTo(page, 'Take this plan')
  await page.keyboard.press('Enter')
  await expect(page.getByRole('heading', { name: /^The plan has changed/ })).toBeVisible()
  await tabTo(page, 'Remake the lines still to order')
  await page.keyboard.press('Enter')
  await expect(page.getByRole('heading', { name: /^The plan has changed/ })).toBeHidden()
  await page.keyboard.press('Control+z')
  await expect(page.getByRole('heading', { name: /^The plan has changed/ })).toBeVisible()
})
