/** The farm as a file: backed up, copied out, renamed, gone back; spoilt from outside and rescued; brought in from elsewhere. */
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from '@playwright/test'
import manifest from '../../package.json' with { type: 'json' }
import { isClean } from './axe.ts'
import { expect, test } from './fixtures.ts'
import { calm } from './stages.ts'

test.setTimeout(120_000)

async function start(page: Page, address: string) {
  await page.goto(address)
  await page.getByLabel('Name of the farm').fill('Creek')
  await page.getByRole('button', { name: 'Start my farm' }).click()
  await expect(page.getByRole('heading', { level: 1, name: 'Fields' })).toBeVisible()
}

async function pagesOf(page: Page, format: 'Letter' | 'A4') {
  const text = (await page.pdf({ format })).toString('latin1')
  return text.match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0
}

const toFile = (page: Page) => page.getByRole('button', { name: 'Farm file' }).click()

test('backed up, renamed, copied out, and gone back to', async ({ page, standwell }) => {
  await start(page, standwell.address)
  await toFile(page)
  await expect(page.getByText('There is none yet.')).toBeVisible()
  await page.getByRole('button', { name: 'Back up now' }).click()
  const backups = page.getByRole('region', { name: 'Backups' })
  await expect(backups.getByRole('row')).toHaveCount(2)
  await page.getByRole('button', { name: 'Show the report' }).click()
  await expect(page.getByLabel('Report')).toContainText('No fault has been noted.')
  await page.getByText(/^Made with \d+ packages/).click()
  await expect(page.getByText(/^better-sqlite3/)).toBeVisible()
  // What somebody has, without asking any network.
  await expect(page.getByRole('region', { name: 'Version and updates' })).toContainText(
    `Standwell ${manifest.version}.`,
  )
  await expect(page.getByLabel('Report')).toContainText(`Standwell ${manifest.version},`)
  await isClean(page, 'farm file')

  await page.getByLabel('Name of the file').fill('Long Creek')
  await page.getByRole('button', { name: 'Rename' }).click()
  await expect(page.getByText('Long Creek.farm', { exact: true })).toBeVisible()
  await expect(backups.getByRole('row')).toHaveCount(2)

  const [copy] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save a copy elsewhere' }).click(),
  ])
  expect(copy.suggestedFilename()).toBe('Long Creek.farm')
  const elsewhere = join(standwell.home, 'elsewhere.copy')
  await copy.saveAs(elsewhere)
  expect(readFileSync(elsewhere).toString('latin1', 0, 15)).toBe('SQLite format 3')

  await backups.getByRole('button', { name: /^Go back to it/ }).focus()
  await page.keyboard.press('Enter')
  await expect(backups.getByText(/becomes what it was then/)).toBeVisible()
  await page.keyboard.press('Tab')
  await backups.getByRole('button', { name: 'Go back', exact: true }).click()
  await expect(backups.getByText('Before going back to another')).toBeVisible()
  await expect(backups.getByRole('row')).toHaveCount(3)

  // From elsewhere it comes in under a name that is free.
  await page.getByRole('button', { name: 'Close the farm' }).click()
  await page.getByLabel('Farm file to bring in').setInputFiles({
    name: 'Long Creek.farm',
    mimeType: 'application/octet-stream',
    buffer: readFileSync(elsewhere),
  })
  await toFile(page)
  await expect(page.getByText('Long Creek 2.farm', { exact: true })).toBeVisible()
})

test('method and words: read before there is a farm and beside one, found, and on paper whole', async ({
  page,
  standwell,
}) => {
  await page.goto(standwell.address)
  const open = page.getByRole('button', { name: 'Method and words' })
  await open.focus()
  await page.keyboard.press('Enter')
  await expect(page.getByRole('heading', { level: 1, name: 'Method and words' })).toBeVisible()
  await calm(page, 'method without a farm')
  await page.getByRole('button', { name: 'Back to the farms' }).click()
  await start(page, standwell.address)
  await open.click()
  await expect(open).toHaveAttribute('aria-current', 'page')
  await expect(page.getByRole('table', { name: 'Seed, formulas' })).toContainText('87,120 / 660 = 132 lb/acre')
  await calm(page, 'how a plan is made')
  const whole = await pagesOf(page, 'Letter')
  await page.getByRole('button', { name: 'Words', exact: true }).click()
  await page.getByLabel('Find a word').fill('Thrips')
  await expect(page.getByRole('term')).toHaveText(['Spotted wilt'])
  await calm(page, 'words')
  // Whichever part is shown and whatever was sought, the paper is the same.
  expect(await pagesOf(page, 'Letter')).toBe(whole)
  // A4 is narrower and longer: a page fewer, at most.
  expect([whole, whole - 1]).toContain(await pagesOf(page, 'A4'))
  await page.emulateMedia({ media: 'print' })
  await expect(page.getByText(/^Plants on a foot of row/)).toBeVisible()
  await expect(page.getByRole('heading', { name: 'How a plan is proven' })).toBeVisible()
  await page.emulateMedia({ media: null })
  await page.setViewportSize({ width: 640, height: 400 })
  await calm(page, 'words at 200 %')
  await page.getByRole('button', { name: 'How a plan is made' }).click()
  await calm(page, 'how a plan is made at 200 %')
})

test('a farm spoilt from outside: the first page says so and offers the ways out', async ({ page, standwell }) => {
  await start(page, standwell.address)
  await toFile(page)
  await page.getByRole('button', { name: 'Back up now' }).click()
  await expect(page.getByRole('region', { name: 'Backups' }).getByRole('row')).toHaveCount(2)
  await page.getByRole('button', { name: 'Close the farm' }).click()
  const path = join(standwell.home, 'Creek.farm')
  await expect(page.getByRole('button', { name: 'Creek', exact: true })).toBeVisible()
  const bytes = readFileSync(path)
  bytes[5000] = (bytes[5000] ?? 0) ^ 4
  writeFileSync(path, bytes)
  await page.getByRole('button', { name: 'Creek', exact: true }).click()
  await expect(page.getByRole('alert')).toContainText('not as Standwell closed it')
  await isClean(page, 'a farm that is spoilt')
  const backups = page.getByRole('region', { name: 'Backups' })
  await backups.getByRole('button', { name: /^Go back to it/ }).click()
  await backups.getByRole('button', { name: 'Go back', exact: true }).click()
  await expect(page.getByRole('heading', { level: 1, name: 'Plan' })).toBeVisible()
  await toFile(page)
  await expect(page.getByRole('region', { name: 'Backups' }).getByText('Before going back to another')).toBeVisible()
})

test('the demo farm after its harvest: two seasons, one to read', async ({ page, standwell }) => {
  await page.goto(standwell.address)
  await page.getByRole('button', { name: 'Open it after its harvest' }).click()
  await expect(page.getByText('This season is over: it is read, not changed')).toBeVisible()
  await expect(page.getByRole('combobox', { name: 'Season' }).locator('option')).toHaveCount(2)
})
