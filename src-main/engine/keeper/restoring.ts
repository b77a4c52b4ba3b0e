/**
 * Going back to a backup: it is checked against its hash, what there is now is kept first, and the file is replaced by one
 * rename. Whenever the power fails, under the farm's name lies the one or the other, whole.
 */
import { copyFileSync, existsSync, mkdirSync, renameSync, rmSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { ProblemError, type Problem } from '../../../src-shared/problem.ts'
import { backupFolder, farmEnding, freeBackupPath, photoFolder } from '../backup-path.ts'
import { listBackups, makeBackup } from '../backups.ts'
import { damaged, fileProblem, inUse, onDisk } from '../db/disk-problem.ts'
import { checkCopy, farmOfCopy, flush, flushFolder, hashOf, isUnchanged } from '../db/copy.ts'
import { markIn, markOf } from '../db/mark.ts'
import { bringPhotos } from '../db/photo-store.ts'
import { breakSeal } from '../db/seal.ts'
import type { Engine } from '../engine.ts'
import { openFarm } from '../farm-file.ts'
import { freePath } from '../farm-name.ts'
import { clearName, hasJournal, isFreeName, isThere, putAside } from './beside.ts'
import { letGo } from './closing.ts'
import { isOpenHere } from './identity.ts'

/**
 * Puts a backup in the place of a farm's file and leaves that closed. The farm may be the open one, any other, or one that
 * can no longer be opened; it is kept among the backups as it was.
 * @returns the path that the farm is under: another, where the backup is of a farm that had the name before
 */
export function restoreBackup(engine: Engine, path: string, fileName: string, now: Date): string {
  // Only what is listed: a name is never taken for a path.
  if (!listBackups(path).some((backup) => backup.fileName === fileName)) throw new ProblemError([gone(fileName)])
  const backup = join(backupFolder(path), fileName)
  return onDisk(path, () => {
    // A link to the open farm: to read it would drop the lock on that.
    if (isOpenHere(backup)) throw new ProblemError([inUse(backup)])
    mustBeSound(backup)
    const place = placeFor(engine, path, backup)
    keepPresent(engine, place, now)
    replace(place, backup)
    return place
  })
}

/** Its own name; of a backup that is another farm's, a name that is free: the farm that is there is not replaced by it. */
function placeFor(engine: Engine, path: string, backup: string): string {
  const other = farmOfCopy(backup)
  const own = engine.farm?.path === path ? markOf(engine.farm.connection) : isThere(path) ? markIn(path) : null
  if (other === null || own === null || other === own.farmId) return path
  return freePath(dirname(path), basename(path, farmEnding), isFreeName)
}

/** By its hash, where that was not lost; SQLite's own checks are made on the copy that is put in place. */
function mustBeSound(backup: string): void {
  if (existsSync(`${backup}.sha256`) && !isUnchanged(backup)) throw new ProblemError([spoilt(backup)])
}

function keepPresent(engine: Engine, path: string, now: Date): void {
  if (engine.farm?.path === path) {
    if (engine.farm.refusal !== null) throw new ProblemError([engine.farm.refusal])
    makeBackup(engine.farm, 'before going back', now)
    letGo(engine)
    // The journal would be played into the backup. A disk so full takes no backup in its place either.
    if (hasJournal(path)) throw new ProblemError([fileProblem(path, { code: 'ENOSPC' })])
    return
  }
  if (!isThere(path)) {
    // Of a farm that was deleted: what is left under its name is not this backup's.
    clearName(path)
    return
  }
  const opened = openFarm(path)
  if (opened.ok) {
    try {
      makeBackup(opened.value, 'before going back', now)
    } finally {
      opened.value.close()
    }
    return
  }
  // In use elsewhere, it is not ours to replace.
  if (opened.problems.some(({ code }) => code === 'in-use')) throw new ProblemError(opened.problems)
  keepAsItIs(path, now)
}

/** A file that SQLite cannot read: byte for byte, with the journal that belongs to it. */
function keepAsItIs(path: string, now: Date): void {
  mkdirSync(backupFolder(path), { recursive: true, mode: 0o700 })
  const kept = freeBackupPath(path, now, 'before going back')
  for (const ending of ['-wal', '-journal', '']) {
    if (!existsSync(`${path}${ending}`)) continue
    copyFileSync(`${path}${ending}`, `${kept}${ending}.part`)
    flush(`${kept}${ending}.part`)
    renameSync(`${kept}${ending}.part`, `${kept}${ending}`)
  }
  flushFolder(dirname(kept))
}

function replace(path: string, backup: string): void {
  const building = `${path}.part`
  rmSync(building, { force: true })
  copyFileSync(backup, building)
  if (hashOf(building) !== hashOf(backup)) throw new ProblemError([spoilt(backup)])
  bringPhotos(building, photoFolder(path))
  checkCopy(building)
  flush(building)
  breakSeal(path)
  // An old journal would be played into the new file. What was in it is in the copy just kept.
  for (const ending of ['-wal', '-shm', '-journal'] as const)
    if (isThere(path + ending)) putAside(path, ending, 'journal of before')
  flushFolder(dirname(path))
  renameSync(building, path)
  flushFolder(dirname(path))
}

function spoilt(backup: string): Problem {
  const problem = damaged(backup, ['it is no longer what was written'])
  return { ...problem, remedy: 'Nothing was changed. Choose another backup.' }
}

function gone(fileName: string): Problem {
  return {
    code: 'bad-file',
    what: `There is no backup “${fileName}” any more.`,
    where: { file: basename(fileName) },
    remedy: 'Choose another; a stick or network drive may have been taken away.',
  }
}
