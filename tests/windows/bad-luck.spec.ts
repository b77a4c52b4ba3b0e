/** The farm's file under bad luck, as a person sees it: deleted, moved away while it is open, a backup that fails. */
import { mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from '@playwright/test'
import { isClean } from './axe.ts'
import { expect, test } from './fixtures.ts'

test.setTimeout(120_000)

async function start(page: Page, address: string) {
  await page.goto(address)
  await page.getByLabel('Name of the farm').fill('Creek')
  await page.getByRole('button', { name: 'Start my farm' }).click()
  await expect(page.getByRole('heading', { level: 1, name: 'Fields' })).toBeVisible()
}

const toFile = (page: Page) => page.getByRole('button', { name: 'Farm file' }).click()
const backUp = (page: Page) => page.getByRole('button', { name: 'Back up now' }).click()
const backups = (page: Page) => page.getByRole('region', { name: 'Backups' })

test('a deleted farm is on the first page with its backups, and comes back from one', async ({ page, standwell }) => {
  await start(page, standwell.address)
  await toFile(page)
  await backUp(page)
  await expect(backups(page).getByRole('row')).toHaveCount(2)
  await page.getByRole('button', { name: 'Close the farm' }).click()
  await expect(page.getByRole('button', { name: 'Creek', exact: true })).toBeVisible()
  rmSync(join(standwell.home, 'Creek.farm'))
  await page.reload()
  await expect(page.getByText('backups only')).toBeVisible()
  await page.getByRole('button', { name: 'Creek', exact: true }).click()
  await expect(page.getByText('Restore a backup to work on from it.')).toBeVisible()
  await isClean(page, 'the backups of a farm that is gone')
  await backups(page)
    .getByRole('button', { name: /^Go back to it/ })
    .click()
  await backups(page).getByRole('button', { name: 'Go back', exact: true }).click()
  await expect(page.getByRole('heading', { level: 1, name: 'Plan' })).toBeVisible()
})

test('the open farm renamed by another program: told, with the copy that has all of it', async ({
  page,
  standwell,
}) => {
  await start(page, standwell.address)
  await toFile(page)
  renameSync(join(standwell.home, 'Creek.farm'), join(standwell.home, 'Elsewhere.farm'))
  await backUp(page)
  // The farm is closed: the first page has what was put in safety.
  await expect(page.getByText('All you entered is kept in “Creek, kept')).toBeVisible()
  await isClean(page, 'a farm that another program took away')
  const kept = page.getByRole('button', { name: /^Creek, kept / })
  await expect(kept).toBeVisible()
  await kept.click()
  await expect(page.getByRole('heading', { level: 1, name: 'Plan' })).toBeVisible()
})

test('a farm taken away is told once, also when the news of it is lost, until it was read', async ({
  page,
  standwell,
}) => {
  await start(page, standwell.address)
  await toFile(page)
  renameSync(join(standwell.home, 'Creek.farm'), join(standwell.home, 'Elsewhere.farm'))
  // On a slow machine the page that asked stands a moment longer, with the engine's refusal on it.
  await page.route('**/call/farm.current', async (route) => {
    await new Promise((resolve) => setTimeout(resolve, 1500))
    await route.continue()
  })
  await backUp(page)
  const told = page.getByText('All you entered is kept in “Creek, kept')
  await expect(told).toBeVisible()
  await expect(page.getByRole('heading', { level: 1, name: 'Standwell' })).toBeVisible()
  await expect(told).toBeVisible()
  await page.unroute('**/call/farm.current')
  await page.reload()
  await expect(told).toBeVisible()
  await page.getByRole('button', { name: 'Good to know' }).click()
  await expect(told).toHaveCount(0)
  const answered = page.waitForResponse('**/call/farm.taken')
  await page.reload()
  await (await answered).finished()
  await expect(page.getByRole('button', { name: /^Creek, kept / })).toBeVisible()
  await expect(told).toHaveCount(0)
})

test('a backup that fails is told on its page', async ({ page, standwell }) => {
  await start(page, standwell.address)
  await toFile(page)
  writeFileSync(join(standwell.home, 'Creek backups'), 'no folder')
  await backUp(page)
  await expect(page.getByRole('alert')).toContainText('cannot be read and written here')
  rmSync(join(standwell.home, 'Creek backups'))
  mkdirSync(join(standwell.home, 'Creek backups'))
  await backUp(page)
  await expect(backups(page).getByRole('row')).toHaveCount(2)
})
