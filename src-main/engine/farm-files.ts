/** Farms as files, for the window: copied out and in, moved, backed up, gone back. To the window it names files; paths stay here. */
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs'
import { basename, dirname, join } from 'node:path'
import type { Input } from '../../src-shared/api.ts'
import type { BackupRow, BackupsNow } from '../../src-shared/backup.ts'
import { ProblemError, valueOf } from '../../src-shared/problem.ts'
import type { WrittenFile } from '../../src-shared/sheet/bring-in.ts'
import { backupFolder, farmEnding, photoFolder } from './backup-path.ts'
import { backupFault, listBackups, makeBackup } from './backups.ts'
import { onDisk } from './db/connect.ts'
import { flush, flushFolder } from './db/copy.ts'
import { bringPhotos } from './db/photo-store.ts'
import type { Engine } from './engine.ts'
import { copyFarm, openFarm, removeFarmFiles, type OpenFarm } from './farm-file.ts'
import { freePath, safeName } from './farm-name.ts'
import { letGo } from './letting-go.ts'
import { keptPath, take } from './open-close.ts'
import { stopSolving } from './planning.ts'
import { farmAtHand, rememberFarm } from './recent.ts'
import { restoreBackup } from './restoring.ts'
import { syncedFolder } from './synced-folder.ts'

/** @param fileName of a farm in the data folder; absent: the farm at hand */
export function backupsNow(engine: Engine, fileName: string | undefined): BackupsNow {
  const farm = fileName === undefined ? farmAtHand(engine) : engine.farm
  const path = fileName === undefined ? farmAtHand(engine).path : keptPath(engine, fileName)
  const fault = farm?.path === path ? backupFault(farm) : null
  return { backups: listBackups(path), fault, warning: syncedFolder(dirname(path)) }
}

export function backUpNow(farm: OpenFarm): BackupRow {
  return onDisk(farm.path, () => makeBackup(farm, 'by hand', new Date()))
}

/** The farm as it was, opened. Where going back fails, what was open is open again. */
export function goBackTo(engine: Engine, fileName: string | undefined, backup: string): OpenFarm {
  const path = fileName === undefined ? farmAtHand(engine).path : keptPath(engine, fileName)
  const wasOpen = engine.farm?.path === path
  if (wasOpen) stopSolving(engine)
  try {
    restoreBackup(engine, path, backup, new Date())
  } catch (error) {
    if (wasOpen && engine.farm === null) engine.farm = valueOf(openFarm(path))
    throw error
  }
  return take(engine, valueOf(openFarm(path)))
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
    const folder = join(engine.home, 'copies to read')
    rmSync(folder, { recursive: true, force: true })
    mkdirSync(folder)
    const copy = join(folder, fileName)
    copyFileSync(join(backupFolder(path), newest.fileName), copy)
    bringPhotos(copy, photoFolder(path))
    const opened = valueOf(openFarm(copy))
    engine.farm = { ...opened, copyOf: newest.madeAt, isReadOnly: true }
    return engine.farm
  })
}

/** The whole farm as one file: a copy made beside it, so that it is whole whatever is being written. */
export function copyOut(farm: OpenFarm): WrittenFile {
  const name = basename(farm.path)
  const copy = join(dirname(farm.path), `${name}.copy`)
  return onDisk(farm.path, () => {
    removeFarmFiles(copy)
    try {
      valueOf(copyFarm(farm, copy))
      return { name, type: 'application/vnd.sqlite3', base64: readFileSync(copy).toString('base64') }
    } finally {
      removeFarmFiles(copy)
    }
  })
}

/** Taken only when it opens: what is no farm leaves nothing behind. */
export function bringFarmIn(engine: Engine, { name, base64 }: Input<'farm.bringIn'>['file']): OpenFarm {
  const path = freePath(engine.home, basename(name, farmEnding))
  return onDisk(path, () => {
    const building = `${path}.part`
    writeFileSync(building, Buffer.from(base64, 'base64'))
    flush(building)
    renameSync(building, path)
    flushFolder(engine.home)
    const opened = openFarm(path)
    if (!opened.ok) {
      removeFarmFiles(path)
      // Named as the person knows it.
      throw new ProblemError(
        opened.problems.map((problem) => ({ ...problem, where: { ...problem.where, file: name } })),
      )
    }
    return take(engine, opened.value)
  })
}

