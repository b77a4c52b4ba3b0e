/**
 * Where farms live. One rule for every host, so that a farm begun in the browser window is there in the
 * desktop window too. STANDWELL_HOME wins; else the platform's own folder for a program's data.
 */
import { appendFileSync, chmodSync, mkdirSync, readFileSync, renameSync, statSync } from 'node:fs'
import { homedir } from 'node:os'
import { join, resolve } from 'node:path'
import { particularsOf } from './bug-particulars.ts'

/** @returns absolute; it need not be there yet */
export function dataHome(env: NodeJS.ProcessEnv = process.env, platform: string = process.platform): string {
  if (env.STANDWELL_HOME) return resolve(env.STANDWELL_HOME)
  if (platform === 'win32') return join(env.APPDATA || join(homedir(), 'AppData', 'Roaming'), 'standwell')
  if (platform === 'darwin') return join(homedir(), 'Library', 'Application Support', 'standwell')
  return join(env.XDG_DATA_HOME || join(homedir(), '.local', 'share'), 'standwell')
}

export function ensureDataHome(): string {
  const home = dataHome()
  mkdirSync(home, { recursive: true, mode: 0o700 })
  try {
    // One that an earlier Standwell made lets others of this computer read.
    chmodSync(home, 0o700)
  } catch {
    // A disk without modes, or a folder of somebody else's: it is used as it is.
  }
  return home
}

const enough = 1_000_000

/** Adds a bug's particulars to errors.log in the data folder; past 1 MB that becomes errors.old.log. Never throws. */
export function noteBugIn(home: string): (call: string, error: unknown) => void {
  const file = join(home, 'errors.log')
  return (call, error) => {
    try {
      if ((statSync(file, { throwIfNoEntry: false })?.size ?? 0) > enough)
        renameSync(file, join(home, 'errors.old.log'))
      appendFileSync(file, `${new Date().toISOString()} ${call}\n${particularsOf(error)}\n\n`)
    } catch {
      // A full or read-only disk must not turn one fault into two.
    }
  }
}

/** The last that was noted, for a report that a person reads before sharing it. */
export function lastBugs(home: string): string {
  try {
    return readFileSync(join(home, 'errors.log'), 'utf8').slice(-8000)
  } catch {
    return ''
  }
}
