/**
 * `npm run bench:plan [-- S,M,L,XL [seeds]]`: farms of each size with all rules on, whole packs, to 0.1 % (XL: to 0.5 %,
 * in a process of its own with 900 MB of heap, whose peak memory is told); medians over the seeds. Where Debian's cbc and glpsol are installed they get the same full model as an MPS file and 60 s, in the same
 * run: ratios count, not seconds. Prints a table and the machine; asserts nothing.
 */
import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { cpus, tmpdir } from 'node:os'
import { join } from 'node:path'
import { textTable } from '../../src-main/engine/export/text-table.ts'
import { buildModel } from '../../src-main/engine/plan/model.ts'
import { allRules } from '../../src-main/engine/plan/rules/all-rules.ts'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import { sortedProblem } from '../../src-main/engine/plan/sort-problem.ts'
import { syntheticFarm, type Size } from './synthetic-farm.ts'
import { mpsOf } from './write-mps.ts'

const GAP = 0.001
const NATIVE_SECONDS = 60
const [sizesAsked = 'S,M,L', seedsAsked = '5'] = process.argv.slice(2)
const seeds = Array.from({ length: Number(seedsAsked) }, (_, index) => index + 1)
const folder = mkdtempSync(join(tmpdir(), 'standwell-bench-'))
const solver = new Solver()

interface Run {
  seconds: number
  /** [$] NaN where nothing was found. */
  cost: number
}

function native(command: string, args: string[], solution: string, readCost: (text: string) => number): Run | null {
  if (spawnSync('which', [command]).status !== 0) return null
  const began = performance.now()
  spawnSync(command, args, { encoding: 'utf8' })
  const seconds = (performance.now() - began) / 1000
  try {
    return { seconds, cost: readCost(readFileSync(solution, 'utf8')) }
  } catch {
    return { seconds, cost: Number.NaN }
  }
}

function cbc(mps: string): Run | null {
  const out = join(folder, 'cbc.txt')
  const args = [mps, '-ratio', String(GAP), '-sec', String(NATIVE_SECONDS), '-solve', '-solution', out]
  return native('cbc', args, out, (text) => Number(/objective value\s+([-\d.e+]+)/i.exec(text)?.[1] ?? Number.NaN))
}

function glpk(mps: string): Run | null {
  const out = join(folder, 'glpk.txt')
  const args = ['--freemps', mps, '--mipgap', String(GAP), '--tmlim', String(NATIVE_SECONDS), '-o', out]
  return native('glpsol', args, out, (text) => Number(/Objective:.*?=\s*([-\d.e+]+)/.exec(text)?.[1] ?? Number.NaN))
}

/** A buying group of 40 farms: too large for the others, and its memory counts. */
function buyingGroup(): void {
  const runs = seeds.map((seed) => {
    const script = join(import.meta.dirname, 'one-farm.ts')
    const { stdout } = spawnSync(process.execPath, ['--max-old-space-size=900', script, 'XL', String(seed)])
    process.stderr.write(`XL ${seed}: ${stdout.toString()}`)
    return JSON.parse(stdout.toString()) as Run & { gap: number; megabytes: number }
  })
  const most = Math.max(...runs.map((run) => run.megabytes))
  const worst = Math.max(...runs.map((run) => run.gap))
  const row = ['XL', median(runs.map((run) => run.seconds)).toFixed(2), `${(worst * 100).toFixed(3)} %`]
  table.push([...row, '–', '–', '–', `${most} MB at most`])
}

const median = (values: readonly number[]) =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN
const table: string[][] = []
for (const size of sizesAsked.split(',') as Size[]) {
  if (size === 'XL') {
    buyingGroup()
    continue
  }
  const ours: (Run & { gap: number })[] = []
  const others: Record<string, Run[]> = { cbc: [], glpsol: [] }
  for (const seed of seeds) {
    const problem = syntheticFarm(size, seed)
    const solved = await solveProblem(problem, { gap: GAP, seconds: 120, wholeCents: true }, solver)
    if (!solved.ok) throw new Error(JSON.stringify(solved.problems))
    const { proof } = solved.value
    ours.push({ seconds: proof.seconds, cost: (proof.costCents ?? Number.NaN) / 100, gap: proof.gap ?? Number.NaN })
    const sorted = sortedProblem(problem)
    const mps = join(folder, `${size}${seed}.mps`)
    writeFileSync(mps, mpsOf(buildModel(sorted, { rules: allRules(sorted), wholePacks: true }).model.arrays()))
    for (const [name, run] of [
      ['cbc', cbc(mps)],
      ['glpsol', glpk(mps)],
    ] as const) {
      if (run !== null) others[name]?.push(run)
    }
    process.stderr.write(`${size} ${seed}: ${proof.seconds.toFixed(1)} s, ${proof.status}\n`)
  }
  const ownSeconds = median(ours.map((run) => run.seconds))
  const row = [size, ownSeconds.toFixed(2), `${(Math.max(...ours.map((run) => run.gap)) * 100).toFixed(3)} %`]
  for (const name of ['cbc', 'glpsol']) {
    const runs = others[name] ?? []
    if (runs.length === 0) row.push('–', '–')
    else {
      const worse = ours.map((run, index) => run.cost / (runs[index]?.cost ?? Number.NaN) - 1).filter(Number.isFinite)
      row.push(`${(median(runs.map((run) => run.seconds)) / ownSeconds).toFixed(1)} ×`)
      row.push(worse.length === 0 ? 'found nothing' : `${(Math.max(...worse) * 100).toFixed(3)} %`)
    }
  }
  table.push(row)
}
await solver.close()
rmSync(folder, { recursive: true, force: true })
const header = ['Size', 'Median s', 'Worst gap', 'cbc time', 'we worse by', 'glpsol time', 'we worse by']
process.stdout.write(textTable(header, table, [1, 2, 3, 4, 5, 6]))
process.stdout.write(
  `${cpus().length} × ${cpus()[0]?.model ?? 'unknown processor'}, ${seeds.length} seeds, gap ${GAP}\n`,
)
