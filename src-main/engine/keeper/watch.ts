/**
 * Is the open farm's file still the one that was opened? A syncing program, a file manager or a person may rename, delete,
 * replace or overwrite it. SQLite would go on writing into what has no name any more, or mix two versions page by page.
 */
import { lstatSync } from 'node:fs'
import { changesBy, drawMark, type Connection } from '../db/connect.ts'

/** A file at a moment; null where there is none. */
type Stamp = { file: string; size: bigint; at: bigint } | null

interface Watch {
  path: string
  main: Stamp
  journal: Stamp
  /** Rows that this connection has written when the stamps were taken. */
  changes: number
  /** Its journal was emptied, and its mark could not be written since. */
  lacksMark: boolean
}

const watches = new WeakMap<Connection, Watch>()

/** Of the file itself: a link that was put in its place leads to where its journal does not lie. */
function stampOf(path: string): Stamp {
  const stat = lstatSync(path, { throwIfNoEntry: false, bigint: true })
  return stat === undefined ? null : { file: `${stat.dev}:${stat.ino}`, size: stat.size, at: stat.mtimeNs }
}

const isSame = (one: Stamp, other: Stamp) =>
  one?.file === other?.file && one?.size === other?.size && one?.at === other?.at

/** Once, when the farm is open and its first write is done. */
export function beginWatch(connection: Connection, path: string): void {
  watches.set(connection, { path, main: null, journal: null, changes: 0, lacksMark: false })
  note(connection)
}

/** After what this process itself has written. */
export function note(connection: Connection): void {
  const watch = watches.get(connection)
  if (watch === undefined) return
  watch.main = renewed(watch.main, stampOf(watch.path))
  watch.journal = renewed(watch.journal, stampOf(`${watch.path}-wal`))
  watch.changes = changesBy(connection)
}

/**
 * What this process writes never moves or replaces the file. So where its name means another file now, or none, another program
 * did that since the last look: the old stamp stays, and the next look finds the difference.
 */
const renewed = (before: Stamp, now: Stamp) => (before !== null && before.file !== now?.file ? before : now)

/** Before a call begins: nothing has been written but by this connection. True of what is not watched. */
export function isInPlace(connection: Connection): boolean {
  const watch = watches.get(connection)
  if (watch === undefined || !connection.open) return true
  // Written here beside the calls, as by a test: then the journal tells nothing.
  if (changesBy(connection) !== watch.changes) return isSameFile(connection)
  return isSame(watch.main, stampOf(watch.path)) && isSame(watch.journal, stampOf(`${watch.path}-wal`))
}

/**
 * Before a call is acknowledged: it went into the file that bears the name. The file itself is written only by `shorten`, so
 * that it must be as it was; where there is no journal to be told, its name alone counts.
 */
export function isSameFile(connection: Connection): boolean {
  const watch = watches.get(connection)
  if (watch === undefined || !connection.open) return true
  const journal = stampOf(`${watch.path}-wal`)
  const main = stampOf(watch.path)
  if (watch.journal === null) return main?.file === watch.main?.file
  return isSame(watch.main, main) && watch.journal.file === journal?.file
}

/** [byte] of journal from which on it is written into the file: 4 MB, as SQLite itself has it. */
const long = 4 * 1024 * 1024

/** After a call that stood: stamps are taken anew, and a long journal is written into its file. */
export function settle(connection: Connection): void {
  const watch = watches.get(connection)
  if (watch === undefined || !connection.open) return
  if (!connection.inTransaction && (stampOf(`${watch.path}-wal`)?.size ?? 0n) > long) shorten(connection)
  note(connection)
}

/** Throws what the disk says where the mark that a journal must begin with cannot be written. */
export function requireMark(connection: Connection): void {
  const watch = watches.get(connection)
  if (!watch?.lacksMark || !connection.open) return
  drawMark(connection)
  watch.lacksMark = false
  note(connection)
}

/** A disk that refuses costs nothing now: what was acknowledged stays in the journal. */
function shorten(connection: Connection): void {
  const watch = watches.get(connection)
  try {
    connection.pragma('wal_checkpoint(TRUNCATE)')
  } catch {
    return
  }
  try {
    drawMark(connection)
  } catch {
    if (watch) watch.lacksMark = true
  }
}
