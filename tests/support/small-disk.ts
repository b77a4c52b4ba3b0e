/** A disk of a few megabytes that can really be filled: what SQLite and the system do then is theirs, not a made-up error. */
import { execFileSync } from 'node:child_process'
import { closeSync, mkdirSync, mkdtempSync, openSync, rmSync, statfsSync, writeSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

export interface SmallDisk {
  /** The folder that is the disk. */
  folder: string
  /** Fills it until so many bytes are left. */
  fill(left: number): void
  /** Room again. */
  clear(): void
  /** Gives the disk back. */
  remove(): void
}

/** @param size [byte] of the whole disk. @returns null where this user may not mount one */
export function smallDisk(size: number): SmallDisk | null {
  const folder = mkdtempSync(join(tmpdir(), 'standwell-disk-'))
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${size}`, 'tmpfs', folder], { stdio: 'ignore' })
  } catch {
    rmSync(folder, { recursive: true, force: true })
    return null
  }
  const weight = join(folder, '.weight')
  const clear = () => rmSync(weight, { force: true })
  return {
    folder,
    clear,
    fill(left) {
      clear()
      const { bavail, bsize } = statfsSync(folder)
      const file = openSync(weight, 'w')
      const block = Buffer.alloc(bsize)
      for (let n = Math.max(0, bavail - Math.floor(left / bsize)); n > 0; n -= 1) {
        try {
          writeSync(file, block)
        } catch {
          break
        }
      }
      closeSync(file)
    },
    remove() {
      execFileSync('umount', ['-l', folder], { stdio: 'ignore' })
      rmSync(folder, { recursive: true, force: true })
    },
  }
}

/** The folder of one test on a disk, made anew. */
export function homeOn(disk: SmallDisk, name = 'home'): string {
  const home = join(disk.folder, name)
  rmSync(home, { recursive: true, force: true })
  mkdirSync(home)
  return home
}
