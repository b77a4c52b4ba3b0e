/** Lots on fields: against every way to pair them on small farms, what must hold always, order, locks, short seed, bad data. */
import { afterAll, expect, it } from 'vitest'
import { buildLots } from '../../src-main/engine/plan/lots/lot-model.ts'
import { placeLots } from '../../src-main/engine/plan/lots/place-lots.ts'
import type { SolveAnswer } from '../../src-main/engine/plan/run-model.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import type { LotPlacing, LotProblem } from '../../src-shared/lot-placing.ts'
import { FaultySolver } from './faulty-solver.ts'
import { lotFarm } from './lot-farm.ts'

const solver = new Solver()
afterAll(() => solver.close())

async function placed(problem: LotProblem, gap = 0, seconds = 20): Promise<LotPlacing> {
  const result = await placeLots(problem, { gap, seconds }, solver)
  if (!result.ok) throw new Error(JSON.stringify(result.problems))
  return result.value
}

/**
 * [cent] The least over every set of pairs: each pair there or not, then only shares are left, a linear program. Written
 * from what the costs mean: pairs and clean-outs are counted here, not by the model's yes-or-no columns.
 */
async function leastOfAll(problem: LotProblem): Promise<number> {
  const pairs = problem.fields.flatMap((_, f) => problem.lots.map((_, l) => ({ f, l })))
  let least = Infinity
  for (let set = 0; set < 2 ** pairs.length; set += 1) {
    const has = (at: number) => ((set >> at) & 1) === 1
    const cleaned = new Set(pairs.flatMap(({ f, l }, at) => (has(at) ? [`${l}/${problem.fields[f]?.window}`] : [])))
    const pairCount = pairs.filter((_, at) => has(at)).length
    const fixed = pairCount * problem.costs.lotAtField + cleaned.size * problem.costs.cleanOut
    if (fixed >= least) continue
    const free: LotProblem = { ...problem, costs: { ...problem.costs, lotAtField: 0, cleanOut: 0 } }
    const build = buildLots(free)
    for (const { field, lot, share, used } of build.pairs) {
      const at = pairs.findIndex(({ f, l }) => f === field && l === lot)
      build.model.fix(used, has(at) ? 1 : 0)
      if (!has(at)) build.model.fix(share, 0)
    }
    const answer = await solver.run(build.model.arrays(), { gap: 0, seconds: 5, relaxed: true })
    if (answer.status === 'optimal') least = Math.min(least, answer.cost + fixed)
  }
  return least
}

it('12 small farms cost what the best of all sets of pairs does', { timeout: 300_000 }, async () => {
  for (let seed = 1; seed <= 12; seed += 1) {
    const problem = lotFarm(seed, seed % 2 === 0 ? 3 : 2, seed % 2 === 0 ? 2 : 3, seed % 3 === 0 ? 0.8 : 1.06)
    const found = await placed(problem)
    const least = await leastOfAll(problem)
    expect(Math.abs(found.costCents - least), `farm ${seed}`).toBeLessThan(1 + 1e-6 * least)
    expect(found.gap).toBeLessThan(1e-6)
  }
})

it('places every acre, within every lot, with weak lots off cold ground where strong seed is left', async () => {
  const problem = lotFarm(8, 6, 5, 1.4)
  // One weak lot and two cold fields: the other lots are more than enough for those.
  problem.lots.forEach((lot, at) => (lot.isWeak = at === 1))
  problem.fields.forEach((field, at) => (field.isCold = at < 2))
  const found = await placed(problem, 0.05, 10)
  for (const field of problem.fields) {
    const acres = found.placed.filter((each) => each.field === field.id).reduce((sum, each) => sum + each.acres, 0)
    expect(acres).toBeCloseTo(field.acres, 3)
  }
  for (const lot of problem.lots) {
    const pounds = found.placed.filter((each) => each.lot === lot.id).reduce((sum, each) => sum + each.pounds, 0)
    expect(pounds).toBeLessThanOrEqual(lot.pounds * (1 + 1e-6))
  }
  expect(found.why.map(({ field }) => field).sort()).toEqual(problem.fields.map(({ id }) => id).sort())
  expect(found.why.every(({ says }) => says.length > 0)).toBe(true)
  const cold = new Set(problem.fields.flatMap((field) => (field.isCold ? [field.id] : [])))
  const weak = new Set(problem.lots.flatMap((lot) => (lot.isWeak ? [lot.id] : [])))
  expect(found.placed.filter((each) => cold.has(each.field) && weak.has(each.lot))).toEqual([])
})

it('uses last year’s seed first', async () => {
  const problem = lotFarm(5, 3, 3, 2)
  problem.lots.forEach((lot, at) => (lot.isCarried = at === 1))
  const found = await placed(problem)
  expect(found.left.filter((each) => each.lot === 'L1')).toEqual([])
})

it('gives the same placing whatever the order of lots and fields', async () => {
  const problem = lotFarm(7, 5, 4)
  const turned: LotProblem = {
    ...problem,
    lots: problem.lots.toReversed(),
    fields: problem.fields.toReversed().map((field) => ({ ...field, poundsPerAcre: field.poundsPerAcre.toReversed() })),
  }
  const inOrder = ({ placed, costs }: LotPlacing) => ({ placed, costs })
  expect(inOrder(await placed(turned))).toEqual(inOrder(await placed(problem)))
})

it('keeps a lock, and says that a field is kept', async () => {
  const problem = lotFarm(4, 4, 4)
  problem.locks = [{ field: 'F2', lot: 'L3' }]
  const found = await placed(problem)
  expect(found.placed.filter(({ field }) => field === 'F2').every(({ lot }) => lot === 'L3')).toBe(true)
  expect(found.why.find(({ field }) => field === 'F2')?.says).toContain('Kept for lot L3.')
})

