/**
 * Opens a farm file. The only import of better-sqlite3: every other file asks for the type. Each pragma stands
 * beside its reason, and what matters for safety is read back instead of trusted.
 */
import Database from 'better-sqlite3'
import { closeSync, existsSync, openSync, readFileSync, readSync, rmSync, statSync } from 'node:fs'
import { basename } from 'node:path'
import { latestVersion } from '../../../migrations/index.ts'
import { damaged, fileProblem } from './disk-problem.ts'
import { isSqlite } from './sqlite-header.ts'
import { fail, ok, ProblemError, type Problem, type Result } from '../../../src-shared/problem.ts'

export type Connection = Database.Database

/** "Stdw": says whose file it is, in the header where `file` and other programs look. */
export const applicationId = 0x53_74_64_77

/** The version from which on a file has a mark of its own. */
export const markedFrom = 70

/** Makes a database in a file that does not exist yet, or in memory. It has the stamp and no tables. */
export function createDatabase(path: string): Connection {
  const connection = new Database(path)
  connection.pragma(`application_id = ${applicationId}`)
  // A new file is built beside its final name and renamed when whole; the short journal suits that.
  connection.pragma('synchronous = FULL')
  setUp(connection)
  return connection
}

/** Opens a file that is ours, as its only user; nothing is written before it is known to be ours and not too new. */
export function openDatabase(path: string): Result<Connection> {
  const stamp = readStamp(path)
  if (!stamp.ok) return stamp
  let connection: Connection | undefined
  try {
    connection = new Database(path, { fileMustExist: true, timeout: 1000 })
    // One user at a time, held by the operating system, so that a killed program never leaves a lock behind.
    // Set before anything is read: it also spares WAL its shared memory file.
    connection.pragma('locking_mode = EXCLUSIVE')
    // The header on disk may be older than what waits in the WAL: ask again through SQLite.
    const version = connection.pragma('user_version', { simple: true }) as number
    if (version > latestVersion) {
      connection.close()
      return fail(fromTheFuture(path, version))
    }
    // WAL: a reader never waits, a commit is one append. Where it is refused (some network drives) the old way does.
    if (connection.pragma('journal_mode = WAL', { simple: true }) !== 'wal') connection.pragma('journal_mode = DELETE')
    // better-sqlite3 is built to fall to NORMAL once a WAL file is written, and an edit that was acknowledged could
    // vanish in a power cut. FULL costs a fifth of a millisecond a commit.
    connection.pragma('synchronous = FULL')
    // The file itself is written only by the keeper's own checkpoint: else it could not tell another program's writing.
    connection.pragma('wal_autocheckpoint = 0')
    firstWrite(connection, path, version)
    if (connection.pragma('synchronous', { simple: true }) !== 2) throw new Error('synchronous = FULL did not hold.')
    setUp(connection)
    return ok(connection)
  } catch (error) {
    connection?.close()
    return error instanceof ProblemError ? fail(...error.problems) : fail(fileProblem(path, error))
  }
}

/** Connections whose disk takes nothing more: why. */
const refused = new WeakMap<Connection, Problem>()

/** Why a file that was opened can only be read, or null: its disk was full when it was opened. */
export function refusalOf(connection: Connection): Problem | null {
  return refused.get(connection) ?? null
}

/** Marks that each connection has drawn: changes of the file that are none of the farm. */
const drawn = new WeakMap<Connection, number>()

/** Draws the next mark of the file (`mark.ts`): the first thing that is written into a journal, and the last. */
export function drawMark(connection: Connection): void {
  connection.exec('UPDATE file_mark SET markBefore = mark, mark = lower(hex(randomblob(8)))')
  drawn.set(connection, (drawn.get(connection) ?? 0) + 1)
}

/** Rows that this connection has changed since it was opened, without marks. */
export function changesBy(connection: Connection): number {
  const all = connection.prepare('SELECT total_changes()').pluck().get() as number
  return all - (drawn.get(connection) ?? 0)
}

/**
 * The first write takes the lock for good and would show the fall to NORMAL. It draws the file's mark, so that its journal
 * begins with it. On a full disk it fails: what is there can be read all the same.
 */
function firstWrite(connection: Connection, path: string, version: number): void {
  try {
    if (version < markedFrom) connection.pragma(`user_version = ${version}`)
    else drawMark(connection)
  } catch (error) {
    const code = String((error as { code?: unknown }).code)
    // No such table in a file that says it has one, or a row that its table refuses.
    if (/^SQLITE_(ERROR|CONSTRAINT|MISMATCH)/.test(code))
      throw new ProblemError([damaged(path, [error instanceof Error ? error.message : code])])
    if (code !== 'SQLITE_FULL') throw error
    // A read takes the lock as well: in exclusive mode it is never given back.
    connection.pragma('schema_version')
    refused.set(connection, fileProblem(path, error))
  }
}

