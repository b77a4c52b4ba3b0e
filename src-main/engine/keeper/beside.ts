/**
 * What lies beside a farm's file, and whether a name is free: a journal or a seal that was left there would be taken for that
 * of the next farm of the name. Such a thing is put aside under a name that says what it is, never deleted.
 */
import { linkSync, lstatSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import type { Problem } from '../../../src-shared/problem.ts'
import { backupFolder, farmEnding } from '../backup-path.ts'
import { fitting } from '../farm-name.ts'

/** What SQLite and the seal leave beside a file. */
const endings = ['-wal', '-journal', '-shm', '.sha256'] as const
type Ending = (typeof endings)[number]

/** How the name of what was put aside ends: no farm's, no journal's. */
export const asideEnding = '.aside'

const words: Record<Ending, string> = {
  '-wal': 'journal',
  '-journal': 'journal',
  '-shm': 'index of a journal',
  '.sha256': 'seal',
}

/** Changes that are not in the file itself yet. An empty journal holds none. */
export function hasJournal(path: string): boolean {
  return ['-wal', '-journal'].some((ending) => (statSync(path + ending, { throwIfNoEntry: false })?.size ?? 0) > 0)
}

/** Nothing of a farm is under the name but what `clearName` puts aside. A link that leads nowhere takes a name as well. */
export function isFreeName(path: string): boolean {
  return !isThere(path) && !isThere(backupFolder(path))
}

export function isThere(path: string): boolean {
  try {
    return lstatSync(path, { throwIfNoEntry: false }) !== undefined
  } catch (error) {
    // On the way to it lies a file, not a folder.
    if ((error as NodeJS.ErrnoException).code === 'ENOTDIR') return false
    throw error
  }
}

/** Before a file comes under a name: what was left there by a farm that is no more is put aside. */
export function clearName(path: string): void {
  for (const ending of endings) if (isThere(path + ending)) putAside(path, ending, `${words[ending]} without its farm`)
}

/** @param what of whom it is, when it is not the farm's. @returns the name that it has now */
export function putAside(path: string, ending: Ending | '', what: string): string {
  const now = new Date().toISOString().slice(0, 19).replace('T', ' ').replaceAll(':', '.')
  const stem = fitting(basename(path, farmEnding))
  for (let n = 1; ; n += 1) {
    const name = `${stem}, ${what}, ${now}${n === 1 ? '' : ` ${n}`}${asideEnding}`
    const target = join(dirname(path), name)
    if (isThere(target)) continue
    renameSync(path + ending, target)
    return name
  }
}

/** What has been put aside beside a farm: names, for a person to look at. */
export function asideOf(path: string): string[] {
  const stem = `${fitting(basename(path, farmEnding))}, `
  return readdirSync(dirname(path))
    .filter((name) => name.startsWith(stem) && name.endsWith(asideEnding))
    .sort()
}

/** A link refuses to replace; where the disk has no links, look first. @returns false where the name was taken */
export function moveWithoutReplacing(from: string, to: string): boolean {
  try {
    linkSync(from, to)
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST' || isThere(to)) return false
    renameSync(from, to)
    return true
  }
  rmSync(from, { force: true })
  return true
}

/** Removes a file that this call made, and what SQLite and the seal left beside it. */
export function removeFarmFiles(path: string): void {
  for (const ending of ['', ...endings]) rmSync(path + ending, { force: true })
}

/** As `removeFarmFiles`, of what was left half-built: it is in nobody's way, and is built anew the next time. */
export function clearBuilding(path: string): void {
  try {
    removeFarmFiles(path)
  } catch {
    // The disk that refused to build refuses to clear up.
  }
}

export function nameTaken(path: string): Problem {
  return {
    code: 'repeated-name',
    what: `There is a file “${basename(path)}” already.`,
    where: { file: basename(path) },
    remedy: 'Choose another name; a file is never replaced.',
  }
}