it('says for how many acres seed is short, and leaves as few as there are', async () => {
  const problem = lotFarm(3, 4, 3, 0.6)
  problem.fields.forEach((field) => (field.poundsPerAcre = [100, 100, 100]))
  problem.lots.forEach((lot) => (lot.pounds = 5000))
  const acres = problem.fields.reduce((sum, field) => sum + field.acres, 0)
  const found = await placed(problem)
  const short = found.short.reduce((sum, each) => sum + each.acres, 0)
  expect(short).toBeCloseTo(Math.max(0, acres - 150), 3)
  if (short > 0) expect(found.says).toContain(`short for ${short.toFixed(1)} acres`)
})

it('stops when asked and keeps what it has', async () => {
  const result = await placeLots(lotFarm(1, 30, 20), { gap: 0, seconds: 60, signal: AbortSignal.timeout(700) }, solver)
  expect(result).toMatchObject({ ok: true, value: { endedBy: 'you', short: [] } })
})

it.each([
  ['a lot of negative pounds', (problem: LotProblem) => void (problem.lots[0]!.pounds = -1), 'Lot L0 has -1 lb.'],
  ['a field without acres', (problem: LotProblem) => void (problem.fields[1]!.acres = 0), 'F1 has 0 acres.'],
  [
    'a rate that is no number',
    (problem: LotProblem) => void (problem.fields[0]!.poundsPerAcre = [Number.NaN, 1, 1]),
    'F0 has',
  ],
  ['a lot twice', (problem: LotProblem) => void (problem.lots[1]!.id = 'L0'), 'The lot L0 is there twice.'],
  [
    'a lock on nothing',
    (problem: LotProblem) => void (problem.locks = [{ field: 'F0', lot: 'X' }]),
    'F0 is kept for X',
  ],
  ['a cost below 0', (problem: LotProblem) => void (problem.costs.cleanOut = -1), 'A cost of placing lots is below 0'],
] satisfies [string, (problem: LotProblem) => void, string][])('%s is refused in words', async (_, spoil, says) => {
  const problem = structuredClone(lotFarm(2, 3, 3))
  spoil(problem)
  const result = await placeLots(problem, { gap: 0, seconds: 5 }, solver)
  expect(result.ok).toBe(false)
  if (!result.ok) expect(result.problems[0]?.what).toContain(says)
})

it('a lot without a rate for a field may not go there, and a field that none may go to is short', async () => {
  const problem = lotFarm(6, 3, 3, 2)
  const [first, second, third] = problem.fields
  if (first === undefined || second === undefined || third === undefined) throw new Error('There are three fields.')
  first.poundsPerAcre = [110]
  second.poundsPerAcre = [null, null, null]
  const found = await placed(problem)
  expect(found.placed.filter(({ field }) => field === first.id).map(({ lot }) => lot)).toEqual(['L0'])
  expect(found.short).toEqual([{ field: second.id, acres: expect.closeTo(second.acres, 3) }])
  expect(found.why.find(({ field }) => field === second.id)?.says).toBe(
    `No lot has seed left for ${second.acres.toFixed(1)} acres.`,
  )
})

it('last year’s seed that is left over counts what the house says', async () => {
  const problem = lotFarm(6, 2, 2, 2)
  problem.lots.forEach((lot) => (lot.isCarried = true))
  const found = await placed(problem)
  const left = found.left.reduce((sum, each) => sum + each.pounds, 0)
  expect(left).toBeGreaterThan(100)
  expect(found.costs.carriedLeft).toBeCloseTo(left * problem.costs.carriedLeft, 3)
})

it('where no inconvenience costs anything, none is counted, and that is the least', async () => {
  const free = { lotAtField: 0, cleanOut: 0, weakOnCold: 0, carriedLeft: 0, short: 1 }
  const found = await placed({ ...lotFarm(6, 2, 2, 2), costs: free })
  expect(found).toMatchObject({ costCents: 0, gap: 0, endedBy: 'proof', short: [] })
})

it('a solver that dies leaves the placing by hand, with no word of its being the least', async () => {
  const problem = lotFarm(6, 4, 3, 1.2)
  const dead = new FaultySolver(solver, { at: 1, status: 'failed' })
  const result = await placeLots(problem, { gap: 0, seconds: 20 }, dead)
  if (!result.ok) throw new Error(JSON.stringify(result.problems))
  expect(result.value).toMatchObject({ short: [], boundCents: 0, gap: 1, endedBy: 'time' })
  expect(result.value.costCents).toBeGreaterThanOrEqual((await placed(problem)).costCents - 1)
})

it.each<[string, (answer: SolveAnswer) => SolveAnswer, RegExp]>([
  [
    'twice the seed',
    (answer) => ({ ...answer, columns: answer.columns?.map((part) => 2 * part) ?? null }),
    /lb are placed/,
  ],
  ['acres twice', (answer) => ({ ...answer, columns: answer.columns?.map((part) => 2 * part) ?? null }), /acres, not/],
  ['a bound above the cost', (answer) => ({ ...answer, bound: 1e9 }), /less than was proven/],
])('a placing with %s is refused as a fault of ours', async (_name, lies, says) => {
  const lying = new FaultySolver(solver, { at: 1, status: 'optimal', lies })
  const result = await placeLots(lotFarm(6, 4, 3, 1.06), { gap: 0, seconds: 20 }, lying)
  if (result.ok) throw new Error('It was not refused.')
  expect(result.problems.map(({ what }) => what).join(' ')).toMatch(says)
  expect(result.problems[0]).toMatchObject({ code: 'bug', remedy: expect.stringContaining('do not plant') })
})
