/**
 * Opens a farm file. The only import of better-sqlite3: every other file asks for the type. Each pragma stands
 * beside its reason, and what matters for safety is read back instead of trusted.
 */
import Database from 'better-sqlite3'
import { closeSync, openSync, readSync, statSync } from 'node:fs'
import { basename } from 'node:path'
import { latestVersion } from '../../../migrations/index.ts'
import { fail, ok, ProblemError, type Problem, type Result } from '../../../src-shared/problem.ts'

export type Connection = Database.Database

/** "Stdw": says whose file it is, in the header where `file` and other programs look. */
export const applicationId = 0x53_74_64_77

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
    // The first write takes the lock for good and would show the fall to NORMAL.
    connection.pragma(`user_version = ${version}`)
    if (connection.pragma('synchronous', { simple: true }) !== 2) throw new Error('synchronous = FULL did not hold.')
    setUp(connection)
    return ok(connection)
  } catch (error) {
    connection?.close()
    return fail(fileProblem(path, error))
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
  if (header.toString('latin1', 0, 16) !== 'SQLite format 3\0') return fail(notOurs(path))
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

/** @param found what the checks of SQLite and of the seal say; the first three are told */
export function damaged(path: string, found: readonly string[]): Problem {
  return {
    code: 'damaged',
    what: `“${basename(path)}” is damaged: ${found.slice(0, 3).join('; ')}.`,
    where: { file: basename(path) },
    remedy: 'Nothing was changed. Open the newest backup from the backups folder beside it.',
  }
}

/** What a failed opening, copy or creation means to a person; a fault of ours is thrown on. */
export function fileProblem(path: string, error: unknown): Problem {
  const problem = diskProblem(path, error)
  if (problem === null) throw error
  return problem
}

/** Work on a file: what the disk refuses comes out as a problem of that file. */
export function onDisk<Value>(path: string, work: () => Value): Value {
  try {
    return work()
  } catch (error) {
    if (error instanceof ProblemError) throw error
    throw new ProblemError([fileProblem(path, error)])
  }
}

/** What the disk's refusal means to a person; null where it was not the disk. */
export function diskProblem(path: string, error: unknown): Problem | null {
  const where = { file: basename(path) }
  const name = `“${basename(path)}”`
  const code = String((error as { code?: unknown } | null)?.code ?? '')
  if (/^SQLITE_(BUSY|LOCKED)/.test(code)) return inUse(path)
  if (/^SQLITE_(CORRUPT|NOTADB)/.test(code)) return damaged(path, [error instanceof Error ? error.message : code])
  if (code === 'ENOENT') {
    const remedy = 'It may have been moved or renamed: look for it and open it there.'
    return { code: 'bad-file', what: `There is no file ${name}.`, where, remedy }
  }
  if (/^(SQLITE_FULL|ENOSPC|EDQUOT)/.test(code)) {
    const remedy = 'Make room on it and try again; all that was entered before is saved.'
    return { code: 'bad-file', what: `The disk of ${name} is full.`, where, remedy }
  }
  if (/^(SQLITE_(READONLY|CANTOPEN|PERM|IOERR)|EACCES|EPERM|EIO|EISDIR|ENOTDIR|EEXIST|EROFS|EBUSY)/.test(code)) {
    const remedy = 'Check that the disk has room and that the folder may be written in, and try again.'
    return { code: 'bad-file', what: `${name} cannot be read and written here (${code}).`, where, remedy }
  }
  return null
}

/** What a second opener is told. */
export function inUse(path: string): Problem {
  return {
    code: 'in-use',
    what: `“${basename(path)}” is open in another Standwell.`,
    where: { file: basename(path) },
    remedy: 'Close it there first, or work on a copy.',
  }
}
