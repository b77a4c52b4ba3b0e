/** The farms that can be gone on with, by their files alone: none is opened, so none can fail or be locked. */
import { readdirSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import type { FarmFile } from '../../src-shared/farm.ts'
import { backupFolder, farmEnding } from './backup-path.ts'
import { fileAt } from './db/file-at.ts'
import { listBackups } from './backups.ts'

/**
 * Those in the folder where farms are kept, and those elsewhere that were opened before; also those whose file is gone and whose
 * backups are there. By file name, as a person knows them: of two that bear the same one, the first is listed, one that is
 * there before one that is gone.
 * @param opened paths, the one opened last first
 */
export function keptFarms(home: string, opened: readonly string[]): (FarmFile & { path: string })[] {
  const names = readdirSync(home)
  const here = names.filter((name) => name.endsWith(farmEnding)).map((name) => join(home, name))
  const backedUp = names.flatMap((name) => farmOfFolder(join(home, name)) ?? [])
  const byName = new Map<string, FarmFile & { path: string }>()
  for (const read of [present, gone])
    for (const path of [...here, ...backedUp, ...opened]) {
      const found = byName.has(basename(path)) ? null : read(path, home)
      if (found !== null) byName.set(found.fileName, found)
    }
  return [...byName.values()].sort(
    (one, other) =>
      Number(one.isGone) - Number(other.isGone) ||
      other.changedAt.localeCompare(one.changedAt) ||
      one.fileName.localeCompare(other.fileName),
  )
}

/** "Creek backups" → "Creek.farm"; null for any other folder. */
function farmOfFolder(folder: string): string | null {
  const path = join(dirname(folder), `${basename(folder).replace(/ backups$/, '')}${farmEnding}`)
  return backupFolder(path) === folder ? path : null
}

function present(path: string, home: string): (FarmFile & { path: string }) | null {
  const file = fileAt(path)
  return file === null ? null : { ...placed(path, home), changedAt: file.mtime.toISOString(), isGone: false }
}

function gone(path: string, home: string): (FarmFile & { path: string }) | null {
  const [newest] = backupsOf(path)
  return newest === undefined ? null : { ...placed(path, home), changedAt: newest.madeAt, isGone: true }
}

function placed(path: string, home: string) {
  const folder = dirname(path) === home ? null : basename(dirname(path))
  return { path, fileName: basename(path), folder }
}

/** A folder that cannot be read is as one that is not there: a list must not fail for one of its lines. */
function backupsOf(path: string) {
  try {
    return listBackups(path)
  } catch {
    return []
  }
}
