/** From one season to the next in the window: what grew is said, the next begun, the old one read, and the way back. */
import { spawnSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from '@playwright/test'
import { expect, project, test, type Standwell } from './fixtures.ts'
import { openPlanned } from './planned-farm.ts'
import { calm, go, rail } from './stages.ts'
import { press, tabTo } from './winter-farm.ts'

test.setTimeout(120_000)

async function planned(page: Page, standwell: Standwell) {
  await page.clock.setFixedTime(new Date('2027-11-10T10:00:00'))
  await openPlanned(page, standwell)
  await go(page, 'next')
}

test('the next season by mouse; the old one read on every page, and gone back to', async ({ page, standwell }) => {
  const main = page.getByRole('main')
  await planned(page, standwell)
  await expect(main.getByRole('heading', { name: 'Begin season 2028 from 2027' })).toBeVisible()
  const sandy = page.getByLabel('What grew in Big Sandy')
  // Nothing was written down as planted: the plan is proposed, and asked about.
  await expect(sandy).toHaveValue('peanut')
  await sandy.fill('cotton')
  await page.getByLabel('What grew in Alder Forty').fill('')
  // Emptied by hand, and the field that rests: what grew there only the grower can say.
  await expect(main.getByText('2 fields stay unknown for 2027.')).toBeVisible()
  await calm(page, 'next season')
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Write season 2027 to a file' }).click(),
  ])
  expect(file.suggestedFilename()).toBe('Halfmoon Branch Farm 2027.season.json')
  expect(JSON.parse(readFileSync(await file.path(), 'utf8'))).toMatchObject({ season: 2027, happened: { loads: [] } })

  await page.getByRole('button', { name: 'Begin season 2028' }).click()
  await expect(page.getByRole('banner')).toContainText('2028')
  await expect(page.getByRole('row', { name: /^Big Sandy/ })).toContainText('’27 cotton; ’26')
  await expect(page.getByRole('row', { name: /^Camp House/ })).toContainText('’27 peanut; ’26')
  await expect(page.getByRole('row', { name: /^Alder Forty/ })).not.toContainText('’27')
  await expect(rail(page, /^Quotes/)).toContainText('none yet')
  await expect(rail(page, /^Plan(?!ting)/)).toContainText('no plan yet')
  await go(page, 'next')
  await expect(page.getByRole('region', { name: 'Seasons side by side' }).getByRole('row')).toHaveCount(3)

  await page.getByLabel('Season', { exact: true }).selectOption({ label: '2027, to read' })
  await expect(page.getByRole('banner')).toContainText('it is read, not changed')
  for (const stage of [
    'fields',
    'varieties',
    'quotes',
    'rules',
    'plan',
    'orders',
    'deliveries',
    'rates',
    'planting',
    'harvest',
    'review',
    'next',
  ]) {
    await go(page, stage)
    await expect(main.getByRole('heading', { level: 1 })).toBeVisible()
    await expect(main.getByRole('alert')).toHaveCount(0)
  }
  await go(page, 'fields')
  const acres = page
    .getByRole('row', { name: /^Big Sandy/ })
    .getByRole('gridcell')
    .first()
  await acres.click()
  await page.keyboard.type('1')
  await expect(page.getByRole('textbox', { name: /Planted/ })).toHaveCount(0)
  await expect(page.getByRole('button', { name: 'Import files' })).toHaveCount(0)
  await calm(page, 'fields, to read')
  await go(page, 'plan')
  await expect(page.getByRole('heading', { name: 'What to order' })).toBeVisible()
  await calm(page, 'plan, to read')
  await go(page, 'orders')
  await expect(page.getByRole('heading', { name: 'No orders yet' })).toBeVisible()
  await expect(page.getByRole('button', { name: 'Make the orders' })).toHaveCount(0)
  await page.getByRole('button', { name: 'Go to season 2028' }).click()
  await expect(page.getByRole('button', { name: /^Undo: begin season 2028/ })).toBeVisible()
})

/** What can be done in a season that is over: show, find, print, write to a file, work out what is kept nowhere. */
const reads =
  /^(Show only rows with|only what the farm has changed|.*source and effect of |CSV|XLSX|GeoJSON|Task data|Print|Draw the curve|Look at other years|Find a lot|Lot to fields|Field to lots|Recall sheet|Sheet for|.* on the tractor’s sheet$|Write season 2026 to a file|Close$)/

