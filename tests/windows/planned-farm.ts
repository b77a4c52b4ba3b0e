/**
 * The demo farm with its plan, as a file: solved once by each worker and copied for each test that begins there. That it is solved from
 * its button is seen in `first-plan.spec.ts` and `access.spec.ts`.
 */
import { expect, type Page } from '@playwright/test'
import { copyFileSync, mkdtempSync, readdirSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { startStandwell, type Standwell } from './fixtures.ts'
import { callsOf } from './season-in.ts'

let made: Promise<{ home: string; fileName: string }> | undefined

async function make(): Promise<{ home: string; fileName: string }> {
  const home = mkdtempSync(join(tmpdir(), 'standwell-planned-'))
  process.once('exit', () => rmSync(home, { recursive: true, force: true }))
  const standwell = await startStandwell(home)
  const must = callsOf(standwell)
  await must('farm.openDemo', { today: '2027-01-20' })
  await must('plan.solve', { seconds: 120, today: '2027-01-20' })
  await must('farm.close', {})
  await standwell.stop()
  const [fileName] = readdirSync(home).filter((name) => name.endsWith('.farm'))
  if (fileName === undefined) throw new Error('The demo farm left no file.')
  return { home, fileName }
}

/** Opens a copy of the planned demo farm in the engine, without a page. */
export async function openPlannedFarm(standwell: Standwell): Promise<void> {
  const { home, fileName } = await (made ??= make())
  copyFileSync(join(home, fileName), join(standwell.home, fileName))
  await callsOf(standwell)('farm.open', { fileName })
}

/** The plan page of a copy of the planned demo farm. */
export async function openPlanned(page: Page, standwell: Standwell): Promise<void> {
  await openPlannedFarm(standwell)
  await page.goto(standwell.address)
  await page.evaluate(() => void (location.hash = 'plan'))
  await expect(page.getByRole('heading', { name: 'What to order' })).toBeVisible()
}
