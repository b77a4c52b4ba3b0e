/** A whole copy of the open farm at another place: built beside its name, checked, and put there in one step. */
import { existsSync, renameSync, rmSync } from 'node:fs'
import { basename, dirname } from 'node:path'
import { ProblemError, valueOf } from '../../../src-shared/problem.ts'
import { isOpenElsewhere } from '../db/connect.ts'
import { inUse, onDisk } from '../db/disk-problem.ts'
import { flushFolder } from '../db/copy.ts'
import { copyFarm, type OpenFarm } from '../farm-file.ts'
import { clearBuilding, clearName, removeFarmFiles } from './beside.ts'
import { isOpenHere } from './identity.ts'
import { withEnding } from './moving.ts'

/** In place of a file that is there, where a person wants that; never of a farm that is open, here or elsewhere. */
export function copyTo(farm: OpenFarm, to: string): string {
  const target = withEnding(to)
  return onDisk(target, () => {
    mustNotBeOpen(target)
    const building = `${target}.copy`
    removeFarmFiles(building)
    try {
      valueOf(copyFarm(farm, building))
      // Building took its time.
      mustNotBeOpen(target)
      // What lay there leaves nothing behind that would be taken for the copy's.
      if (existsSync(target)) rmSync(`${target}.sha256`, { force: true })
      clearName(target)
      renameSync(building, target)
      flushFolder(dirname(target))
      return target
    } finally {
      clearBuilding(building)
    }
  })
}

function mustNotBeOpen(target: string): void {
  if (!existsSync(target)) return
  if (isOpenHere(target)) {
    const what = `“${basename(target)}” is the farm itself.`
    const remedy = 'Give the copy another name or another folder.'
    throw new ProblemError([{ code: 'repeated-name', what, where: { file: basename(target) }, remedy }])
  }
  if (isOpenElsewhere(target)) throw new ProblemError([inUse(target)])
}
