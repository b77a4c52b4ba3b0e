/** Where a farm's file and its backups lie, and what each backup is called. */
import { existsSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import { backupName, type BackupReason } from '../../src-shared/backup.ts'

/** How a farm's file name ends. */
export const farmEnding = '.farm'

/** "Farm backups", beside "Farm.farm". */
export function backupFolder(path: string): string {
  return join(dirname(path), `${basename(path, farmEnding)} backups`)
}

/** Pictures of all backups, each once by its hash. */
export function photoFolder(path: string): string {
  return join(backupFolder(path), 'pictures')
}

/** A name in the backups folder that is free. */
export function freeBackupPath(path: string, at: Date, reason: BackupReason): string {
  const base = join(backupFolder(path), backupName(at, reason))
  for (let n = 1; ; n += 1) {
    const candidate = `${base}${n === 1 ? '' : ` ${n}`}${farmEnding}`
    if (!existsSync(candidate)) return candidate
  }
}
