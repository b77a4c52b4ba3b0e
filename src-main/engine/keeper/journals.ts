/** Whose is the journal beside a farm, and where is the farm's own? Asked before each opening: SQLite plays what bears the name. */
import { readdirSync, renameSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { farmEnding, fileAt } from '../backup-path.ts'
import { isOpenElsewhere } from '../db/connect.ts'
import { flushFolder } from '../db/copy.ts'
import { isJournalOf, isStrangeJournal } from '../db/mark.ts'
import { sealState } from '../db/seal.ts'
import { hasJournal, isThere, putAside } from './beside.ts'

/** Leaves a farm with its own journal and seal, or with none. Never while another process has it open: then both are its. */
export function sortJournals(path: string): void {
  if (!isThere(path)) return
  const seal = sealState(path)
  if (seal === 'strange') putAside(path, '.sha256', 'seal of another farm')
  if (isStrangeJournal(path) && !isOpenElsewhere(path)) {
    for (const ending of ['-wal', '-journal', '-shm'] as const)
      if (isThere(path + ending)) putAside(path, ending, 'journal of another file')
  }
  // Closed in order it has no journal anywhere.
  if (seal !== 'whole' && !hasJournal(path)) fetchJournal(path)
}

/** A file manager that renames an open farm leaves its journal under the old name; if the power fails then, it stays there. */
function fetchJournal(path: string): void {
  const folder = dirname(path)
  const left = readdirSync(folder).filter((name) => name.endsWith(`${farmEnding}-wal`))
  const own = left
    .map((name) => join(folder, name))
    .find((journal) => {
      const isOrphan = !isThere(journal.slice(0, -'-wal'.length)) && (fileAt(journal)?.size ?? 0) > 0
      return isOrphan && isJournalOf(journal, path)
    })
  if (own === undefined || isOpenElsewhere(path)) return
  renameSync(own, `${path}-wal`)
  flushFolder(folder)
}
