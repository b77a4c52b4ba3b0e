/** The farms in the folder where they are kept, by their files alone: none is opened, so none can fail or be locked. */
import { readdirSync, statSync } from 'node:fs'
import { join } from 'node:path'
import type { FarmFile } from '../../src-shared/farm.ts'
import { farmEnding } from './backup-path.ts'

export function keptFarms(home: string): FarmFile[] {
  return readdirSync(home)
    .filter((name) => name.endsWith(farmEnding))
    .flatMap((fileName) => {
      const file = statSync(join(home, fileName), { throwIfNoEntry: false })
      return file?.isFile() ? [{ fileName, changedAt: file.mtime.toISOString() }] : []
    })
    .sort((one, other) => other.changedAt.localeCompare(one.changedAt) || one.fileName.localeCompare(other.fileName))
}
