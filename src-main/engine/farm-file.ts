/**
 * A farm is one file. Creating, opening and copying it; who has it open; the checks on opening.
 */
import { Kysely, SqliteDialect } from 'kysely'
import { existsSync, linkSync, realpathSync, renameSync, rmSync } from 'node:fs'
import { basename, dirname } from 'node:path'
import { fail, ok, ProblemError, type Problem, type Result } from '../../src-shared/problem.ts'
import type { Season } from '../../src-shared/season.ts'
import { freeBackupPath } from './backup-path.ts'
import { createDatabase, damaged, fileProblem, findDamage, inUse, openDatabase, type Connection } from './db/connect.ts'
import { guardClosedSeasons } from './db/closed-seasons.ts'
import { copyDatabase, flush, flushFolder } from './db/copy.ts'
import { migrate } from './db/migrate.ts'
import { hasOwnSchema } from './db/schema.ts'
import { breakSeal, sealState } from './db/seal.ts'
import { keepStatements } from './db/statements.ts'
import type { Tables } from './db/tables.ts'
import { recordChanges } from './db/undo.ts'
import { storeSeason } from './season-store.ts'

export interface OpenFarm {
  readonly path: string
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
  close(): void
}

/** Files open in this process: SQLite's locks tell other processes apart, not two openings in one. */
const openPaths = new Set<string>()

/**
 * Makes a new file from a season and opens it. Never replaces a file: it is built under another name and moved
 * when it is whole, so a crash leaves either no farm or a whole one.
 */
export function createFarm(path: string, season: Season, isDemo = false): Result<OpenFarm> {
  if (existsSync(path)) return fail(isThere(path))
  if (!existsSync(dirname(path))) return fail(hasNoFolder(path))
  const building = `${path}.part`
  try {
    removeFarmFiles(building)
    const connection = createDatabase(building)
    try {
      migrate(connection, () => undefined)
      storeSeason(connection, season, isDemo)
    } finally {
      connection.close()
    }
    flush(building)
    if (!moveWithoutReplacing(building, path)) return fail(isThere(path))
    flushFolder(dirname(path))
  } catch (error) {
    if (error instanceof ProblemError) return fail(...error.problems)
    return fail(refusedByTable(path, error) ?? fileProblem(path, error))
  } finally {
    clear(building)
  }
  return openFarm(path)
}

/**
 * Opens a file after all checks; an older one is brought up to date, with a copy put beside it first.
 * @param asItIs although its seal is broken: its checks must hold all the same
 */
export function openFarm(path: string, asItIs = false): Result<OpenFarm> {
  const real = existsSync(path) ? realpathSync(path) : path
  if (openPaths.has(real)) return fail(inUse(path))
  try {
    if (!asItIs && sealState(real) === 'broken') return fail(sealBroken(path))
  } catch (error) {
    return fail(fileProblem(path, error))
  }
  const opened = openDatabase(real)
  if (!opened.ok) return opened
  const connection = opened.value
  try {
    breakSeal(real)
    const damage = findDamage(connection, path)
    if (damage.length === 0 && !hasOwnSchema(connection))
      damage.push(damaged(path, ['its tables are not those that Standwell makes']))
    if (damage.length > 0) {
      connection.close()
      return fail(...damage)
    }
    migrate(connection, () => copyDatabase(connection, freeBackupPath(real, new Date(), 'before a newer version')))
    recordChanges(connection)
    guardClosedSeasons(connection)
    const seasonId = connection.prepare(`SELECT id FROM season WHERE state = 'open'`).pluck().get() as
      number | undefined
    if (seasonId === undefined) {
      connection.close()
      return fail(damaged(path, ['it has no open season']))
    }
    const isDemo = connection.prepare('SELECT isDemo FROM farm').pluck().get() === 1
    openPaths.add(real)
    return ok(asOpen(real, connection, seasonId, isDemo))
  } catch (error) {
    connection.close()
    return fail(fileProblem(path, error))
  }
}

function asOpen(path: string, connection: Connection, seasonId: number, isDemo: boolean): OpenFarm {
  return {
    path,
    connection,
    seasonId,
    isDemo,
    isReadOnly: false,
    copyOf: null,
    db: new Kysely<Tables>({ dialect: new SqliteDialect({ database: keepStatements(connection) }) }),
    close() {
      if (!openPaths.delete(path)) return
      connection.close()
    },
  }
}

/** The same open file with another of its seasons at hand. Work that was begun on the one before sees that it is another. */
export function atSeason(farm: OpenFarm, seasonId: number): OpenFarm {
  const state = farm.connection.prepare('SELECT state FROM season WHERE id = ?').pluck().get(seasonId)
  return { ...farm, seasonId, isReadOnly: state !== 'open' || farm.copyOf !== null }
}

/** Saves a copy under a new name; the open file stays the open one. */
export function copyFarm(farm: OpenFarm, target: string): Result<{ hash: string }> {
  if (existsSync(target)) return fail(isThere(target))
  if (!existsSync(dirname(target))) return fail(hasNoFolder(target))
  return ok({ hash: copyDatabase(farm.connection, target) })
}

/** Removes a closed farm's file and what SQLite left beside it after a crash. */
export function removeFarmFiles(path: string): void {
  for (const ending of ['', '-journal', '-wal', '-shm', '.sha256']) rmSync(`${path}${ending}`, { force: true })
}

/** What is left half-built is in nobody's way, and is built anew the next time. */
function clear(building: string): void {
  try {
    removeFarmFiles(building)
  } catch {
    // The disk that refused to build refuses to clear up.
  }
}

/** A link refuses to replace; where the disk has no links, look first. */
function moveWithoutReplacing(from: string, to: string): boolean {
  try {
    linkSync(from, to)
    return true
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST' || existsSync(to)) return false
    renameSync(from, to)
    return true
  }
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

function isThere(path: string): Problem {
  return {
    code: 'repeated-name',
    what: `There is a file “${basename(path)}” already.`,
    where: { file: basename(path) },
    remedy: 'Choose another name; a file is never replaced.',
  }
}
