/** Which file a path leads to. Two names may lead to one file, and one name to another file than a moment ago. */
import { statSync } from 'node:fs'

/** Paths of files that are open in this process, by device and inode: SQLite's locks tell other processes apart only. */
const open = new Map<string, string>()

/** Device and inode; null where there is nothing. */
export function identityOf(path: string): string | null {
  const file = statSync(path, { throwIfNoEntry: false, bigint: true })
  return file === undefined ? null : `${file.dev}:${file.ino}`
}

/** Asked before a file is touched: to read it and let go of it would drop SQLite's locks on it. */
export function isOpenHere(path: string): boolean {
  const identity = identityOf(path)
  return identity !== null && open.has(identity)
}

/** @returns the end of it */
export function noteOpen(path: string): () => void {
  const identity = identityOf(path) ?? path
  open.set(identity, path)
  return () => open.delete(identity)
}
