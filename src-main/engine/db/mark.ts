/**
 * Whose file it is: the farm's id, and a mark that is drawn anew whenever a journal begins. Without them a journal that lies
 * under a farm's name would be played into it, whoever wrote it.
 */
import { existsSync, readFileSync } from 'node:fs'
import { fileAt } from './file-at.ts'
import { isSqlite } from './sqlite-header.ts'
import { markedFrom, readClosed, type Connection } from './connect.ts'

export interface FileMark {
  farmId: string
  mark: string
  markBefore: string
}

const select = 'SELECT farmId, mark, markBefore FROM file_mark'

/** Null in a file of before version 70. */
export function markOf(connection: Connection): FileMark | null {
  try {
    return (connection.prepare(select).get() as FileMark | undefined) ?? null
  } catch {
    return null
  }
}

/** Of a file that nobody has open, from its pages alone, without its journal; null where it has none or cannot be read. */
export function markIn(path: string): FileMark | null {
  return readClosed(path, markOf)
}

/** [byte] Of a journal's header, and of the header of each page in it; https://www.sqlite.org/walformat.html. */
const [journalHeader, pageHeader] = [32, 24]

/**
 * Is the journal beside a farm another one's, or that of another state of it? Its own has drawn the mark that follows the
 * file's, or, where a checkpoint was cut short, the file's own. One without any mark was written by an earlier Standwell, if
 * it says an earlier version; or by some other program, into this file.
 */
export function isStrangeJournal(path: string): boolean {
  // A folder may bear the name.
  for (const ending of ['-wal', '-journal'])
    if (existsSync(path + ending) && fileAt(path + ending) === null) return true
  const journal = existsSync(`${path}-wal`) ? readFileSync(`${path}-wal`) : null
  // SQLite would remove what it cannot read.
  if (journal !== null && journal.length > 0 && !isJournal(journal)) return true
  const pages = journal === null ? [] : committedPages(journal)
  if (pages.length === 0) return isStrangeRollback(path)
  const own = markIn(path)
  if (own === null) return false
  const marks = pages.flatMap((page) => marksIn(page.toString('latin1')))
  if (marks.length === 0) return pages.some((page) => (versionIn(page) ?? markedFrom) < markedFrom)
  return !marks.some((drawn) => follows(drawn, own))
}

/** A journal under any name that is surely this file's: it has drawn the mark that follows the file's. */
export function isJournalOf(journal: string, path: string): boolean {
  const own = markIn(path)
  if (own === null) return false
  const pages = committedPages(readFileSync(journal))
  return pages.some((page) => marksIn(page.toString('latin1')).some((drawn) => follows(drawn, own)))
}

const follows = (drawn: FileMark, own: FileMark) =>
  drawn.farmId === own.farmId && (drawn.markBefore === own.mark || drawn.mark === own.mark)

/** The row as SQLite stores it: its three texts side by side. */
const row = /(farm-[0-9a-f]{32})([0-9a-f]{16})([0-9a-f]{16})/g

function marksIn(text: string): FileMark[] {
  return [...text.matchAll(row)].map(([, farmId = '', mark = '', markBefore = '']) => ({ farmId, mark, markBefore }))
}

/** The version that a file's first page says; null of any other page. */
function versionIn(page: Buffer): number | null {
  return isSqlite(page) ? page.readUInt32BE(60) : null
}

/** The old kind of journal has no mark of its own: it is another farm's where it says another farm's id and not this one's. */
function isStrangeRollback(path: string): boolean {
  if (!existsSync(`${path}-journal`)) return false
  const own = markIn(path)
  if (own === null) return false
  const marks = marksIn(readFileSync(`${path}-journal`).toString('latin1'))
  return marks.length > 0 && !marks.some(({ farmId }) => farmId === own.farmId)
}

/** By its first bytes; a header that was cut off is not yet none. */
function isJournal(journal: Buffer): boolean {
  const magic = Buffer.from('377f0682', 'hex')
  const begins = journal.subarray(0, 4)
  return begins.equals(magic) || begins.equals(Buffer.from('377f0683', 'hex')) || journal.length < 4
}

/** Up to the last that was committed. What lies behind it is of an earlier run of the journal, or was never whole. */
function committedPages(journal: Buffer): Buffer[] {
  if (journal.length < journalHeader) return []
  const size = journal.readUInt32BE(8)
  const salt = journal.subarray(16, 24)
  const pages: Buffer[] = []
  let committed = 0
  for (let at = journalHeader; size >= 512 && at + pageHeader + size <= journal.length; at += pageHeader + size) {
    if (!journal.subarray(at + 8, at + 16).equals(salt)) break
    pages.push(journal.subarray(at + pageHeader, at + pageHeader + size))
    if (journal.readUInt32BE(at + 4) > 0) committed = pages.length
  }
  return pages.slice(0, committed)
}