/** Under another name in the same folder; see `moveTo`. */
export function renameFarm(engine: Engine, name: string): OpenFarm {
  return moveTo(engine, join(dirname(farmAtHand(engine).path), `${safeName(name)}${farmEnding}`))
}

/** The farm at another place or under another name, with its backups, and open. Never in place of a file that is there. */
export function moveTo(engine: Engine, to: string): OpenFarm {
  const { path } = farmAtHand(engine)
  const target = withEnding(to)
  if (target === path) return farmAtHand(engine)
  if (existsSync(target)) {
    const what = `There is a farm file “${basename(target)}” already.`
    const remedy = 'Choose another name; a file is never replaced.'
    throw new ProblemError([{ code: 'repeated-name', what, where: { file: basename(target) }, remedy }])
  }
  return onDisk(path, () => {
    stopSolving(engine)
    letGo(engine)
    try {
      // The seal first: one left behind under the old name would be taken for that of a farm to come.
      rmSync(`${path}.sha256`, { force: true })
      carry(path, target)
      carryBackups(path, target)
      flushFolder(dirname(target))
    } finally {
      const there = existsSync(target) ? target : path
      engine.farm = valueOf(openFarm(there))
      rememberFarm(engine.home, engine.farm.path)
    }
    return farmAtHand(engine)
  })
}

/** A whole copy, in place of what is there: it is built beside it, checked, and moved there in one step. */
export function copyTo(farm: OpenFarm, to: string): string {
  const target = withEnding(to)
  if (existsSync(target) && realpathSync(target) === farm.path) {
    const what = `“${basename(target)}” is the farm itself.`
    const remedy = 'Give the copy another name or another folder.'
    throw new ProblemError([{ code: 'repeated-name', what, where: { file: basename(target) }, remedy }])
  }
  return onDisk(target, () => {
    const building = `${target}.copy`
    removeFarmFiles(building)
    try {
      valueOf(copyFarm(farm, building))
      // What lay there leaves nothing behind that would be taken for the copy's.
      for (const ending of ['-journal', '-wal', '-shm', '.sha256']) rmSync(`${target}${ending}`, { force: true })
      renameSync(building, target)
      flushFolder(dirname(target))
      return target
    } finally {
      removeFarmFiles(building)
    }
  })
}

const withEnding = (path: string) => (path.endsWith(farmEnding) ? path : `${path}${farmEnding}`)

/** In one step where that can be; else one by one, into the folder that is there or onto the other disk. */
function carryBackups(path: string, target: string): void {
  const [from, to] = [backupFolder(path), backupFolder(target)]
  if (!existsSync(from)) return
  if (!existsSync(to)) {
    try {
      return renameSync(from, to)
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EXDEV') throw error
    }
  }
  carryFolder(from, to)
}

/** File by file, into what is there: pictures lie in a folder of their own. */
function carryFolder(from: string, to: string): void {
  mkdirSync(to, { recursive: true })
  for (const entry of readdirSync(from, { withFileTypes: true })) {
    const [own, other] = [join(from, entry.name), join(to, entry.name)]
    if (entry.isDirectory()) carryFolder(own, other)
    else carry(own, other)
  }
  rmSync(from, { recursive: true })
}

/** Also onto another disk, where nothing can be renamed to: copied, flushed, and only then taken from here. */
function carry(from: string, to: string): void {
  try {
    renameSync(from, to)
    return
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EXDEV') throw error
  }
  const building = `${to}.part`
  copyFileSync(from, building)
  flush(building)
  renameSync(building, to)
  flushFolder(dirname(to))
  rmSync(from)
}
