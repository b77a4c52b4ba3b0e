/**
 * `npm test`: every check there is, in one readable run with one closing line. Exhaustive sets run as a sample that follows the
 * commit (`sample-seed.mjs`). `--static` stops after the static checks, `--windows` runs only the built window, `--safety`
 * only the long set of faults, `--all` only the exhaustive sets, whole. What cannot run here is named and counted as
 * skipped, never as passed; STANDWELL_NO_SKIPS=1 (as in .ci/run) makes a skip a failure.
 */
import { spawn } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync, statfsSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'
import { stripVTControlCharacters } from 'node:util'
import { findProgram, getChromium } from './chromium.mjs'
import { playwrightCounts, slowest, vitestCounts } from './counts.mjs'
import { exhaustiveFiles, heaviestFirst, safetyFiles } from './exhaustive.mjs'
import { MARK } from './progress.mjs'
import { realElectron } from './real-electron.mjs'
import { sampleSeed } from './sample-seed.mjs'

if (Number(process.versions.node.split('.')[0]) < 22) {
  process.stderr.write('The tests need Node 22 or later; run them through npm.\n')
  process.exit(1)
}

const project = fileURLToPath(new URL('../..', import.meta.url))
const only = process.argv.slice(2).find((arg) => arg.startsWith('--'))
const scratch = mkdtempSync(join(tmpdir(), 'standwell-test-'))
const quick = quickFolder()
const total = { passed: 0, failed: 0, skipped: 0 }
const skippedNames = []
/** What a test of safety counts, as it tells it at its end: `kills survived: 278`. */
const FIGURES = /^[a-z][a-z ]+: \d+.*$/gm
/** [ms] of every test, for the list of the slowest. */
const times = []
const seed = sampleSeed()
const env = { ...process.env, FORCE_COLOR: '0', STANDWELL_SEED: seed }
// Node warns on every start when both are set.
delete env.NO_COLOR

/**
 * Where farms that tests make and throw away lie: in memory, where the system has room there, since on a disk a test waits at every
 * flush. What is flushed is told by what is asked of the system (`tests/safety/flushed.test.ts`), wherever it lies.
 */
function quickFolder() {
  try {
    const { bavail, bsize } = statfsSync('/dev/shm')
    return bavail * bsize > 4e9 ? mkdtempSync('/dev/shm/standwell-test-') : null
  } catch {
    return null
  }
}

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

/** What a reporter marks for the screen is shown as it comes; the rest is kept, for failures. */
async function run(command, args, more = {}, stop = undefined) {
  const options = { cwd: project, env: { ...env, ...more }, stdio: ['ignore', 'pipe', 'pipe'], signal: stop }
  const child = spawn(command, args, options)
  let said = ''
  const lines = createInterface({ input: child.stdout })
  lines.on('line', (line) => {
    if (line.startsWith(MARK)) say(line.slice(MARK.length))
    else said += `${line}\n`
  })
  child.stderr.on('data', (text) => (said += text))
  const code = await new Promise((resolve) => {
    child.on('error', () => resolve(127))
    child.on('close', resolve)
  })
  return { code, said: stripVTControlCharacters(said).trim() }
}

const node = (script, args, more, stop) => run(process.execPath, [script, ...args], more, stop)
const vitest = (args, more, stop) =>
  node(
    bin('vitest'),
    ['run', '--config', 'tests/vitest.config.ts', ...args],
    { ...(quick && { TMPDIR: quick }), ...more },
    stop,
  )
const say = (text) => process.stdout.write(`${text}\n`)

function add({ passed, failed, skipped, names = [], times: own = [] }) {
  total.passed += passed
  total.failed += failed
  total.skipped += skipped
  skippedNames.push(...names)
  times.push(...own)
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
  say(`     ${name} …`)
  const { code, said } = await work()
  tell(name, report, countsOf, code, said, begun)
}

