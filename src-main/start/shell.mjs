/**
 * Opens the window: in Electron where its program can be had, else in a browser from a server on this machine.
 * Whatever goes wrong with a download is one plain line here, never a stack.
 */
import { fork, spawn } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { project } from './build.mjs'

const electron = join(project, 'node_modules', 'electron')
export const hasDisplay = process.platform !== 'linux' || Boolean(process.env.DISPLAY || process.env.WAYLAND_DISPLAY)

// Chromium's own sandbox refuses to run as root; our pages stay sandboxed by policy.
const isRoot = process.platform === 'linux' && process.getuid?.() === 0
export const electronArgs = [project, ...(isRoot ? ['--no-sandbox'] : [])]

export async function openShell() {
  if (!hasDisplay) return serveToBrowser('There is no display here, so the window is served to a browser.')
  const program = await findElectron()
  if (!program) return serveToBrowser('Electron could not be downloaded, so the window opens in your browser.')
  const problem = await runElectron(program)
  if (problem) await serveToBrowser(problem)
}

/** Path of Electron's program, fetched where it is not there yet; null where it cannot be had. */
export async function findElectron() {
  return electronProgram() ?? ((await downloadElectron()) ? electronProgram() : null)
}

function electronProgram() {
  const named =
    { darwin: 'Electron.app/Contents/MacOS/Electron', win32: 'electron.exe' }[process.platform] ?? 'electron'
  const folder = process.env.ELECTRON_OVERRIDE_DIST_PATH || join(electron, 'dist')
  const program = join(folder, named)
  return existsSync(program) ? program : null
}

async function downloadElectron() {
  const installer = join(electron, 'install.js')
  if (process.env.STANDWELL_SKIP_ELECTRON_DOWNLOAD === '1' || !existsSync(installer)) return false
  const { version } = JSON.parse(readFileSync(join(electron, 'package.json'), 'utf8'))
  process.stdout.write(`Getting the desktop window (Electron ${version}), once…\n`)
  const child = spawn(process.execPath, [installer], { stdio: 'ignore', timeout: 60_000 })
  return (await ended(child)) === 0
}

/** Null when the window was opened and closed; else one sentence on why it could not be. */
async function runElectron(program) {
  const begun = Date.now()
  // Chromium grumbles about the desktop on stderr whatever happens; bugs go to errors.log in the data folder.
  const env = { STANDWELL_NODE: process.execPath, ...process.env }
  const child = spawn(program, electronArgs, { stdio: 'ignore', env })
  const passOn = (signal) => process.on(signal, () => child.kill(signal))
  passOn('SIGTERM')
  process.on('SIGINT', () => undefined)
  const code = await ended(child)
  const failedAtOnce = code !== 0 && Date.now() - begun < 5_000
  return failedAtOnce ? 'The desktop window could not be opened, so it opens in your browser.' : null
}

async function serveToBrowser(why) {
  process.stdout.write(`${why}\n`)
  const child = fork(join(project, 'out', 'main', 'start-alone.js'), { execArgv: ['--enable-source-maps'] })
  child.on('message', ({ address }) => {
    if (hasDisplay) openBrowser(address)
  })
  // The server hears Ctrl+C itself; a signal to this process alone is passed on.
  process.on('SIGINT', () => child.kill('SIGTERM'))
  process.on('SIGTERM', () => child.kill('SIGTERM'))
  process.exitCode = (await ended(child)) === 0 ? 0 : 1
}

function openBrowser(address) {
  const [command, ...args] = {
    darwin: ['open', address],
    win32: ['cmd', '/c', 'start', '""', address],
  }[process.platform] ?? ['xdg-open', address]
  const child = spawn(command, args, { stdio: 'ignore', detached: true })
  // No opener: the address is printed anyway.
  child.on('error', () => undefined)
  child.unref()
}

function ended(child) {
  return new Promise((resolve) => {
    child.on('error', () => resolve(1))
    child.on('exit', (code) => resolve(code ?? 1))
  })
}
