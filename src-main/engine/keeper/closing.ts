/** How a farm's file is closed in order: what has changed is backed up, the file closed, and sealed with its hash. */
import { hasChanged, isKept, tryBackup } from '../backups.ts'
import { drawMark } from '../db/connect.ts'
import { diskProblem, fileProblem } from '../db/disk-problem.ts'
import { markOf } from '../db/mark.ts'
import { sealFile } from '../db/seal.ts'
import { tidy } from '../db/tidy.ts'
import type { Engine } from '../engine.ts'
import type { OpenFarm } from '../farm-file.ts'
import { ProblemError, type Problem } from '../../../src-shared/problem.ts'
import { hasJournal } from './beside.ts'
import { keepCopy } from './kept-copy.ts'
import { isInPlace, note } from './watch.ts'

/** The engine has no farm afterwards. A backup or seal that fails is noted, and never keeps a file open. */
export function letGo(engine: Engine): void {
  const { farm } = engine
  if (farm === null) return
  engine.farm = null
  if (farm.copyOf !== null || farm.refusal !== null || !farm.connection.open) return farm.close()
  // Another program put something else in its place: what is in hand is kept as a file of its own.
  if (isTakenAway(farm) && typeof keepCopy(engine, farm) === 'string') return
  const farmId = markOf(farm.connection)?.farmId
  try {
    const now = new Date()
    tidyUp(engine, farm, now)
    if (isKept(farm) && hasChanged(farm, now)) tryBackup(farm, 'on closing', now, engine.noteBug)
    endJournal(farm)
  } finally {
    farm.close()
  }
  try {
    sealFile(farm.path, farmId)
  } catch (error) {
    engine.noteBug('seal', error)
  }
}

/** A disk that does not even say is asked no more: what is in hand goes into the file that SQLite holds, which must be let go of. */
function isTakenAway(farm: OpenFarm): boolean {
  try {
    return !isInPlace(farm.connection)
  } catch {
    return false
  }
}

/** A disk that refuses keeps the file as it is, which is whole. */
function tidyUp(engine: Engine, farm: OpenFarm, now: Date): void {
  try {
    tidy(farm.connection, now)
  } catch (error) {
    if (diskProblem(farm.path, error) === null) engine.noteBug('tidy', error)
  }
}

/** A journal of before is not the file's any more, wherever it comes back from. */
function endJournal(farm: OpenFarm): void {
  try {
    drawMark(farm.connection)
  } catch {
    // A full disk: the journal stays beside the file, and is played into it at the next opening.
  }
}

/**
 * As `letGo`, for a file that is to be moved: all that was entered must be in the file itself. Throws what the disk says, and
 * then the farm is open as before, or closed where it no longer opens.
 */
export function letGoWhole(engine: Engine, reopen: () => void): void {
  const { farm } = engine
  if (farm === null) return
  try {
    if (farm.refusal === null) farm.connection.pragma('wal_checkpoint(TRUNCATE)')
  } catch (error) {
    throw new ProblemError([fileProblem(farm.path, error)])
  } finally {
    note(farm.connection)
  }
  letGo(engine)
  const refusal = whatStayed(farm.path)
  if (refusal === null) return
  reopen()
  throw new ProblemError([refusal])
}

/** Null where the file has no journal any more. */
function whatStayed(path: string): Problem | null {
  try {
    if (!hasJournal(path)) return null
    return fileProblem(path, Object.assign(new Error('the journal stayed'), { code: 'ENOSPC' }))
  } catch (error) {
    return fileProblem(path, error)
  }
}