function tell(name, report, countsOf, code, said, begun) {
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

/** Kept between runs, so that only what changed is looked at again; thrown away, everything is. */
const cached = (name) => join(project, '.cache', 'checks', name)

async function staticChecks() {
  const folders = '{src-main,src-shared,src-renderer,tests,migrations}'
  const layout = [`${folders}/**/*.{ts,mjs,svelte,css,html}`, '*.{js,ts}']
  const kept = (name) => ['--cache', '--cache-strategy', 'content', '--cache-location', cached(name)]
  // Two at a time: eslint reads types as well, and takes as long as the others together.
  await Promise.all([
    check('lint (eslint)', () => node(bin('eslint'), ['.', '--max-warnings', '0', ...kept('eslint')])),
    check('types (tsc)', () =>
      node(bin('typescript', 'tsc'), ['--noEmit', '--incremental', '--tsBuildInfoFile', cached('tsc')]),
    )
      .then(() =>
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
      )
      .then(() =>
        check('layout (prettier)', () =>
          node(bin('prettier'), ['--check', '--no-error-on-unmatched-pattern', ...kept('prettier'), ...layout]),
        ),
      ),
  ])
}

/** @param {string[]} folders none: all */
function unitTests(name = 'unit and component tests (vitest)', folders = [], more = {}) {
  const report = join(scratch, 'vitest.json')
  const lines = join(import.meta.dirname, 'vitest-lines.mjs')
  const args = ['--reporter=default', '--reporter=json', `--reporter=${lines}`]
  return suite(name, report, vitestCounts, () => vitest([...args, `--outputFile.json=${report}`, ...folders], more))
}

/** Three to fifty times as many kills, faults and hostile files as with every commit: an hour or two, so each file tells its figures. */
const longSafety = () => filesApart(heaviestFirst(safetyFiles()), { STANDWELL_SAFETY: 'long' })

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
  const lines = join(import.meta.dirname, 'playwright-lines.mjs')
  const args = ['test', '--config', 'tests/playwright.config.ts', `--reporter=list,json,${lines}`]
  const xvfb = process.env.DISPLAY ? null : findProgram('xvfb-run')
  const command = [process.execPath, bin('@playwright/test', 'playwright'), ...args]
  // Left by its last client a display begins anew, and turns away who comes just then: Electron started again after a kill.
  if (xvfb) command.unshift(xvfb, '-a', '-s', '-screen 0 1280x1024x24 -noreset')
  await suite('window tests (playwright)', report, playwrightCounts, () => run(command[0], command.slice(1), more))
}

/**
 * Each file in a run of its own, in two lanes, with what it counts and what it takes. STANDWELL_BUDGET, in seconds, ends it: no
 * further file is begun, what runs is ended, and only what ran to its end is counted.
 */
async function filesApart(files, more) {
  const budget = Number(process.env.STANDWELL_BUDGET ?? Infinity) * 1000
  const began = Date.now()
  const over = new AbortController()
  const timer = Number.isFinite(budget) ? setTimeout(() => over.abort(), budget) : undefined
  const left = []
  const lane = async () => {
    for (let file = files.shift(); file !== undefined; file = files.shift()) {
      if (over.signal.aborted) left.push(file)
      else if (!(await fileApart(file, more, over.signal))) left.push(file)
    }
  }
  await Promise.all([lane(), lane()])
  clearTimeout(timer)
  if (left.length === 0) return
  say(
    `The time of ${Math.round((Date.now() - began) / 1000)} s is over. Not run to the end, and not counted: ${left.join(', ')}`,
  )
}

/** @returns {Promise<boolean>} false where its time was over before its end */
async function fileApart(file, more, stop) {
  const report = join(scratch, `${file.replaceAll(/\W/g, '-')}.json`)
  const args = ['--reporter=default', '--reporter=json']
  const begun = Date.now()
  const { code, said } = await vitest([...args, `--outputFile.json=${report}`, file], more, stop)
  if (stop.aborted && !existsSync(report)) return false
  tell(file, report, vitestCounts, code, said, begun)
  for (const [figure] of said.matchAll(FIGURES)) say(`       ${figure}`)
  return true
}

const begunAll = Date.now()
try {
  if (!['--static', '--safety', '--all'].includes(only ?? ''))
    say(`Sampled by ${seed}; STANDWELL_SEED=${seed} repeats it, npm run test:all runs the whole sets.`)
  if (only === '--safety') await longSafety()
  else if (only === '--all') await filesApart(exhaustiveFiles(), { STANDWELL_SAMPLE: 'all' })
  else {
    if (only !== '--windows') await staticChecks()
    if (!only) await unitTests()
    if (only !== '--static') await windowTests()
  }
} finally {
  for (const folder of [scratch, quick]) if (folder) rmSync(folder, { recursive: true, force: true })
}

if (times.length > 0) say(`The slowest, of ${Math.round((Date.now() - begunAll) / 1000)} s in all:`)
for (const line of slowest(times)) say(line)
for (const name of skippedNames) say(`skipped: ${name}`)
if (process.env.STANDWELL_NO_SKIPS === '1' && total.skipped > 0) {
  say('Nothing may be skipped here (STANDWELL_NO_SKIPS=1).')
  total.failed += total.skipped
  total.skipped = 0
}
const tail = total.skipped > 0 ? `, ${total.skipped} skipped` : ''
say(`${total.passed} passed, ${total.failed} failed${tail}`)
process.exitCode = total.failed > 0 ? 1 : 0
