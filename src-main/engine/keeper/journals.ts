/** Whose is the journal beside a farm, and where is the farm's own? Asked before each opening: SQLite plays what bears the name. */
import { copyFileSync, readdirSync, renameSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { farmEnding } from '../backup-path.ts'
import { fileAt } from '../db/file-at.ts'
import { isOpenElsewhere } from '../db/connect.ts'
import { flush, flushFolder } from '../db/copy.ts'
import { isJournalOf, isStrangeJournal } from '../db/mark.ts'
import { isAsClosed, sealState, type SealState } from '../db/seal.ts'
import { hasJournal, isThere, putAside } from './beside.ts'
import { identityOf } from './identity.ts'

/**
 * Leaves a farm with its own journal and seal, or with none. Never while another process has it open: then both are its.
 * @returns the state of its seal then: the whole file is read for it, so it is told and not asked for again
 * @param link by which the farm was asked for, where that is another path: a journal of before may lie beside it
 */
export function sortJournals(path: string, link = path): SealState {
  if (!isThere(path)) return 'none'
  const seal = sealState(path)
  if (seal === 'strange') putAside(path, '.sha256', 'seal of another farm')
  const isStrange = isStrangeJournal(path) || isLeftBeside(path)
  const goesAside = isStrange && !isOpenElsewhere(path)
  if (goesAside) {
    for (const ending of ['-wal', '-journal', '-shm'] as const)
      if (isThere(path + ending)) putAside(path, ending, 'journal of another file')
  }
  // Closed in order it has no journal anywhere.
  const isFetched = seal !== 'whole' && !hasJournal(path) && fetchJournal(path, link)
  return seal === 'strange' || goesAside || isFetched ? sealState(path) : seal
}

/** A journal that is not surely its own, beside a farm that was closed in order and so has none. */
function isLeftBeside(path: string): boolean {
  if (!hasJournal(path) || !isAsClosed(path)) return false
  return !isThere(`${path}-wal`) || !isJournalOf(`${path}-wal`, path)
}

/**
 * A file manager that renames an open farm leaves its journal under the old name; if the power fails then, it stays there. So it
 * does where a syncing program moves the file and puts a link in its place, or where the file has a second name.
 */
function fetchJournal(path: string, link: string): boolean {
  const folder = dirname(path)
  const left = readdirSync(folder)
    .filter((name) => name.endsWith(`${farmEnding}-wal`))
    .map((name) => join(folder, name))
  if (link !== path) left.push(`${link}-wal`)
  const own = left.find(
    (journal) => (fileAt(journal)?.size ?? 0) > 0 && isNobodyElses(journal, path) && isJournalOf(journal, path),
  )
  if (own === undefined || isOpenElsewhere(path)) return false
  if (dirname(own) === folder) renameSync(own, `${path}-wal`)
  else bringJournal(own, path)
  flushFolder(folder)
  return true
}

/** The name before the ending leads nowhere, or to the same file. */
function isNobodyElses(journal: string, path: string): boolean {
  const owner = identityOf(journal.slice(0, -'-wal'.length))
  return owner === null || owner === identityOf(path)
}

/** From a folder that may be on another disk: copied, and the old one put aside once the copy lasts. */
function bringJournal(journal: string, path: string): void {
  copyFileSync(journal, `${path}-wal.part`)
  flush(`${path}-wal.part`)
  renameSync(`${path}-wal.part`, `${path}-wal`)
  flushFolder(dirname(path))
  putAside(journal.slice(0, -'-wal'.length), '-wal', 'journal that is beside the farm now')
}
