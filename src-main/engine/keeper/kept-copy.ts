/**
 * The open farm's file was moved, replaced or changed by another program: all that is in hand is kept as a farm of its own
 * beside it, what the other program put there is left as it is, and the person is told where both are.
 */
import { copyFileSync, realpathSync, renameSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, dirname, join } from 'node:path'
import { tableNames } from '../../../src-shared/api-call.ts'
import { ProblemError, type Problem } from '../../../src-shared/problem.ts'
import { farmEnding } from '../backup-path.ts'
import { diskProblem } from '../db/disk-problem.ts'
import { copyDatabase, flush, flushFolder } from '../db/copy.ts'
import type { Engine } from '../engine.ts'
import type { OpenFarm } from '../farm-file.ts'
import { fitting } from '../farm-name.ts'
import { rememberFarm } from '../recent.ts'
import { isFreeName, isThere, putAside } from './beside.ts'
import { identityOf } from './identity.ts'
import { isInPlace, isSameFile, requireMark, settle } from './watch.ts'

/** Work on the open farm between two looks at its file. Throws a problem where that is no longer the one that was opened. */
export async function inPlace<Value>(engine: Engine, work: () => Value | Promise<Value>): Promise<Value> {
  if (engine.farm && !isInPlace(engine.farm.connection)) keepInHand(engine, engine.farm)
  if (engine.farm) requireMark(engine.farm.connection)
  try {
    return await work()
  } finally {
    if (engine.farm && !isSameFile(engine.farm.connection)) keepInHand(engine, engine.farm)
    if (engine.farm) settle(engine.farm.connection)
  }
}

/** Keeps it and lets go of the file. Where no disk takes it the farm stays in hand, and is asked for again. Always throws. */
function keepInHand(engine: Engine, farm: OpenFarm): never {
  const kept = keepCopy(engine, farm)
  if (typeof kept !== 'string') throw new ProblemError([notKept(farm, kept)])
  engine.farm = null
  rememberFarm(engine.home, kept)
  const problem = movedAway(farm.path, kept)
  engine.taken = [...engine.taken, { fileName: basename(farm.path), problem }]
  engine.say({ kind: 'changed', tables: tableNames })
  throw new ProblemError([problem])
}

/** @returns its path, or why there is none. The farm is closed where there is one. */
export function keepCopy(engine: Pick<Engine, 'home'>, farm: OpenFarm): string | Problem {
  let refusal: Problem | null = null
  // The folder may be gone with the file.
  for (const folder of [dirname(farm.path), engine.home, tmpdir()]) {
    const kept = freeName(folder, farm.path)
    try {
      copyDatabase(farm.connection, kept)
      closeWithoutWriting(farm)
      return kept
    } catch (error) {
      refusal ??= diskProblem(kept, error)
      if (refusal === null) throw error
    }
  }
  return refusal as Problem
}

function freeName(folder: string, path: string): string {
  const now = new Date().toISOString().slice(0, 19).replace('T', ' ').replaceAll(':', '.')
  const stem = fitting(basename(path, farmEnding))
  for (let n = 1; ; n += 1) {
    const candidate = join(folder, `${stem}, kept ${now}${n === 1 ? '' : ` ${n}`}${farmEnding}`)
    if (isFreeName(candidate)) return candidate
  }
}

/**
 * Closing would write the journal into whatever bears the name now, and remove what lies beside it. SQLite does neither to a
 * file that was moved from under it: so one that was overwritten in place is put there anew, byte for byte.
 */
function closeWithoutWriting(farm: OpenFarm): void {
  const { path } = farm
  try {
    if (identityOf(path) === farm.identity) putAnew(realpathSync(path))
  } catch {
    // Closing writes the journal into it: it holds all that was entered then, as the kept copy does.
  }
  for (const ending of ['-wal', '-journal'] as const) {
    try {
      if (isThere(path + ending)) putAside(path, ending, 'journal of before')
    } catch {
      // The copy has what is in it; the next opening knows by its mark that it is not the file's.
    }
  }
  farm.close()
}

/** @param path of the file itself: a link that leads to it stays */
function putAnew(path: string): void {
  const building = `${path}.part`
  try {
    copyFileSync(path, building)
    flush(building)
    renameSync(building, path)
    flushFolder(dirname(path))
  } catch (error) {
    rmSync(building, { force: true })
    throw error
  }
}

function movedAway(path: string, kept: string): Problem {
  const [name, copy] = [basename(path), basename(kept)]
  return {
    code: 'moved-away',
    what: `Another program moved, replaced or changed “${name}” while it was open. All you entered is kept in “${copy}”.`,
    where: { file: copy },
    remedy: `Open “${copy}” and work on. It is in ${dirname(kept) === dirname(path) ? 'the same folder' : dirname(kept)}. Type the last change again.`,
  }
}

function notKept(farm: OpenFarm, refusal: Problem): Problem {
  return {
    code: 'moved-away',
    what: `Another program moved, replaced or changed “${basename(farm.path)}”, and no copy could be kept: ${refusal.what}`,
    where: { file: basename(farm.path) },
    remedy: 'Leave Standwell open, make room on the disk, and try again. Nothing you enter is saved until then.',
  }
}
