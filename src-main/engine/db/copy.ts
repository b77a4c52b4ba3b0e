/** A copy of an open database that is whole or is not there at all, with its hash beside it. */
import { createHash } from 'node:crypto'
import {
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs'
import { basename, dirname } from 'node:path'
import { createDatabase, findDamage, type Connection } from './connect.ts'
import { markOf } from './mark.ts'

/**
 * VACUUM INTO a temporary name, check, flush, rename. VACUUM INTO alone neither syncs nor cleans up after itself.
 * @param build writes the whole of it in another way
 * @returns SHA-256 of the copy, also written beside it as `<name>.sha256`: a third of flipped bytes are invisible
 *   to SQLite's own checks, but not to the hash.
 */
export function copyDatabase(
  connection: Connection,
  target: string,
  build: (building: string) => void = (building) => void connection.prepare('VACUUM INTO ?').run(building),
): string {
  if (existsSync(target)) throw new Error(`${basename(target)} is there already.`)
  // The first backup makes its folder: that lasts as well.
  const folder = dirname(target)
  if (mkdirSync(folder, { recursive: true, mode: 0o700 }) !== undefined) flushFolder(dirname(folder))
  const building = `${target}.part`
  rmSync(building, { force: true })
  try {
    makePrivate(building)
    build(building)
    checkCopy(building)
    flush(building)
    const hash = hashOf(building)
    // Its hash first: a copy that is there can always be told from a spoilt one.
    const farm = markOf(connection)?.farmId
    const line = farm === undefined ? '' : `# ${farm}\n`
    writeFileSync(`${target}.sha256`, `${hash}  ${basename(target)}\n${line}`, { mode: 0o600 })
    flush(`${target}.sha256`)
    renameSync(building, target)
    flushFolder(dirname(target))
    return hash
  } catch (error) {
    rmSync(building, { force: true })
    if (!existsSync(target)) rmSync(`${target}.sha256`, { force: true })
    throw error
  }
}

/** True if the copy is still the one that was written. */
export function isUnchanged(copy: string): boolean {
  const written = readFileSync(`${copy}.sha256`, 'utf8').slice(0, 64)
  return written === hashOf(copy)
}

/** Never of a file that is open: closing the handle would drop SQLite's locks. */
export function hashOf(path: string): string {
  return createHash('sha256').update(readFileSync(path)).digest('hex')
}

/** Throws where SQLite finds fault with a copy that is not in use yet. */
export function checkCopy(path: string): void {
  const copy = createDatabase(path)
  try {
    const [damage] = findDamage(copy, path)
    if (damage) throw new Error(damage.what)
  } finally {
    copy.close()
  }
}

/** Of which farm a copy is, by the line beside its hash; null where it does not say. */
export function farmOfCopy(copy: string): string | null {
  try {
    return /^# (farm-[0-9a-f]{32})$/m.exec(readFileSync(`${copy}.sha256`, 'utf8'))?.[1] ?? null
  } catch {
    return null
  }
}

/** An empty file that only its owner can read, for what is to be built in it: SQLite itself would let everyone read. */
export function makePrivate(path: string): void {
  closeSync(openSync(path, 'wx', 0o600))
}

/** Waits until the disk has it. */
export function flush(path: string): void {
  const file = openSync(path, 'r+')
  try {
    fsyncSync(file)
  } finally {
    closeSync(file)
  }
}

/** What a system says that flushes no folders. */
const cannotFlush = new Set(['EINVAL', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EBADF', 'EISDIR'])

/** Makes a rename last through a power cut. Some systems cannot flush a folder and do not need it. */
export function flushFolder(path: string): void {
  if (process.platform === 'win32') return
  const folder = openSync(path, 'r')
  try {
    fsyncSync(folder)
  } catch (error) {
    if (!cannotFlush.has(String((error as NodeJS.ErrnoException).code))) throw error
  } finally {
    closeSync(folder)
  }
}
