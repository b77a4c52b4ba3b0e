/** The farms that can be gone on with, by their files alone: none is opened, so none can fail or be locked. */
import { readdirSync, statSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import type { FarmFile } from '../../src-shared/farm.ts'
import { farmEnding } from './backup-path.ts'

/**
 * Those in the folder where farms are kept, and those elsewhere that were opened before. By file name, as a person knows
 * them: of two that bear the same one, the first is listed.
 * @param opened paths, the one opened last first
 */
export function keptFarms(home: string, opened: readonly string[]): (FarmFile & { path: string })[] {
  const here = readdirSync(home)
    .filter((name) => name.endsWith(farmEnding))
    .map((name) => join(home, name))
  const byName = new Map<string, string>()
  for (const path of [...here, ...opened]) if (!byName.has(basename(path))) byName.set(basename(path), path)
  return [...byName]
    .flatMap(([fileName, path]) => {
      const file = statSync(path, { throwIfNoEntry: false })
      const folder = dirname(path) === home ? null : basename(dirname(path))
      return file?.isFile() ? [{ path, fileName, folder, changedAt: file.mtime.toISOString() }] : []
    })
    .sort((one, other) => other.changedAt.localeCompare(one.changedAt) || one.fileName.localeCompare(other.fileName))
}
