/** Builds out/ when the sources are not those it was built from. Silent on stdout; a failed build shows its errors. */
import { spawn } from 'node:child_process'
import { createHash } from 'node:crypto'
import { mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import { fileURLToPath } from 'node:url'

export const project = fileURLToPath(new URL('../..', import.meta.url))
const out = join(project, 'out')
const stamp = join(out, 'built-from')
const lock = join(project, 'out', 'building')
const sources = ['src-main', 'src-shared', 'src-renderer', 'migrations', 'electron.vite.config.ts', 'package.json']

/** Names, sizes and times of all sources: changes when one is edited, added or deleted. */
function fingerprint() {
  const lines = []
  const visit = (path) => {
    const found = statSync(join(project, path), { throwIfNoEntry: false })
    if (!found) return
    if (found.isDirectory()) for (const name of readdirSync(join(project, path)).sort()) visit(`${path}/${name}`)
    else lines.push(`${path} ${found.size} ${found.mtimeMs}`)
  }
  sources.forEach(visit)
  return createHash('sha256').update(lines.join('\n')).digest('hex')
}

function isBuilt() {
  try {
    return readFileSync(stamp, 'utf8') === fingerprint()
  } catch {
    return false
  }
}

export async function buildIfNeeded() {
  if (isBuilt()) return
  if (!(await takeLock())) return
  try {
    process.stderr.write('Building Standwell (first start only takes a few seconds)…\n')
    await buildLocked()
  } finally {
    rmSync(lock, { recursive: true, force: true })
  }
}

export async function build() {
  rmSync(stamp, { force: true })
  await buildIfNeeded()
}

/** True when this process is to build; false when another one has just done it. */
async function takeLock() {
  mkdirSync(out, { recursive: true })
  for (;;) {
    try {
      mkdirSync(lock)
      writeFileSync(join(lock, 'pid'), String(process.pid))
      return true
    } catch (error) {
      if (error.code !== 'EEXIST') throw error
    }
    if (!isHeld()) rmSync(lock, { recursive: true, force: true })
    await pause(200)
    if (isBuilt()) return false
  }
}

function isHeld() {
  try {
    const age = Date.now() - statSync(lock).mtimeMs
    if (age < 1_000) return true // its pid may not be written yet
    process.kill(Number(readFileSync(join(lock, 'pid'), 'utf8')), 0)
    return true
  } catch {
    return false
  }
}

async function buildLocked() {
  // Taken before: an edit made while building leads to another build, not to a stale window.
  const before = fingerprint()
  const fault = await bundle('production')
  if (fault !== null) {
    process.stderr.write(`${fault}\nStandwell could not be built.\n`)
    rmSync(lock, { recursive: true, force: true })
    process.exit(1)
  }
  writeFileSync(stamp, before)
}

/** What is being worked on, which is never taken for what was built to be used. @returns null, or what is wrong with it */
export function buildToWorkOn() {
  rmSync(stamp, { force: true })
  return bundle('development')
}

/** @returns {Promise<string | null>} null when it went well */
async function bundle(mode) {
  const bin = join(project, 'node_modules', 'electron-vite', 'bin', 'electron-vite.js')
  const child = spawn(process.execPath, [bin, 'build', '--mode', mode, '--logLevel', 'error'], {
    cwd: project,
    stdio: ['ignore', 'pipe', 'pipe'],
    env: { ...process.env, NODE_ENV: 'production', NODE_ENV_ELECTRON_VITE: 'production' },
  })
  let said = ''
  child.stdout.on('data', (text) => (said += text))
  child.stderr.on('data', (text) => (said += text))
  const code = await new Promise((resolve) => child.on('close', resolve))
  return code === 0 ? null : said
}
