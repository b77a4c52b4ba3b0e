/**
 * `npm test`: every check there is, in one readable run with one closing line. `--static` stops after the static
 * checks, `--windows` runs only the built window and `--safety` only the long set of faults. What cannot run here
 * is named and counted as skipped, never as passed; STANDWELL_NO_SKIPS=1 (as in .ci/run) makes a skip a failure.
 */
import { spawn } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { stripVTControlCharacters } from 'node:util'
import { findProgram, getChromium } from './chromium.mjs'
import { playwrightCounts, vitestCounts } from './counts.mjs'
import { realElectron } from './real-electron.mjs'

if (Number(process.versions.node.split('.')[0]) < 22) {
  process.stderr.write('The tests need Node 22 or later; run them through npm.\n')
  process.exit(1)
}

const project = fileURLToPath(new URL('../..', import.meta.url))
const only = process.argv.slice(2).find((arg) => arg.startsWith('--'))
const scratch = mkdtempSync(join(tmpdir(), 'standwell-test-'))
const total = { passed: 0, failed: 0, skipped: 0 }
const skippedNames = []
const env = { ...process.env, FORCE_COLOR: '0' }
// Node warns on every start when both are set.
delete env.NO_COLOR

/** The JavaScript behind a package's command, so that this Node runs it on every platform. */
function bin(packageName, command = packageName) {
  const manifest = findManifest(packageName)
  const { bin: bins } = JSON.parse(readFileSync(manifest, 'utf8'))
  return join(dirname(manifest), typeof bins === 'string' ? bins : bins[command])
}

function findManifest(packageName) {
  const folders = createRequire(import.meta.url).resolve.paths(packageName) ?? []
  const manifest = folders.map((folder) => join(folder, packageName, 'package.json')).find((path) => existsSync(path))
  if (!manifest) throw new Error(`${packageName} is not installed; run npm ci.`)
  return manifest
}

async function run(command, args, more = {}) {
  const child = spawn(command, args, { cwd: project, env: { ...env, ...more }, stdio: ['ignore', 'pipe', 'pipe'] })
  let said = ''
  child.stdout.on('data', (text) => (said += text))
  child.stderr.on('data', (text) => (said += text))
  const code = await new Promise((resolve) => {
    child.on('error', () => resolve(127))
    child.on('close', resolve)
  })
  return { code, said: stripVTControlCharacters(said).trim() }
}

const node = (script, args, more) => run(process.execPath, [script, ...args], more)
const say = (text) => process.stdout.write(`${text}\n`)

function add({ passed, failed, skipped, names = [] }) {
  total.passed += passed
  total.failed += failed
  total.skipped += skipped
  skippedNames.push(...names)
}

async function check(name, work) {
  const begun = Date.now()
  const { code, said } = await work()
  const seconds = ((Date.now() - begun) / 1000).toFixed(1)
  say(`${code === 0 ? 'ok  ' : 'FAIL'} ${name} (${seconds} s)`)
  if (code !== 0) say(said.split('\n').slice(-150).join('\n'))
  add(code === 0 ? { passed: 1, failed: 0, skipped: 0 } : { passed: 0, failed: 1, skipped: 0 })
  return code === 0
}

/** A run whose report says how many tests there were; no report is one failure, whatever the exit code. */
async function suite(name, report, countsOf, work) {
  const begun = Date.now()
  const { code, said } = await work()
  const counts = existsSync(report)
    ? countsOf(JSON.parse(readFileSync(report, 'utf8')))
    : { passed: 0, failed: 0, skipped: 0, names: [] }
  // Errors outside any test (a file that does not load, a crash) leave no failed test behind: count one.
  if (code !== 0 && counts.failed === 0) counts.failed = 1
  if (counts.passed + counts.failed + counts.skipped === 0) counts.failed = 1
  const seconds = ((Date.now() - begun) / 1000).toFixed(1)
  const { passed, failed, skipped } = counts
  say(
    `${failed === 0 ? 'ok  ' : 'FAIL'} ${name}: ${passed} passed, ${failed} failed, ${skipped} skipped (${seconds} s)`,
  )
  if (failed > 0) say(failuresIn(said))
  add(counts)
}

