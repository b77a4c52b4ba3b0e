/**
 * A seal on a farm's file while it is closed: its hash, in a file beside it. A third of flipped bytes pass SQLite's own
 * checks; none passes this one. An open file has no seal, so one that was not closed in order has none either.
 */
import { existsSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { dirname } from 'node:path'
import { fileAt } from './file-at.ts'
import { flush, flushFolder, hashOf } from './copy.ts'
import { markIn } from './mark.ts'

const sealOf = (path: string) => `${path}.sha256`

/**
 * broken: not the bytes that were closed · strange: the seal of another farm, left under this one's name · none: never closed,
 * not closed in order, or made elsewhere.
 */
export type SealState = 'whole' | 'broken' | 'strange' | 'none'

/** Never of a file that this process has open. */
export function sealState(path: string): SealState {
  // What waits in a journal is not in the hash: it is an open file, or one whose user was killed.
  if (!existsSync(sealOf(path)) || existsSync(`${path}-wal`) || existsSync(`${path}-journal`)) return 'none'
  if (!isReadable(sealOf(path))) return 'strange'
  const [written = '', farm] = readFileSync(sealOf(path), 'utf8').split(/\s+/)
  if (!/^[0-9a-f]{64}$/.test(written)) return 'none'
  if (written === hashOf(path)) return 'whole'
  const own = farm !== undefined && /^farm-[0-9a-f]{32}$/.test(farm) ? markIn(path)?.farmId : undefined
  return own !== undefined && own !== farm ? 'strange' : 'broken'
}

/** [byte] A seal is one line. */
const longest = 1000

/** Something else may bear its name: a folder, or a file of gigabytes. */
function isReadable(seal: string): boolean {
  return (fileAt(seal)?.size ?? Infinity) <= longest
}

/** The bytes are those that were closed, whatever journal lies beside them. Never of a file that this process has open. */
export function isAsClosed(path: string): boolean {
  return isReadable(sealOf(path)) && readFileSync(sealOf(path), 'utf8').slice(0, 64) === hashOf(path)
}

/**
 * Once the file is closed. A file that still has a journal is left without.
 * @param farmId as it was read while the file was open; absent: it is read from the file
 */
export function sealFile(path: string, farmId: string | null = markIn(path)?.farmId ?? null): void {
  breakSeal(path)
  if (!existsSync(path) || existsSync(`${path}-wal`) || existsSync(`${path}-journal`)) return
  const building = `${sealOf(path)}.part`
  writeFileSync(building, `${hashOf(path)} ${farmId ?? ''}\n`, { mode: 0o600 })
  flush(building)
  renameSync(building, sealOf(path))
  flushFolder(dirname(path))
}

/** Before the first write to it, and lasting: a stale seal would call a good file broken. */
export function breakSeal(path: string): void {
  if (!existsSync(sealOf(path))) return
  rmSync(sealOf(path))
  flushFolder(dirname(path))
}
