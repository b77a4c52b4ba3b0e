/**
 * `npm run bench:guard`: what our own work takes, against a fixed piece of arithmetic in the same run, held against the ratios that
 * are kept in `ratios.json`. Fails beyond 1.25 ×. Processor time is compared, the least of several rounds by turns, so that other
 * work on the machine bears on both alike. `-- --write` keeps today's ratios. Not part of `npm test`. The desktop window's own
 * ratios, against a bare window, are told by `bench:app`.
 */
import { readFileSync, writeFileSync } from 'node:fs'
import { contextOf } from '../../src-shared/agronomy/context.ts'
import { buildOptions } from '../../src-shared/agronomy/option.ts'
import { placeLots } from '../../src-main/engine/plan/lots/place-lots.ts'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import { lotFarm } from '../plan/lot-farm.ts'
import { optionsFarm } from './options-farm.ts'
import { syntheticFarm } from './synthetic-farm.ts'

const MOST = 1.25
const ROUNDS = 5
const kept = new URL('ratios.json', import.meta.url)
const solver = new Solver()

/** Sums, branches, memory and a table of names: what our own code does, and never changed. */
function arithmetic(): void {
  const numbers = new Float64Array(200_000).map((_, at) => Math.sin(at))
  const names = new Map<string, number>()
  let sum = 0
  for (let round = 0; round < 1500; round += 1) {
    for (let at = 1; at < numbers.length; at += 1) {
      const here = numbers[at] as number
      if (here > (numbers[at - 1] as number)) sum += Math.sqrt(here * here + round)
      else sum -= here
    }
    for (let at = 0; at < 2000; at += 1) names.set(`name ${at % 500}`, (names.get(`name ${at % 300}`) ?? 0) + sum)
  }
  if (Number.isNaN(sum)) throw new Error('The sum is a number.')
}

async function solved(size: 'S' | 'M', seed: number): Promise<void> {
  const answer = await solveProblem(syntheticFarm(size, seed), { gap: 0.001, seconds: 300, wholeCents: true }, solver)
  if (!answer.ok || answer.value.plan === null) throw new Error('The farm has a plan.')
}

const works: Record<string, () => unknown> = {
  arithmetic,
  'options of 200 fields': () => buildOptions(contextOf(optionsFarm(200))),
  'plan of 12 fields': () => solved('S', 2),
  'plan of 60 fields': () => solved('M', 1),
  'lots on 8 fields': () => placeLots(lotFarm(8, 8, 6, 1.2), { gap: 0.02, seconds: 300 }, solver),
}

/** [s] of processor time, all threads of the process. */
async function timed(work: () => unknown): Promise<number> {
  const before = process.cpuUsage()
  await work()
  return process.cpuUsage(before).user / 1e6
}

const least = new Map<string, number>()
for (let round = 0; round < ROUNDS; round += 1) {
  for (const [name, work] of Object.entries(works)) {
    least.set(name, Math.min(least.get(name) ?? Infinity, await timed(work)))
  }
}
await solver.close()

const one = least.get('arithmetic') as number
const today = Object.fromEntries(
  [...least]
    .filter(([name]) => name !== 'arithmetic')
    .map(([name, seconds]) => [name, Number((seconds / one).toFixed(3))]),
)
if (process.argv.includes('--write')) writeFileSync(kept, `${JSON.stringify(today, null, 2)}\n`)
const before = JSON.parse(readFileSync(kept, 'utf8')) as Record<string, number>
let slower = 0
process.stdout.write(`The arithmetic took ${one.toFixed(2)} s of processor time.\n`)
for (const [name, ratio] of Object.entries(today)) {
  const held = before[name]
  const times = held === undefined ? NaN : ratio / held
  // A work that no ratio is kept of cannot be held: that is a failure too.
  const isSlower = !(times <= MOST)
  if (isSlower) slower += 1
  const was = held === undefined ? 'not kept yet' : `kept ${held}, ${times.toFixed(2)} ×`
  process.stdout.write(`${isSlower ? 'SLOW' : 'ok  '} ${name}: ${ratio} × the arithmetic (${was})\n`)
}
process.exitCode = slower > 0 ? 1 : 0