/**
 * Reads a file that nobody has open, from its own pages and without its journal, in memory. Nothing on the disk is touched.
 * @returns null where SQLite cannot read it
 */
export function readClosed<Value>(path: string, read: (connection: Connection) => Value): Value | null {
  let connection: Connection | undefined
  try {
    const bytes = readFileSync(path)
    // In memory there is no WAL: the header must not ask for one.
    bytes.fill(1, 18, 20)
    connection = new Database(bytes, { readonly: true })
    return read(connection)
  } catch {
    return null
  } finally {
    connection?.close()
  }
}

/** Does another process have it open? Nothing in it or of its journal is written. Never of a file that is open here. */
export function isOpenElsewhere(path: string): boolean {
  const hadIndex = existsSync(`${path}-shm`)
  let connection: Connection | undefined
  try {
    connection = new Database(path, { readonly: true, fileMustExist: true, timeout: 0 })
    connection.prepare('SELECT 1 FROM sqlite_schema LIMIT 1').get()
    return false
  } catch (error) {
    return /^SQLITE_(BUSY|LOCKED)/.test(String((error as { code?: unknown } | null)?.code))
  } finally {
    connection?.close()
    if (!hadIndex) rmSync(`${path}-shm`, { force: true })
  }
}

/** Full check of pages, indexes and references. At our size it takes a tenth of a second, so it runs on every open. */
export function findDamage(connection: Connection, path: string): Problem[] {
  try {
    const pages = connection.pragma('integrity_check(10)') as { integrity_check: string }[]
    const references = connection.pragma('foreign_key_check') as { table: string }[]
    const found = pages.map((row) => row.integrity_check).filter((text) => text !== 'ok')
    found.push(...references.map((row) => `a row of ${row.table} refers to nothing`))
    return found.length > 0 ? [damaged(path, found)] : []
  } catch (error) {
    // Neither check can fail on its own words: a table's text is spoilt, as one that names a function there is none of.
    if (error instanceof Database.SqliteError && error.code === 'SQLITE_ERROR') return [damaged(path, [error.message])]
    return [fileProblem(path, error)]
  }
}

function setUp(connection: Connection): void {
  // References are only as good as their checking, and SQLite leaves it off unless asked.
  connection.pragma('foreign_keys = ON')
  // A file may come from a stranger: its triggers and views may not call functions that reach outside.
  connection.pragma('trusted_schema = OFF')
  // Looks at each page's cells when it is read, so that damage shows early instead of as a crash.
  connection.pragma('cell_size_check = ON')
  // Long enough for an engine that is just being closed, short enough for a person.
  connection.pragma('busy_timeout = 2000')
  // Sorting and the undo switch need no file of their own.
  connection.pragma('temp_store = MEMORY')
  // [KiB] 10,000 imported rows with their undo record are one transaction: with less it goes to disk in pieces.
  connection.pragma('cache_size = -65536')
}

/**
 * Reads the header without SQLite, which could begin a recovery of a file that is not ours. Must not be called for a
 * file that this process has open: closing the handle would drop SQLite's locks on it.
 */
function readStamp(path: string): Result<number> {
  const header = Buffer.alloc(100)
  try {
    if (!statSync(path).isFile()) return fail(notOurs(path))
    const file = openSync(path, 'r')
    try {
      readSync(file, header, 0, header.length, 0)
    } finally {
      closeSync(file)
    }
  } catch (error) {
    return fail(fileProblem(path, error))
  }
  // A file without a stamp is not a new farm: it may be anything, so it is left alone.
  if (!isSqlite(header)) return fail(notOurs(path))
  if (header.readUInt32BE(68) !== applicationId) return fail(notOurs(path))
  const version = header.readUInt32BE(60)
  return version > latestVersion ? fail(fromTheFuture(path, version)) : ok(version)
}

function notOurs(path: string): Problem {
  return {
    code: 'bad-file',
    what: `“${basename(path)}” is not a Standwell farm.`,
    where: { file: basename(path) },
    remedy: 'Choose a file that Standwell made; its name ends in .farm.',
  }
}

function fromTheFuture(path: string, version: number): Problem {
  return {
    code: 'future-version',
    what: `“${basename(path)}” was written by a later Standwell (version ${version}; this one knows ${latestVersion}).`,
    where: { file: basename(path) },
    remedy: 'Open it with that Standwell, or install the later one here.',
  }
}
