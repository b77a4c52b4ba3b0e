/**
 * `npm run bench:app [-- rounds]`: how soon the desktop window is there, beside a bare window of the same Electron in the
 * same run; how fast it answers on a large farm; what memory it takes. Goals stand beside the figures. Asserts nothing.
 */
import { spawn, type ChildProcess } from 'node:child_process'
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { cpus, tmpdir } from 'node:os'
import { join, resolve } from 'node:path'
import { runnerImport } from 'vite'
import { textTable } from '../../src-main/engine/export/text-table.ts'
// @ts-expect-error plain JavaScript, which any Node can run by itself
import { realElectron } from '../tools/real-electron.mjs'

const project = resolve(import.meta.dirname, '../..')
const rounds = Number(process.argv[2] ?? 7)
const work = mkdtempSync(join(tmpdir(), 'standwell-bench-app-'))

interface Said {
  what: 'painted' | 'shown' | 'answer'
  at: number
  value?: unknown
  error?: string
}

class Run {
  readonly #child: ChildProcess
  readonly #began = Date.now()
  readonly #said: Said[] = []
  #hear: () => void = () => undefined

  constructor(program: string, more: Record<string, string>) {
    const node = join(project, 'node_modules', 'node', 'bin', 'node')
    const env = { ...process.env, STANDWELL_BENCH_PROJECT: project, STANDWELL_NODE: node, ...more }
    const args = [join(work, 'probe'), '--no-sandbox', '--disable-gpu']
    this.#child = spawn(program, args, { env, stdio: ['pipe', 'pipe', 'ignore'] })
    let rest = ''
    this.#child.stdout?.on('data', (data) => {
      const lines = (rest + String(data)).split('\n')
      rest = lines.pop() ?? ''
      for (const line of lines) if (line.startsWith('@bench ')) this.#said.push(JSON.parse(line.slice(7)) as Said)
      this.#hear()
    })
  }

  async said(what: Said['what'], count = 1): Promise<Said> {
    for (;;) {
      const found = this.#said.filter((each) => each.what === what)[count - 1]
      if (found) return found
      await new Promise<void>((heard) => (this.#hear = heard))
    }
  }

  /** [ms] from the program's start. */
  async until(what: 'painted' | 'shown'): Promise<number> {
    return (await this.said(what)).at - this.#began
  }

  #asked = 0
  async ask(script: string): Promise<unknown> {
    this.#child.stdin?.write(JSON.stringify({ script }))
    this.#asked += 1
    const { value, error } = await this.said('answer', this.#asked)
    if (error !== undefined) throw new Error(error)
    return value
  }

  /** [MB] of all its processes, what they share counted once. */
  memory(): number {
    const all = [this.#child.pid ?? 0]
    for (const pid of all) all.push(...childrenOf(pid))
    return all.reduce((sum, pid) => sum + shareOf(pid), 0) / 1024
  }

  /** A program that does not go is made to: what is measured is over. */
  async quit(): Promise<void> {
    const over = new Promise((done) => this.#child.once('exit', done))
    this.#child.stdin?.write('{}')
    const impatience = setTimeout(() => this.#child.kill('SIGKILL'), 5000)
    await over
    clearTimeout(impatience)
  }
}

const childrenOf = (pid: number): number[] =>
  readdirSync(`/proc/${pid}/task`).flatMap((task) =>
    readFileSync(`/proc/${pid}/task/${task}/children`, 'utf8').split(' ').filter(Boolean).map(Number),
  )

/** [kB] Linux's proportional share. */
function shareOf(pid: number): number {
  try {
    return Number(/^Pss:\s+(\d+)/m.exec(readFileSync(`/proc/${pid}/smaps_rollup`, 'utf8'))?.[1] ?? 0)
  } catch {
    return 0
  }
}

let madeAgain = 0

/**
 * [ms] until it was painted or shown. Now and then a start of this Electron shows nothing at all, as the window tests know
 * too: it is made again, and the bench says how often.
 */
async function start(program: string, env: Record<string, string>, what: 'painted' | 'shown'): Promise<number> {
  const run = new Run(program, env)
  const spent = await Promise.race([run.until(what), pause(10_000).then(() => null)])
  await run.quit()
  if (spent !== null) return spent
  madeAgain += 1
  if (madeAgain > 5) throw new Error(`Too many starts were not ${what} in 10 s.`)
  return start(program, env, what)
}

const sorted = (values: readonly number[]) => [...values].sort((one, other) => one - other)
const median = (values: readonly number[]) => sorted(values)[Math.floor(values.length / 2)] ?? Number.NaN
const p95 = (values: readonly number[]) => sorted(values)[Math.ceil(values.length * 0.95) - 1] ?? Number.NaN
const pause = (ms: number) => new Promise((done) => setTimeout(done, ms))

/** In a copy: a start changes its home. */
function homeOf(name: string): string {
  const home = mkdtempSync(join(work, `${name}-`))
  cpSync(join(work, 'homes', name), home, { recursive: true })
  const note = join(home, 'recent.json')
  writeFileSync(note, readFileSync(note, 'utf8').replaceAll(join(work, 'homes', name), home))
  return home
}

/** In the page: types into the first cells of the acres, and waits for the total at the foot. */
const edits = `(async () => {
  location.hash = 'fields'
  const there = (find) => new Promise((done) => { const look = () => { const found = find(); found ? done(found) : requestAnimationFrame(look) }; look() })
  const foot = await there(() => document.querySelector('tfoot td'))
  await new Promise((done) => setTimeout(done, 1500))
  const spent = []
  for (let round = 0; round < 40; round += 1) {
    const cell = await there(() => document.querySelector('tbody tr[data-line="' + (round % 12) + '"] td'))
    cell.dispatchEvent(new MouseEvent('mousedown', { bubbles: true, button: 0 }))
    cell.focus()
    const press = (key) => document.activeElement.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }))
    press('F2')
    const box = await there(() => document.querySelector('tbody td input'))
    const foots = document.querySelector('tfoot').textContent
    box.value = String(20 + round * 1.7 + Math.random()).slice(0, 5)
    box.dispatchEvent(new InputEvent('input', { bubbles: true }))
    const began = performance.now()
    press('Enter')
    await new Promise((done) => {
      const look = () => document.querySelector('tfoot').textContent !== foots && (watch.disconnect(), done())
      const watch = new MutationObserver(look)
      watch.observe(document.querySelector('tfoot'), { childList: true, subtree: true, characterData: true })
      look()
    })
    spent.push(performance.now() - began)
    // Nobody types faster than four cells a second.
    await new Promise((done) => setTimeout(done, 250))
  }
  return spent
})()`

/** In the page: goes from page to page, and waits until each has what it shows. */
const changes = `(async () => {
  location.hash = 'file'
  await new Promise((done) => setTimeout(done, 1000))
  const stages = ['fields', 'varieties', 'quotes', 'rules', 'plan', 'orders', 'deliveries', 'rates', 'planting', 'harvest', 'review', 'next', 'file']
  const spent = []
  for (let round = 0; round < 4; round += 1) for (const stage of stages) {
    const main = document.querySelector('main')
    const before = main.querySelector('h1')
    const began = performance.now()
    location.hash = stage
    await new Promise((done) => {
      const look = () => {
        const head = main.querySelector('h1')
        const has = main.textContent.length > 200
        head && head !== before && has ? requestAnimationFrame(() => done()) : requestAnimationFrame(look)
      }
      look()
    })
    if (round > 0) spent.push({ stage, ms: performance.now() - began })
    await new Promise((done) => setTimeout(done, 250))
  }
  return spent
})()`

/** In the page: the farm's first season, with its plan, orders, 40 lots, plantings of every field and 3,000 loads. */
const openFirst = `window.standwell.call('season.open', { id: 1 }).then((text) => JSON.parse(text).ok)`

/** [ms] Three rounds through all pages, after one that is not counted. */
async function goThrough(run: Run): Promise<{ p95: string; pages: string }> {
  const gone = (await run.ask(changes)) as { stage: string; ms: number }[]
  const byStage = [...Map.groupBy(gone, ({ stage }) => stage)]
  const pages = byStage.map(([stage, each]) => `${stage} ${median(each.map(({ ms }) => ms)).toFixed(0)}`)
  return { p95: p95(gone.map(({ ms }) => ms)).toFixed(0), pages: pages.join(', ') }
}

const solve = `window.standwell.call('plan.solve', {}).then((text) => JSON.parse(text).ok || text)`

try {
  const program = await realElectron()
  mkdirSync(join(work, 'probe'))
  cpSync(join(import.meta.dirname, 'app-probe.mjs'), join(work, 'probe', 'main.js'))
  const manifest = { name: 'standwell', version: '0.1.0', type: 'module', main: 'main.js' }
  writeFileSync(join(work, 'probe', 'package.json'), JSON.stringify(manifest))
  process.argv[2] = join(work, 'homes')
  await runnerImport(join(import.meta.dirname, 'app-homes.ts'), { configFile: false, logLevel: 'error' })

  const shownAt = '[aria-label="Stages of the year"]'
  const starts = { bare: [] as number[], first: [] as number[], demo: [] as number[], large: [] as number[] }
  const runs: [keyof typeof starts, Record<string, string>, 'painted' | 'shown'][] = [
    ['bare', { STANDWELL_BENCH_BARE: '1', STANDWELL_HOME: mkdtempSync(join(work, 'empty-')) }, 'painted'],
    ['first', { STANDWELL_HOME: mkdtempSync(join(work, 'first-')) }, 'painted'],
    ['demo', { STANDWELL_HOME: homeOf('demo'), STANDWELL_BENCH_AWAITS: `${shownAt} ~ main h1` }, 'shown'],
    ['large', { STANDWELL_HOME: homeOf('large'), STANDWELL_BENCH_AWAITS: `${shownAt} ~ main h1` }, 'shown'],
  ]
  // Taken in turn, so that what else the machine does falls on all alike. The first round is the one after an
  // installation: it warms the disk and the caches that every later start has, and is not counted.
  for (let round = 0; round <= rounds; round += 1) {
    for (const [name, env, what] of runs) {
      const spent = await start(program, env, what)
      if (round > 0) starts[name].push(spent)
      process.stderr.write(`${name} ${spent} ms\n`)
    }
  }
  const bare = median(starts.bare)
  const row = (name: string, values: readonly number[], goal: string) =>
    [name, `${median(values).toFixed(0)} ms`, `${(median(values) / bare).toFixed(2)} ×`, goal] as string[]
  const table = [
    row('a bare window painted', starts.bare, ''),
    row('first page painted', starts.first, '1.25 ×'),
    row('demo farm shown', starts.demo, '1.5 ×'),
    row('300 fields, 10 seasons shown', starts.large, '1.8 ×'),
  ]

  const run = new Run(program, { STANDWELL_HOME: homeOf('large'), STANDWELL_BENCH_AWAITS: `${shownAt} ~ main h1` })
  await run.until('shown')
  process.stderr.write('edits\n')
  const typed = (await run.ask(edits)) as number[]
  process.stderr.write(`edits, ms: ${typed.map((ms) => ms.toFixed(0)).join(' ')}\n`)
  table.push(['edit to new totals, 300 fields, 95 % within', `${p95(typed).toFixed(0)} ms`, '', '50 ms'])
  process.stderr.write('pages\n')
  const winter = await goThrough(run)
  table.push(['page to page in winter, 95 % within', `${winter.p95} ms`, '', '100 ms'])
  if ((await run.ask(openFirst)) !== true) throw new Error('The first season was not opened.')
  const full = await goThrough(run)
  table.push(['page to page in a full season, 95 % within', `${full.p95} ms`, '', '100 ms'])
  await run.quit()

  // One after the other: what two programs share would be counted half to each.
  const still = new Run(program, { STANDWELL_BENCH_BARE: '1', STANDWELL_HOME: mkdtempSync(join(work, 'empty-')) })
  await still.until('painted')
  await pause(5000)
  const none = still.memory()
  await still.quit()
  const idle = new Run(program, { STANDWELL_HOME: homeOf('demo'), STANDWELL_BENCH_AWAITS: `${shownAt} ~ main h1` })
  await idle.until('shown')
  process.stderr.write('memory\n')
  await pause(10_000)
  const before = idle.memory()
  table.push(['memory of all processes, demo farm', `${before.toFixed(0)} MB`, '', `bare ${none.toFixed(0)} + 200 MB`])
  const solved = await idle.ask(solve)
  if (solved !== true) throw new Error(String(solved))
  const atSolve = idle.memory()
  await pause(30_000)
  const after = idle.memory()
  const share = `${((after / before - 1) * 100).toFixed(0)} %`
  table.push(['as a plan is done', `${atSolve.toFixed(0)} MB`, '', ''])
  table.push(['half a minute after it', `${after.toFixed(0)} MB`, share, 'within 10 %'])
  await idle.quit()

  const assets = join(project, 'out', 'renderer', 'assets')
  const code = readdirSync(assets).filter((name) => name.endsWith('.js') && !name.startsWith('chart-'))
  const kB = (names: readonly string[]) =>
    names.reduce((sum, name) => sum + statSync(join(assets, name)).size, 0) / 1000
  const whole = kB(code)
  table.push(['code of the window, all pages', `${whole.toFixed(0)} kB`, '', ''])

  process.stdout.write(textTable(['', 'Measured', 'of bare', 'Goal'], table, [1, 2]))
  process.stdout.write(`Pages in winter, median ms: ${winter.pages}\n`)
  process.stdout.write(`Pages in a full season, median ms: ${full.pages}\n`)
  if (madeAgain > 0) process.stdout.write(`${madeAgain} starts showed nothing in 10 s and were made again.\n`)
  process.stdout.write(`Median of ${rounds}; ${cpus().length} × ${cpus()[0]?.model ?? 'unknown processor'}\n`)
} finally {
  rmSync(work, { recursive: true, force: true })
}
