/**
 * Where farms live. One rule for every host, so that a farm begun in the browser window is there in the
 * desktop window too. STANDWELL_HOME wins; else the platform's own folder for a program's data.
 */
import { appendFileSync, mkdirSync, statSync, truncateSync } from 'node:fs'
import { homedir } from 'node:os'
import { join, resolve } from 'node:path'

export function dataHome(env: NodeJS.ProcessEnv = process.env, platform: string = process.platform): string {
  if (env.STANDWELL_HOME) return resolve(env.STANDWELL_HOME)
  if (platform === 'win32') return join(env.APPDATA || join(homedir(), 'AppData', 'Roaming'), 'standwell')
  if (platform === 'darwin') return join(homedir(), 'Library', 'Application Support', 'standwell')
  return join(env.XDG_DATA_HOME || join(homedir(), '.local', 'share'), 'standwell')
}

export function ensureDataHome(): string {
  const home = dataHome()
  mkdirSync(home, { recursive: true })
  return home
}

const enough = 1_000_000

/** Adds a bug's particulars to errors.log in the data folder; starts afresh past 1 MB. Never throws. */
export function noteBugIn(home: string): (call: string, error: unknown) => void {
  const file = join(home, 'errors.log')
  return (call, error) => {
    const particulars = error instanceof Error ? (error.stack ?? error.message) : String(error)
    try {
      if ((statSync(file, { throwIfNoEntry: false })?.size ?? 0) > enough) truncateSync(file)
      appendFileSync(file, `${new Date().toISOString()} ${call}\n${particulars}\n\n`)
    } catch {
      // A full or read-only disk must not turn one fault into two.
    }
  }
}
