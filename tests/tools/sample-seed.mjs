/**
 * Which part of the exhaustive sets a run takes. It follows the commit, so that every commit tests another part and the same
 * commit can be tested again; STANDWELL_SEED repeats a printed one.
 */
import { execFileSync } from 'node:child_process'
import { fileURLToPath } from 'node:url'

/** Where there is no git, as in sources that were unpacked from an archive. */
const WITHOUT_GIT = 'standwell'

/** @returns {string} a word that the samples are drawn by */
export function sampleSeed(env = process.env) {
  if (env.STANDWELL_SEED) return env.STANDWELL_SEED
  try {
    const cwd = fileURLToPath(new URL('../..', import.meta.url))
    const head = execFileSync('git', ['rev-parse', '--short=12', 'HEAD'], {
      cwd,
      encoding: 'utf8',
      stdio: 'pipe',
    }).trim()
    return /^[0-9a-f]{7,}$/.test(head) ? head : WITHOUT_GIT
  } catch {
    return WITHOUT_GIT
  }
}
