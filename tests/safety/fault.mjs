/**
 * Makes the n-th thing that a program does to files fail, or be its last: every test of a full, broken or unplugged disk
 * goes through here. Loaded into the test itself, or with --import into a process that is to be killed.
 */
import fs from 'node:fs'
import { syncBuiltinESMExports } from 'node:module'

/** All of node:fs by which the sources change a disk; a test holds this list against them. */
export const deeds = [
  'openSync',
  'writeFileSync',
  'appendFileSync',
  'copyFileSync',
  'renameSync',
  'linkSync',
  'mkdirSync',
  'rmSync',
  'fsyncSync',
  'truncateSync',
  'rmdirSync',
  'chmodSync',
  'mkdtempSync',
]

/** All by which they ask a disk, which a network drive or a worn stick refuses as well. `existsSync` says no, and never fails. */
export const questions = [
  'openSync',
  'statSync',
  'lstatSync',
  'readFileSync',
  'readdirSync',
  'realpathSync',
  'readSync',
  'closeSync',
]

const real = Object.fromEntries([...deeds, ...questions].map((name) => [name, fs[name]]))

/**
 * From now on counts what is done below a folder; `at` is the one that fails (0: none), `forever` also all after it.
 * @param {{ at: number, how: string, forever?: boolean, below: string, reading?: boolean }} fault with `reading` it is what is asked
 *   that fails, in place of what is done
 * @returns {{ done: string[], undo: () => void }} what was done, in order; and an end to it
 */
export function breakDisk({ at, how, forever = false, below, reading = false }) {
  /** @type {string[]} */
  const done = []
  // A handle stands for its path: what is flushed below the folder counts, as what is opened.
  const handles = new Map()
  for (const name of new Set(['openSync', ...(reading ? questions : deeds)])) {
    fs[name] = (first, ...rest) => {
      const path = typeof first === 'number' ? handles.get(first) : String(first)
      const isOther = name === 'openSync' && (rest[0] === undefined || rest[0] === 'r') !== reading
      if (path === undefined || !path.startsWith(below) || isOther) {
        const result = real[name](first, ...rest)
        if (name === 'openSync') handles.set(result, String(first))
        return result
      }
      done.push(`${name} ${path.slice(below.length)}`)
      if (at > 0 && (done.length === at || (forever && done.length > at))) {
        if (how === 'kill') process.kill(process.pid, 'SIGKILL')
        // A handle is gone, whatever the system says of it.
        if (name === 'closeSync') real.closeSync(first)
        const error = new Error(`${how}: made to fail, ${name}`)
        throw Object.assign(error, { code: how, errno: -1, syscall: name })
      }
      const result = real[name](first, ...rest)
      if (name === 'openSync') handles.set(result, path)
      return result
    }
  }
  syncBuiltinESMExports()
  return {
    done,
    undo() {
      Object.assign(fs, real)
      syncBuiltinESMExports()
    },
  }
}

// In a process that is to be killed at its n-th step.
if (process.env.STANDWELL_FAULT) breakDisk(JSON.parse(process.env.STANDWELL_FAULT))
