/** Finds a Chromium for the window tests: one that is named, the system's, or Playwright's own; else gets one. */
import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { createRequire } from 'node:module'
import { delimiter, dirname, join } from 'node:path'

/** Quiet, offline, and able to run as root in a container. */
export const chromiumArgs = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

const names = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable']
const fixed = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  join(process.env.PROGRAMFILES ?? '', 'Google', 'Chrome', 'Application', 'chrome.exe'),
]

export function findProgram(name) {
  const folders = (process.env.PATH ?? '').split(delimiter)
  return folders.map((folder) => join(folder, name)).find((path) => existsSync(path)) ?? null
}

/** Path of a Chromium, or null. Looks only. */
export function findChromium() {
  if (process.env.STANDWELL_CHROMIUM) return process.env.STANDWELL_CHROMIUM
  const found = names.map(findProgram).find((path) => path !== null) ?? fixed.find((path) => existsSync(path))
  if (found) return found
  const { chromium } = createRequire(import.meta.url)('@playwright/test')
  return existsSync(chromium.executablePath()) ? chromium.executablePath() : null
}

/** As findChromium, but installs one where there is none: apt on Debian as root, else Playwright's download. */
export function getChromium() {
  const found = findChromium()
  if (found) return found
  process.stdout.write('No Chromium here; getting one for the window tests…\n')
  const quiet = { stdio: 'ignore', timeout: 300_000 }
  if (process.getuid?.() === 0 && findProgram('apt-get')) {
    const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' }
    spawnSync('apt-get', ['update', '-qq'], { ...quiet, env })
    spawnSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', 'chromium'], { ...quiet, env })
  }
  if (!findChromium()) {
    const playwright = join(dirname(createRequire(import.meta.url).resolve('@playwright/test')), 'cli.js')
    spawnSync(process.execPath, [playwright, 'install', 'chromium'], quiet)
  }
  return findChromium()
}
