/** A small invented farm as it stands in a spreadsheet, and the way its blocks are pasted: by the grid's own columns. */
import type { Page } from '@playwright/test'
import { expect } from './fixtures.ts'

type Rows = readonly Readonly<Record<string, string | undefined>>[]

const ground = { Rows: '36', Water: 'irrigated', Soil: 'sandy loam', Tillage: 'strip', 'Vines grow': 'usual' }

export const fields: Rows = [
  { Field: 'Home Forty', Planted: '40', Pattern: 'twin', 'Yield goal': '4800', 'Spotted wilt': 'high' },
  { Field: 'Creek', Planted: '62.5', Pattern: 'twin', 'Yield goal': '5100', 'Late leaf spot': 'severe' },
  { Field: 'Ridge', Planted: '35', Pattern: 'single', 'Yield goal': '3600', 'Spotted wilt': 'low' },
  { Field: 'River', Planted: '90', Pattern: 'twin', 'Yield goal': '5000', 'Southern stem rot': 'high' },
  { Field: 'Church', Planted: '28', Pattern: 'single', 'Yield goal': '4200', 'Late leaf spot': 'moderate' },
].map((field) => ({ ...ground, ...field, 'Grown before': '2026 cotton; 2025 corn; 2024 peanut' }))

const ratings = (wilt: string, late: string, rot: string) => ({
  'Early leaf spot': late,
  'Late leaf spot': late,
  'Southern stem rot': rot,
  'Spotted wilt': wilt,
  'Root-knot nematode': '8',
})

export const varieties: Rows = [
  {
    Variety: 'Amber',
    Oil: 'high oleic',
    'Seed count': '690',
    Vine: 'large',
    Maturity: '140',
    ...ratings('3', '6', '5'),
  },
  {
    Variety: 'Bison',
    Oil: 'high oleic',
    'Seed count': '610',
    Vine: 'medium',
    Maturity: '138',
    ...ratings('6', '4', '4'),
  },
  { Variety: 'Cedar', Oil: 'normal', 'Seed count': '735', Vine: 'compact', Maturity: '135', ...ratings('4', '3', '2') },
].map((variety) => ({ ...variety, Germination: '87', Yield: '1', Grade: '1' }))

export const dealers: Rows = [
  { Dealer: 'North Barn', 'Order fee': '100' },
  { Dealer: 'South Barn', 'Order fee': '0', Deposit: '20' },
]

export const quotes: Rows = [
  { Dealer: 'North Barn', Variety: 'Amber', Price: '46.50', 'Price breaks': 'from 200 packs $45.25' },
  { Dealer: 'North Barn', Variety: 'Bison', Price: '48.00' },
  { Dealer: 'South Barn', Variety: 'Amber', Price: '47.25' },
  { Dealer: 'South Barn', Variety: 'Bison', Price: '47.50' },
  { Dealer: 'South Barn', Variety: 'Cedar', Price: '52.00', Available: '900' },
].map((quote) => ({ ...quote, Pack: '50', 'Order by': '2027-03-01' }))

/** Puts the rows on the clipboard as a spreadsheet does, in the order in which the grid has its columns. */
export async function copyFor(page: Page, grid: string, rows: Rows): Promise<void> {
  await expect(page.getByRole('grid', { name: grid })).toBeVisible()
  const heads = await page.getByRole('grid', { name: grid }).getByRole('columnheader').allInnerTexts()
  const labels = heads.map((head) => head.split('\n')[0]?.trim() ?? '')
  for (const label of Object.keys(Object.assign({}, ...rows) as object)) expect(labels).toContain(label)
  const block = rows.map((row) => labels.map((label) => row[label] ?? '').join('\t')).join('\n')
  await page.evaluate((text) => navigator.clipboard.writeText(text), `${block}\n`)
}

/** What the focus is on, in words: its label, else its text. */
export function focusWords(page: Page): Promise<string> {
  return page.evaluate(() => {
    const on = document.activeElement
    const label = on?.getAttribute('aria-label') ?? (on as HTMLInputElement | null)?.labels?.[0]?.textContent
    return (label ?? on?.textContent ?? '').replace(/\s+/g, ' ').trim()
  })
}

/** Tab until the focus is on what bears this name; where that never comes, a page is not usable by keyboard. */
export async function tabTo(page: Page, name: string | RegExp, key: 'Tab' | 'Shift+Tab' = 'Tab'): Promise<void> {
  const way = new Set<string>()
  for (let press = 0; press < 250; press += 1) {
    const words = await focusWords(page)
    if (typeof name === 'string' ? words === name : name.test(words)) return
    way.add(words.slice(0, 60))
    await page.keyboard.press(key)
  }
  throw new Error(`${key} never came to ${name}; it came to: ${[...way].join(' · ')}`)
}

/** Tabs to it and presses Enter. */
export async function press(page: Page, name: string | RegExp): Promise<void> {
  await tabTo(page, name)
  await page.keyboard.press('Enter')
}
