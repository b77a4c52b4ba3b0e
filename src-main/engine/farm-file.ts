/**
 * A farm is one file. Creating, opening and copying it; who has it open; the checks on opening.
 */
import { Kysely, SqliteDialect } from 'kysely'
import { existsSync, realpathSync } from 'node:fs'
import { basename, dirname } from 'node:path'
import { fail, ok, ProblemError, type Problem, type Result } from '../../src-shared/problem.ts'
import type { Season } from '../../src-shared/season.ts'
import { freeBackupPath } from './backup-path.ts'
import { createDatabase, findDamage, openDatabase, refusalOf, type Connection } from './db/connect.ts'
import { damaged, fileProblem, inUse } from './db/disk-problem.ts'
import { guardClosedSeasons } from './db/closed-seasons.ts'
import { copyDatabase, flush, flushFolder, makePrivate } from './db/copy.ts'
import { migrate } from './db/migrate.ts'
import { hasOwnSchema } from './db/schema.ts'
import { breakSeal } from './db/seal.ts'
import { keepStatements } from './db/statements.ts'
import type { Tables } from './db/tables.ts'
import { recordChanges } from './db/undo.ts'
import {
  clearBuilding,
  clearName,
  isFreeName,
  isThere,
  moveWithoutReplacing,
  nameTaken,
  removeFarmFiles,
} from './keeper/beside.ts'
import { identityOf, isOpenHere, noteOpen } from './keeper/identity.ts'
import { sortJournals } from './keeper/journals.ts'
import { openToLook } from './keeper/look.ts'
import { beginWatch } from './keeper/watch.ts'
import { storeSeason } from './season-store.ts'

export interface OpenFarm {
  readonly path: string
  /** Device and inode of the file when it was opened: its name may come to mean another. */
  readonly identity: string | null
  readonly db: Kysely<Tables>
  /** The same database, for what Kysely does not do: transactions around calls, undo, copies. */
  readonly connection: Connection
  /** The season at hand: the one that is written in, or an earlier one that is read. */
  readonly seasonId: number
  /** Invented, and made anew each time: no copies of it are kept. */
  readonly isDemo: boolean
  /** Nothing is changed: the season at hand is closed, or all of it is a copy. */
  readonly isReadOnly: boolean
  /** Set where it is a copy of a farm that is open elsewhere, to look at: when it was as it is here, ISO time. */
  readonly copyOf: string | null
  /** Why its disk lets it be read only: full, or not to be written on. Null where it takes what is entered. */
  readonly refusal: Problem | null
  close(): void
}

/**
 * Makes a new file from a season and opens it. Never replaces a file: it is built under another name and moved
 * when it is whole, so a crash leaves either no farm or a whole one.
 */
export function createFarm(path: string, season: Season, isDemo = false): Result<OpenFarm> {
  if (!isFreeName(path)) return fail(nameTaken(path))
  if (!existsSync(dirname(path))) return fail(hasNoFolder(path))
  const building = `${path}.part`
  let made: string | null
  try {
    removeFarmFiles(building)
    clearName(path)
    makePrivate(building)
    const connection = createDatabase(building)
    try {
      migrate(connection, () => undefined)
      storeSeason(connection, season, isDemo)
    } finally {
      connection.close()
    }
    flush(building)
    if (!moveWithoutReplacing(building, path)) return fail(nameTaken(path))
    made = identityOf(path)
    flushFolder(dirname(path))
  } catch (error) {
    if (error instanceof ProblemError) return fail(...error.problems)
    return fail(refusedByTable(path, error) ?? fileProblem(path, error))
  } finally {
    clearBuilding(building)
  }
  const opened = openFarm(path)
  if (!opened.ok || opened.value.refusal === null) return opened
  // There is room for the file and none for anything in it: no farm to begin with.
  opened.value.close()
  if (identityOf(path) === made) clearBuilding(path)
  return fail(opened.value.refusal)
}

/**
 * Opens a file after all checks; an older one is brought up to date, with a copy put beside it first. Where its disk is full
 * or takes no writing, it is opened to be looked at.
 * @param asItIs although its seal is broken: its checks must hold all the same
 */
export function openFarm(path: string, asItIs = false): Result<OpenFarm> {
  const opened = openToWrite(path, asItIs)
  if (opened.ok || !opened.problems.some(({ code }) => code === 'bad-file') || !isThere(path)) return opened
  return openToLook(path, opened.problems, (copy) => openToWrite(copy, asItIs))
}

