/** Backups of the farm that is open, in the folder beside its file: made whole and hashed, told by name, thinned as they age. */
import { existsSync, readdirSync, rmSync, statSync } from 'node:fs'
import { basename, join } from 'node:path'
import { outlived, readBackupName, type BackupReason, type BackupRow } from '../../src-shared/backup.ts'
import type { Problem } from '../../src-shared/problem.ts'
import { backupFolder, farmEnding, freeBackupPath, photoFolder } from './backup-path.ts'
import { fileAt } from './db/file-at.ts'
import { changesBy, type Connection } from './db/connect.ts'
import { diskProblem } from './db/disk-problem.ts'
import { copyDatabase, farmOfCopy } from './db/copy.ts'
import { isChangedDemo } from './db/demo-changes.ts'
import { markOf } from './db/mark.ts'
import { copyWithoutPhotos, keepPhotos } from './db/photo-store.ts'
import type { OpenFarm } from './farm-file.ts'

/** [ms] of changing things that at most is lost to a laptop that is. */
const backupEvery = 20 * 60 * 1000

/** Newest first. Other files in the folder are passed over. */
export function listBackups(path: string): BackupRow[] {
  const folder = backupFolder(path)
  if (!existsSync(folder)) return []
  return readdirSync(folder)
    .filter((name) => name.endsWith(farmEnding))
    .flatMap((fileName): BackupRow[] => {
      const told = readBackupName(basename(fileName, farmEnding))
      const file = fileAt(join(folder, fileName))
      return told === null || file === null ? [] : [{ fileName, ...told, size: file.size }]
    })
    .sort((a, b) => b.madeAt.localeCompare(a.madeAt) || nameOf(b).localeCompare(nameOf(a)))
}

const nameOf = ({ fileName }: BackupRow) => basename(fileName, farmEnding)

/** False for a demo as we made it: it can be made again. */
export function isKept({ isDemo, connection }: OpenFarm): boolean {
  return !isDemo || isChangedDemo(connection)
}

/** What each open farm's newest backup holds: rows changed by then, and when it was made or the file was opened. */
const held = new WeakMap<Connection, { changes: number; at: number; fault: Problem | null }>()

function heldOf({ connection }: OpenFarm, now: Date) {
  let state = held.get(connection)
  if (state === undefined) held.set(connection, (state = { changes: 0, at: now.getTime(), fault: null }))
  return state
}

/** True where the file has changed since it was opened or backed up. */
export function hasChanged(farm: OpenFarm, now: Date): boolean {
  return changesBy(farm.connection) !== heldOf(farm, now).changes
}

/** Makes one now, and lets those go that have had their time. Throws what the disk says. */
export function makeBackup(farm: OpenFarm, reason: BackupReason, now: Date): BackupRow {
  const state = heldOf(farm, now)
  const path = freeBackupPath(farm.path, now, reason)
  // First the pictures, once each; then the rows that name them.
  keepPhotos(farm.connection, photoFolder(farm.path))
  copyDatabase(farm.connection, path, (building) => copyWithoutPhotos(farm.connection, building))
  // After the copy, whose own rows are counted too; nothing else runs meanwhile.
  const changes = changesBy(farm.connection)
  Object.assign(state, { changes, at: now.getTime(), fault: null })
  const own = markOf(farm.connection)?.farmId
  // Another farm's may lie among them, as of one that had the name before.
  const isOwn = ({ fileName }: BackupRow) => (farmOfCopy(join(backupFolder(farm.path), fileName)) ?? own) === own
  for (const { fileName } of outlived(listBackups(farm.path).filter(isOwn), now)) {
    const old = join(backupFolder(farm.path), fileName)
    rmSync(old, { force: true })
    rmSync(`${old}.sha256`, { force: true })
  }
  return { fileName: basename(path), madeAt: now.toISOString(), reason, size: statSync(path).size }
}

/**
 * One where something has changed and twenty minutes have passed since the last. A clock moved back starts them anew. A
 * disk that refuses is told by `backupFault`, and asked again after as long: what is being worked on is not disturbed.
 * @returns true where one was due
 */
export function backUpWhenDue(farm: OpenFarm, now: Date, noteBug?: NoteBug): boolean {
  const state = heldOf(farm, now)
  if (now.getTime() < state.at) state.at = now.getTime()
  if (now.getTime() - state.at < backupEvery || !hasChanged(farm, now)) return false
  tryBackup(farm, 'while working', now, noteBug)
  return true
}

type NoteBug = (call: string, error: unknown) => void

/** As `makeBackup`; what goes wrong, whatever it is, is kept for `backupFault`: it never stops what it was made for. */
export function tryBackup(farm: OpenFarm, reason: BackupReason, now: Date, noteBug?: NoteBug): void {
  try {
    makeBackup(farm, reason, now)
  } catch (error) {
    if (diskProblem(farm.path, error) === null) noteBug?.('backup', error)
    Object.assign(heldOf(farm, now), { at: now.getTime(), fault: faultOf(farm, error) })
  }
}

/** Why the last one failed; null while they succeed. */
export function backupFault(farm: OpenFarm): Problem | null {
  return held.get(farm.connection)?.fault ?? null
}

function faultOf(farm: OpenFarm, error: unknown): Problem {
  const known = diskProblem(farm.path, error)
  return {
    code: known?.code ?? 'bug',
    where: { file: basename(farm.path) },
    what: `No backup could be made: ${known?.what ?? 'Standwell made a mistake of its own.'}`,
    remedy:
      'Make room on the disk, or save a copy to another; what you enter is saved in the farm itself all the same.',
  }
}
