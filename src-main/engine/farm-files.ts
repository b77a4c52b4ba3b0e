/** Farms as files, for the window: copied out and in, moved, backed up, gone back. To the window it names files; paths stay here. */
import { copyFileSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, dirname, join } from 'node:path'
import type { Input, Output } from '../../src-shared/api.ts'
import type { BackupRow, BackupsNow } from '../../src-shared/backup.ts'
import { ProblemError, valueOf, type Problem } from '../../src-shared/problem.ts'
import type { FilePlace } from '../../src-shared/sheet/file-piece.ts'
import { backupFolder, farmEnding, photoFolder } from './backup-path.ts'
import { backupFault, listBackups, makeBackup } from './backups.ts'
import { onDisk } from './db/disk-problem.ts'
import { flush, flushFolder } from './db/copy.ts'
import { bringPhotos, missingPhotos } from './db/photo-store.ts'
import type { Engine } from './engine.ts'
import { copyFarm, openFarm, type OpenFarm } from './farm-file.ts'
import { freePath } from './farm-name.ts'
import {
  asideOf,
  clearBuilding,
  clearName,
  isFreeName,
  moveWithoutReplacing,
  nameTaken,
  removeFarmFiles,
} from './keeper/beside.ts'
import { letGo } from './keeper/closing.ts'
import { identityOf } from './keeper/identity.ts'
import { keptPath, take } from './open-close.ts'
import { stopSolving } from './planning.ts'
import { dropOutgoing, handOut, handOutFrom, takeLastPiece } from './keeper/pieces.ts'
import { restoreBackup } from './keeper/restoring.ts'
import { farmAtHand } from './recent.ts'
import { syncedFolder } from './synced-folder.ts'

/** @param fileName of a farm in the data folder; absent: the farm at hand */
export function backupsNow(engine: Engine, fileName: string | undefined): BackupsNow {
  const farm = fileName === undefined ? farmAtHand(engine) : engine.farm
  const path = fileName === undefined ? farmAtHand(engine).path : keptPath(engine, fileName)
  const fault = farm?.path === path ? backupFault(farm) : null
  const missingPictures = farm?.path === path ? missingPhotos(farm.connection) : 0
  return {
    backups: listBackups(path),
    aside: asideOf(path),
    fault,
    warning: syncedFolder(dirname(path)),
    missingPictures,
  }
}

export function backUpNow(farm: OpenFarm): BackupRow {
  return onDisk(farm.path, () => makeBackup(farm, 'by hand', new Date()))
}

/** The farm as it was, opened. Where going back fails, what was open is open again. */
export function goBackTo(engine: Engine, fileName: string | undefined, backup: string): OpenFarm {
  const path = fileName === undefined ? farmAtHand(engine).path : keptPath(engine, fileName)
  const wasOpen = engine.farm?.path === path
  if (wasOpen) stopSolving(engine)
  let place: string
  try {
    place = restoreBackup(engine, path, backup, new Date())
  } catch (error) {
    if (wasOpen && engine.farm === null) engine.farm = valueOf(openFarm(path))
    throw error
  }
  return take(engine, valueOf(openFarm(place)))
}

/**
 * A copy of the newest backup of a farm that another Standwell has open, in a folder of its own. Where that one has made
 * none yet, it is refused: its file is not to be read while it is written.
 */
export function openToRead(engine: Engine, fileName: string): OpenFarm {
  const path = keptPath(engine, fileName)
  const [newest] = listBackups(path)
  if (newest === undefined) {
    const what = `“${fileName}” is open in another Standwell, and there is no backup of it to look at yet.`
    const remedy = 'Make one there, on the page of the farm file, or close it there.'
    throw new ProblemError([{ code: 'in-use', what, where: { file: fileName }, remedy }])
  }
  return onDisk(path, () => {
    stopSolving(engine)
    letGo(engine)
    // A folder of its own: another window may have a copy open as well.
    const folder = mkdtempSync(join(tmpdir(), 'standwell-read-'))
    const copy = join(folder, fileName)
    copyFileSync(join(backupFolder(path), newest.fileName), copy)
    bringPhotos(copy, photoFolder(path))
    const opened = valueOf(openFarm(copy))
    const close = () => {
      opened.close()
      rmSync(folder, { recursive: true, force: true })
    }
    engine.farm = { ...opened, copyOf: newest.madeAt, isReadOnly: true, close }
    return engine.farm
  })
}

/** The whole farm as one file: a copy made beside it, so that it is whole whatever is being written. */
export function copyOut(engine: Engine): Output<'farm.copyOut'> {
  const farm = farmAtHand(engine)
  const name = basename(farm.path)
  const copy = join(dirname(farm.path), `${name}.copy`)
  return onDisk(farm.path, () => {
    dropOutgoing(engine)
    removeFarmFiles(copy)
    try {
      valueOf(copyFarm(farm, copy))
      const { bytes, rest } = handOut(engine, copy)
      return { name, type: 'application/vnd.sqlite3', base64: bytes.toString('base64'), rest }
    } catch (error) {
      removeFarmFiles(copy)
      throw error
    }
  })
}

export function copyRest(engine: Engine, from: FilePlace): Output<'farm.copyRest'> {
  return onDisk(engine.home, () => {
    const { bytes, rest } = handOutFrom(engine, from)
    return { base64: bytes.toString('base64'), rest }
  })
}

/** Taken only when it opens: what is no farm leaves nothing behind. */
export function bringFarmIn(engine: Engine, { name, base64, after }: Input<'farm.bringIn'>['file']): OpenFarm {
  const path = freePath(engine.home, basename(name, farmEnding), isFreeName)
  return onDisk(path, () => {
    const building = takeLastPiece(engine, after, Buffer.from(base64, 'base64'))
    try {
      flush(building)
      clearName(path)
      if (!moveWithoutReplacing(building, path)) throw new ProblemError([nameTaken(path)])
    } finally {
      clearBuilding(building)
    }
    const made = identityOf(path)
    flushFolder(engine.home)
    const opened = openFarm(path)
    if (opened.ok && opened.value.refusal !== null) opened.value.close()
    if (!opened.ok || opened.value.refusal !== null) {
      // Only what was made here: another may have come under the name meanwhile.
      if (identityOf(path) === made) removeFarmFiles(path)
      if (opened.ok) throw new ProblemError([opened.value.refusal as Problem])
      // Named as the person knows it.
      throw new ProblemError(
        opened.problems.map((problem) => ({ ...problem, where: { ...problem.where, file: name } })),
      )
    }
    return take(engine, opened.value)
  })
}