/** From the runner's own list of failures on; what passed is not repeated. */
function failuresIn(said) {
  const lines = said.split('\n')
  const from = lines.findIndex((line) => /Failed (Tests|Suites)|^ {2}1\) |Unhandled Error/.test(line))
  return lines.slice(Math.max(from, lines.length - 300, 0)).join('\n')
}

async function staticChecks() {
  const folders = '{src-main,src-shared,src-renderer,tests,migrations}'
  const layout = [`${folders}/**/*.{ts,mjs,svelte,css,html}`, '*.{js,ts}']
  // Two at a time: the compiler in one lane, the quick ones in the other.
  await Promise.all([
    check('types (tsc)', () => node(bin('typescript', 'tsc'), ['--noEmit'])).then(() =>
      check('types (svelte-check)', () =>
        node(bin('svelte-check'), [
          '--tsconfig',
          './tsconfig.json',
          '--output',
          'human',
          '--threshold',
          'warning',
          '--fail-on-warnings',
        ]),
      ),
    ),
    check('lint (eslint)', () => node(bin('eslint'), ['.', '--max-warnings', '0'])).then(() =>
      check('layout (prettier)', () =>
        node(bin('prettier'), ['--check', '--no-error-on-unmatched-pattern', ...layout]),
      ),
    ),
  ])
}

/** @param {string[]} folders none: all */
function unitTests(name = 'unit and component tests (vitest)', folders = [], more = {}) {
  const report = join(scratch, 'vitest.json')
  const args = ['run', '--config', 'tests/vitest.config.ts', '--reporter=default', '--reporter=json']
  return suite(name, report, vitestCounts, () =>
    node(bin('vitest'), [...args, `--outputFile.json=${report}`, ...folders], more),
  )
}

/** Three to fifty times as many kills, faults and hostile files as with every commit. */
const longSafety = () => unitTests('the long set of faults (vitest)', ['tests/safety'], { STANDWELL_SAFETY: 'long' })

async function windowTests() {
  const built = await check('build', () => node(join(project, 'src-main', 'start.mjs'), ['build']))
  if (!built) return
  const chromium = getChromium()
  if (!chromium) return add({ passed: 0, failed: 0, skipped: 1, names: ['window tests: no Chromium could be had'] })
  const electron = await realElectron().catch((error) => {
    say(`(no Electron for its tests: ${error.message})`)
    return null
  })
  const report = join(scratch, 'playwright.json')
  const more = {
    STANDWELL_CHROMIUM: chromium,
    STANDWELL_TEST_ELECTRON: electron ?? '',
    PLAYWRIGHT_JSON_OUTPUT_FILE: report,
  }
  const args = ['test', '--config', 'tests/playwright.config.ts', '--reporter=list,json']
  const xvfb = process.env.DISPLAY ? null : findProgram('xvfb-run')
  const command = [process.execPath, bin('@playwright/test', 'playwright'), ...args]
  // Left by its last client a display begins anew, and turns away who comes just then: Electron started again after a kill.
  if (xvfb) command.unshift(xvfb, '-a', '-s', '-screen 0 1280x1024x24 -noreset')
  await suite('window tests (playwright)', report, playwrightCounts, () => run(command[0], command.slice(1), more))
}

try {
  if (only === '--safety') await longSafety()
  else {
    if (only !== '--windows') await staticChecks()
    if (!only) await unitTests()
    if (only !== '--static') await windowTests()
  }
} finally {
  rmSync(scratch, { recursive: true, force: true })
}

for (const name of skippedNames) say(`skipped: ${name}`)
if (process.env.STANDWELL_NO_SKIPS === '1' && total.skipped > 0) {
  say('Nothing may be skipped here (STANDWELL_NO_SKIPS=1).')
  total.failed += total.skipped
  total.skipped = 0
}
const tail = total.skipped > 0 ? `, ${total.skipped} skipped` : ''
say(`${total.passed} passed, ${total.failed} failed${tail}`)
process.exitCode = total.failed > 0 ? 1 : 0