test('a season that is over has everything to read and nothing to change', async ({ page, standwell }) => {
  const parts = page.getByRole('navigation', { name: /^Parts of/ }).getByRole('button')
  await page.goto(standwell.address)
  await page.getByRole('button', { name: 'Open it after its harvest' }).click()
  await expect(page.getByRole('heading', { level: 1, name: 'Season review' })).toBeVisible({ timeout: 60_000 })
  await go(page, 'fields')
  const named = page.getByRole('grid', { name: 'Fields' }).getByRole('rowheader')
  await expect(named).toHaveCount(14)
  const fields = await named.allInnerTexts()
  /** Besides what reads, rows open: a field, a block of it, a lot. */
  const isRow = (name: string) => fields.some((field) => name.startsWith(field)) || /^[A-Z0-9]{2}-\d{4}$/.test(name)
  const controls = page.getByRole('main').locator(':is(button, input, select, textarea):enabled')
  const namesOf = () =>
    controls.evaluateAll((all) =>
      all
        .filter((each) => each.closest('nav') === null)
        .map((each) => each.ariaLabel ?? (each as HTMLInputElement).labels?.[0]?.textContent ?? each.textContent)
        .map((name) => name.replace(/\s+/g, ' ').trim()),
    )
  for (const [stage, title] of Object.entries({
    fields: 'Fields',
    varieties: 'Varieties',
    quotes: 'Quotes',
    rules: 'House rules',
    plan: 'Plan',
    orders: 'Orders',
    deliveries: 'Deliveries',
    rates: 'Rates and lots',
    planting: 'Planting',
    harvest: 'Harvest',
    next: 'Next season',
  })) {
    await go(page, stage)
    await expect(page.getByRole('heading', { level: 1, name: title, exact: true })).toBeVisible()
    // Each page has come whole once it has something to read.
    await expect.poll(namesOf).not.toEqual([])
    for (let at = 0; at < Math.max(1, await parts.count()); at += 1) {
      if ((await parts.count()) > 0) await parts.nth(at).click()
      expect((await namesOf()).filter((name) => !reads.test(name) && !isRow(name))).toEqual([])
    }
  }
  // What was entered is read in its place.
  await go(page, 'orders')
  await expect(page.getByLabel(/^Packs agreed, .*Linden/)).toHaveValue('150')
  await expect(page.getByLabel(/^Packs agreed, .*Linden/)).toBeDisabled()
  await calm(page, 'orders, to read')
  await go(page, 'deliveries')
  await page.getByRole('button', { name: 'BB-2306' }).click()
  await expect(page.getByLabel('Pounds of lot BB-2306 sent back')).toBeDisabled()
  await expect(page.getByRole('button', { name: 'Write the test down' })).toHaveCount(0)
  await calm(page, 'deliveries, to read')
  await go(page, 'planting')
  await page.getByRole('button', { name: 'Dog Leg' }).click()
  await expect(page.getByLabel('Operator')).toBeDisabled()
  await expect(page.getByRole('button', { name: 'Another lot' })).toHaveCount(0)
  await page.getByRole('button', { name: 'Close', exact: true }).click()
  await expect(page.getByLabel('Operator')).toHaveCount(0)
  // Lessons of it go into the season that is open.
  await go(page, 'review')
  await parts.filter({ hasText: 'Lessons' }).click()
  await expect(page.getByRole('button', { name: /^Take: / }).first()).toBeEnabled()
})

test('by keys alone, and taken back', async ({ page, standwell }) => {
  await planned(page, standwell)
  await tabTo(page, 'What grew in Big Sandy')
  await page.keyboard.press('Control+a')
  await page.keyboard.type('corn')
  await press(page, 'Begin season 2028')
  await expect(page.getByRole('row', { name: /^Big Sandy/ })).toContainText('’27 corn')
  await page.keyboard.press('Control+z')
  await expect(page.getByRole('banner')).toContainText('Season 2027')
  await expect(page.getByRole('row', { name: /^Big Sandy/ })).not.toContainText('’27 corn')
  await page.keyboard.press('Control+y')
  await expect(page.getByRole('row', { name: /^Big Sandy/ })).toContainText('’27 corn')
  await expect(page.getByLabel('Season', { exact: true })).toBeVisible()
})

test('the commands roll and archive, as they are built', async ({ page, standwell }) => {
  await planned(page, standwell)
  await page.getByRole('button', { name: 'Close the farm' }).click()
  await expect(page.getByRole('button', { name: 'Open the demo farm' })).toBeVisible()
  const { NO_COLOR: _no, FORCE_COLOR: _force, ...env } = process.env
  const run = (...args: string[]) =>
    spawnSync(process.execPath, [join(project, 'out/main/cli.js'), ...args], { encoding: 'utf8', env })
  const farm = join(standwell.home, 'Demo farm.farm')
  const [archive, next] = [join(standwell.home, 'a.season.json'), join(standwell.home, 'b.season.json')]
  expect(run('archive', farm, '--out', archive)).toMatchObject({ status: 0, stdout: '', stderr: '' })
  // An archive is a season file: what follows reads it.
  const rolled = run('roll', archive, '--grew', 'Big Sandy=cotton')
  expect([rolled.status, rolled.stderr]).toEqual([0, expect.stringMatching(/^2028: 1 field rests, .*: Pond Field\./)])
  expect(run('roll', archive, '--grew', 'Big Sandy=cotton', '--out', next)).toMatchObject({ status: 0, stdout: '' })
  expect(readFileSync(next, 'utf8')).toBe(rolled.stdout)
  expect(JSON.parse(rolled.stdout)).toMatchObject({ season: 2028, quotes: [] })
  expect(run('roll', archive, '--grew', 'Nowhere=corn')).toMatchObject({ status: 2, stdout: '' })
  expect(run('roll', farm, '--out', join(next, 'x')).stderr).toContain('could not be written')
})
