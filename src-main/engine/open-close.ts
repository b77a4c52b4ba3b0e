/** Which farm the engine has open: the demo, a new one, none. Remembered for the next start. */
import { existsSync, realpathSync } from 'node:fs'
import { demoSeason } from '../demo/demo-season.ts'
import { demoYear } from '../demo/demo-year.ts'
import { seasonOn } from '../demo/season-on.ts'
import { harvestedYear } from '../../src-shared/crop-year.ts'
import type { FarmFile } from '../../src-shared/farm.ts'
import { ProblemError, valueOf } from '../../src-shared/problem.ts'
import type { Season } from '../../src-shared/season.ts'
import { openDatabase } from './db/connect.ts'
import { isChangedDemo, noteAsMade } from './db/demo-changes.ts'
import { sealFile, sealState } from './db/seal.ts'
import { writeDemoYear } from './demo-record.ts'
import { farmOf, type Engine } from './engine.ts'
import { createFarm, openFarm, type OpenFarm } from './farm-file.ts'
import { freePath } from './farm-name.ts'
import { keptFarms } from './kept-farms.ts'
import { isFreeName, removeFarmFiles } from './keeper/beside.ts'
import { letGo } from './keeper/closing.ts'
import { identityOf, isOpenHere } from './keeper/identity.ts'
import { stopSolving } from './planning.ts'
import { rememberedFarms, rememberFarm } from './recent.ts'
import { rollNow } from './rolling.ts'
import { startSeason } from './start-season.ts'

/** A fresh demo farm in place of an older demo; never in place of a demo that was changed, or of a farm with its name. */
export function openDemoFarm(engine: Engine, today?: string): OpenFarm {
  const written = demoSeason()
  return freshDemo(engine, today === undefined ? written : seasonOn(written, today))
}

/** The demo farm after its last harvest: a whole year written down, and the next season begun from it. */
export async function openDemoYear(engine: Engine, today: string): Promise<OpenFarm> {
  const year = demoYear(harvestedYear(today))
  const farm = freshDemo(engine, year.season)
  await writeDemoYear(farm, year)
  await rollNow(engine, [])
  noteAsMade(farm.connection)
  return farmOf(engine)
}

function freshDemo(engine: Engine, season: Season): OpenFarm {
  const path = freePath(engine.home, 'Demo farm', (candidate) => {
    if (isFreeName(candidate)) return true
    if (engine.farm?.path === candidate) return engine.farm.isDemo && !isChangedDemo(engine.farm.connection)
    if (!existsSync(candidate)) return false
    return isOldDemo(candidate)
  })
  stopSolving(engine)
  if (engine.farm?.path === path) closeFarm(engine)
  removeFarmFiles(path)
  return replaceOpen(engine, path, season, true)
}

/** A new farm file named after the farm. */
export function startFarm(engine: Engine, name: string, year: number): OpenFarm {
  return replaceOpen(engine, freePath(engine.home, name, isFreeName), startSeason(name, year), false)
}

/** A farm that was closed before, as it was left; or, where something else has changed it since, as it is. */
export function openKeptFarm(engine: Engine, fileName: string, asItIs = false): OpenFarm {
  const path = keptPath(engine, fileName)
  if (isAtHand(engine, path)) return engine.farm as OpenFarm
  return take(engine, valueOf(openFarm(path, asItIs)))
}

/** A farm's file where a person put it; the one that is open already stays so. */
export function openFarmAt(engine: Engine, path: string): OpenFarm {
  if (isAtHand(engine, path)) return engine.farm as OpenFarm
  return take(engine, valueOf(openFarm(path)))
}

/** The open farm itself, by its own name; another name of the same file is refused as in use. */
function isAtHand({ farm }: Engine, path: string): boolean {
  return farm !== null && existsSync(path) && farm.path === realpathSync(path) && identityOf(path) === farm.identity
}

const listed = (engine: Engine) => keptFarms(engine.home, rememberedFarms(engine.home))

/** What the first page lists. */
export function listFarms(engine: Engine): FarmFile[] {
  return listed(engine).map(({ path: _, ...file }) => file)
}

/** Path of a farm that is listed. Only of those: a name is never taken for a path. */
export function keptPath(engine: Engine, fileName: string): string {
  const found = listed(engine).find((farm) => farm.fileName === fileName)
  if (found) return found.path
  const what = `There is no farm “${fileName}” here.`
  const remedy = 'It may have been moved or renamed: put it back, or open another.'
  throw new ProblemError([{ code: 'bad-file', what, where: { file: fileName }, remedy }])
}

/** With its last backup; the next start opens none. */
export function closeFarm(engine: Engine): void {
  stopSolving(engine)
  letGo(engine)
  rememberFarm(engine.home, null)
}

/** The farm in hand is closed only when the other is whole and open. */
function replaceOpen(engine: Engine, path: string, season: Season, demo: boolean): OpenFarm {
  return take(engine, valueOf(createFarm(path, season, demo)))
}

/** What has just been opened becomes the open farm. */
export function take(engine: Engine, opened: OpenFarm): OpenFarm {
  try {
    closeFarm(engine)
  } catch (error) {
    opened.close()
    throw error
  }
  engine.farm = opened
  rememberFarm(engine.home, opened.path)
  return opened
}

/** A demo that nobody has open or has changed. One that is open elsewhere, or is something else, keeps its name. */
function isOldDemo(path: string): boolean {
  // Another name of the open farm: to read it would drop the lock on that.
  if (isOpenHere(path)) return false
  const isSealed = sealState(path) === 'whole'
  const opened = openDatabase(path)
  if (!opened.ok) return false
  try {
    const isDemo = opened.value.prepare('SELECT isDemo FROM farm').pluck().get() === 1
    return isDemo && !isChangedDemo(opened.value)
  } catch {
    return false
  } finally {
    opened.value.close()
    // Looking at it wrote its header: without a new seal it would be called damaged.
    if (isSealed) sealFile(path)
  }
}