function openToWrite(path: string, asItIs: boolean): Result<OpenFarm> {
  let connection: Connection | undefined
  try {
    const real = existsSync(path) ? realpathSync(path) : path
    if (isOpenHere(real)) return fail(inUse(path))
    const seal = sortJournals(real, path)
    if (!asItIs && seal === 'broken') return fail(sealBroken(path))
    const opened = openDatabase(real)
    if (!opened.ok) return opened
    connection = opened.value
    const refusal = refusalOf(connection)
    if (refusal === null) breakSeal(real)
    const damage = findDamage(connection, path)
    if (damage.length === 0 && !hasOwnSchema(connection))
      damage.push(damaged(path, ['its tables are not those that Standwell makes']))
    if (damage.length > 0) {
      connection.close()
      return fail(...damage)
    }
    const before = connection
    migrate(connection, () => copyDatabase(before, freeBackupPath(real, new Date(), 'before a newer version')))
    recordChanges(connection)
    guardClosedSeasons(connection)
    if (refusal !== null) connection.pragma('query_only = ON')
    const seasonId = connection.prepare(`SELECT id FROM season WHERE state = 'open'`).pluck().get() as
      number | undefined
    if (seasonId === undefined) {
      connection.close()
      return fail(damaged(path, ['it has no open season']))
    }
    const isDemo = connection.prepare('SELECT isDemo FROM farm').pluck().get() === 1
    return ok(asOpen(real, connection, seasonId, isDemo, refusal))
  } catch (error) {
    connection?.close()
    return fail(fileProblem(path, error))
  }
}

function asOpen(
  path: string,
  connection: Connection,
  seasonId: number,
  isDemo: boolean,
  refusal: Problem | null,
): OpenFarm {
  const identity = identityOf(path)
  beginWatch(connection, path)
  let isOpen = true
  // After all that a disk may refuse: noted as open and then refused, the farm could not be opened until the next start.
  const forget = noteOpen(path)
  return {
    path,
    identity,
    connection,
    seasonId,
    isDemo,
    isReadOnly: refusal !== null,
    copyOf: null,
    refusal,
    db: new Kysely<Tables>({ dialect: new SqliteDialect({ database: keepStatements(connection) }) }),
    close() {
      if (!isOpen) return
      isOpen = false
      forget()
      connection.close()
    },
  }
}

/** The same open file with another of its seasons at hand. Work that was begun on the one before sees that it is another. */
export function atSeason(farm: OpenFarm, seasonId: number): OpenFarm {
  const state = farm.connection.prepare('SELECT state FROM season WHERE id = ?').pluck().get(seasonId)
  return { ...farm, seasonId, isReadOnly: state !== 'open' || farm.copyOf !== null || farm.refusal !== null }
}

/** Saves a copy under a new name; the open file stays the open one. */
export function copyFarm(farm: OpenFarm, target: string): Result<{ hash: string }> {
  if (isThere(target)) return fail(nameTaken(target))
  if (!existsSync(dirname(target))) return fail(hasNoFolder(target))
  return ok({ hash: copyDatabase(farm.connection, target) })
}

/** A value that passed the schemas and not the tables, as a name with a NUL in it. */
function refusedByTable(path: string, error: unknown): Problem | null {
  if (!/^SQLITE_CONSTRAINT/.test(String((error as { code?: unknown } | null)?.code))) return null
  return {
    code: 'bad-value',
    what: `The season holds a value that its table refuses (${error instanceof Error ? error.message : ''}).`,
    where: { file: basename(path) },
    remedy: 'Correct that value and try again; no file was made.',
  }
}

function sealBroken(path: string): Problem {
  return {
    code: 'damaged',
    what: `“${basename(path)}” is not as Standwell closed it: something else has changed or damaged it since.`,
    where: { file: basename(path) },
    remedy: 'Go back to a backup, or open it as it is if you changed it yourself.',
  }
}

function hasNoFolder(path: string): Problem {
  return {
    code: 'bad-file',
    what: `The folder for “${basename(path)}” is not there.`,
    where: { file: basename(path) },
    remedy: 'Choose a folder that exists; a stick or network drive may have been taken away.',
  }
}
