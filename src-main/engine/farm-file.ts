/**
 * A farm is one file. Creating, opening, copying and backing it up; who has it open; the checks on opening.
 */
import { Kysely, SqliteDialect } from 'kysely'
import { existsSync, linkSync, realpathSync, renameSync, rmSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { fail, ok, ProblemError, type Problem, type Result } from '../../src-shared/problem.ts'
import type { Season } from '../../src-shared/season.ts'
import { createDatabase, damaged, fileProblem, findDamage, inUse, openDatabase, type Connection } from './db/connect.ts'
import { guardClosedSeasons } from './db/closed-seasons.ts'
import { copyDatabase, flush, flushFolder } from './db/copy.ts'
import { migrate } from './db/migrate.ts'
import { hasOwnSchema } from './db/schema.ts'
import type { Tables } from './db/tables.ts'
import { recordChanges } from './db/undo.ts'
import { storeSeason } from './season-store.ts'

/** How a farm's file name ends. */
export const farmEnding = '.farm'

export interface OpenFarm {
  readonly path: string
  readonly db: Kysely<Tables>
  /** The same database, for what Kysely does not do: transactions around calls, undo, copies. */
  readonly connection: Connection
  /** The season at hand: the one that is written in, or an earlier one that is read. */
  readonly seasonId: number
  /** The season at hand is closed: nothing of it is changed. */
  readonly isReadOnly: boolean
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
  removeFarmFiles(building)
  try {
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
    removeFarmFiles(building)
  }
  return openFarm(path)
}

/** Opens a file after all checks; an older one is brought up to date, with a copy put beside it first. */
export function openFarm(path: string): Result<OpenFarm> {
  const real = existsSync(path) ? realpathSync(path) : path
  if (openPaths.has(real)) return fail(inUse(path))
  const opened = openDatabase(real)
  if (!opened.ok) return opened
  const connection = opened.value
  try {
    const damage = findDamage(connection, path)
    if (damage.length === 0 && !hasOwnSchema(connection))
      damage.push(damaged(path, ['its tables are not those that Standwell makes']))
    if (damage.length > 0) {
      connection.close()
      return fail(...damage)
    }
    migrate(connection, (version) => copyDatabase(connection, backupPath(real, new Date(), ` version ${version}`)))
    recordChanges(connection)
    guardClosedSeasons(connection)
    const seasonId = connection.prepare(`SELECT id FROM season WHERE state = 'open'`).pluck().get() as
      number | undefined
    if (seasonId === undefined) {
      connection.close()
      return fail(damaged(path, ['it has no open season']))
    }
    openPaths.add(real)
    return ok(asOpen(real, connection, seasonId))
  } catch (error) {
    connection.close()
    return fail(fileProblem(path, error))
  }
}

function asOpen(path: string, connection: Connection, seasonId: number): OpenFarm {
  return {
    path,
    connection,
    seasonId,
    isReadOnly: false,
    db: new Kysely<Tables>({ dialect: new SqliteDialect({ database: connection }) }),
    close() {
      if (!openPaths.delete(path)) return
      connection.close()
    },
  }
}

/** The same open file with another of its seasons at hand. Work that was begun on the one before sees that it is another. */
export function atSeason(farm: OpenFarm, seasonId: number): OpenFarm {
  const state = farm.connection.prepare('SELECT state FROM season WHERE id = ?').pluck().get(seasonId)
  return { ...farm, seasonId, isReadOnly: state !== 'open' }
}

/** Saves a copy under a new name; the open file stays the open one. */
export function copyFarm(farm: OpenFarm, target: string): Result<{ hash: string }> {
  if (existsSync(target)) return fail(isThere(target))
  if (!existsSync(dirname(target))) return fail(hasNoFolder(target))
  return ok({ hash: copyDatabase(farm.connection, target) })
}

/** Puts a copy into the backups folder beside the file, with its hash. */
export function backupFarm(farm: OpenFarm, at = new Date()): { path: string; hash: string } {
  const path = backupPath(farm.path, at)
  return { path, hash: copyDatabase(farm.connection, path) }
}

/** "Farm backups/Farm 2027-01-05 14.30.05.farm": sorts by age, and is a name on every system. */
function backupPath(path: string, at: Date, why = ''): string {
  const name = basename(path, farmEnding)
  const time = at.toISOString().slice(0, 19).replace('T', ' ').replaceAll(':', '.')
  const folder = join(dirname(path), `${name} backups`)
  const base = join(folder, `${name} ${time}${why}`)
  for (let n = 1; ; n += 1) {
    const candidate = `${base}${n === 1 ? '' : ` ${n}`}${farmEnding}`
    if (!existsSync(candidate)) return candidate
  }
}

/** Removes a closed farm's file and what SQLite left beside it after a crash. */
export function removeFarmFiles(path: string): void {
  for (const ending of ['', '-journal', '-wal', '-shm']) rmSync(`${path}${ending}`, { force: true })
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
