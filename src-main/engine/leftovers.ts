/** What a killed Standwell left half-built in its own folders: cleared at the next start. Only by our own names, and only what is old. */
import { readdirSync, rmSync, statSync } from 'node:fs'
import { join } from 'node:path'

/** As copies and backups are called while they are built. */
const halfBuilt = /\.farm(\.(part|copy)(-journal|-wal|-shm|\.sha256)?|\.copy\.part(-journal)?|\.sha256\.part)$/
/** [ms] Another Standwell may be building one: its file is written all the time. */
const old = 10 * 60 * 1000

/** Never throws: what cannot be cleared is in nobody's way. @param now [ms] */
export function clearLeftovers(home: string, now: number): void {
  const folders = [
    home,
    ...namesIn(home)
      .filter((name) => name.endsWith(' backups'))
      .map((name) => join(home, name)),
  ]
  for (const folder of folders) {
    for (const name of namesIn(folder).filter((each) => halfBuilt.test(each))) {
      try {
        const path = join(folder, name)
        const file = statSync(path)
        if (file.isFile() && now - file.mtimeMs > old) rmSync(path)
      } catch {
        // Gone meanwhile, or not ours to remove.
      }
    }
  }
}

function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder)
  } catch {
    return []
  }
}
