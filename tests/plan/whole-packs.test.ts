/**
 * Whole packs and short supply. For the ground of a finished plan, seed in any amount is a bound on what its packs may
 * cost: whole packs cost no more than one pack of each variety and 0.01 % above it. And where dealers have too little of
 * the seed that everybody wants, the plan takes all there is and is still proven.
 */
import { afterAll, expect, it } from 'vitest'
import { allRules } from '../../src-main/engine/plan/rules/all-rules.ts'
import { sortedProblem } from '../../src-main/engine/plan/sort-problem.ts'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import { standStill } from '../../src-main/engine/plan/stand-still.ts'
import { usefulOptions } from '../../src-main/engine/plan/reduce.ts'
import type { PlanProblem } from '../../src-shared/plan-problem.ts'
import type { Plan, Proof } from '../../src-shared/plan.ts'
import { syntheticFarm } from '../speed/synthetic-farm.ts'

const solver = new Solver()
afterAll(() => solver.close())

async function planned(problem: PlanProblem): Promise<{ plan: Plan; proof: Proof }> {
  const solved = await solveProblem(problem, { gap: 0.001, seconds: 60, wholeCents: false }, solver)
  if (!solved.ok || solved.value.plan === null) throw new Error(JSON.stringify(solved))
  return { plan: solved.value.plan, proof: solved.value.proof }
}

it.each([
  ['S', 2],
  ['S', 5],
  ['M', 3],
  ['M', 4],
] as const)(
  '%s %i: packs within one of each variety of seed in any amount',
  { timeout: 300_000 },
  async (size, seed) => {
    const problem = sortedProblem(syntheticFarm(size, seed))
    const { plan } = await planned(problem)
    const held = standStill(problem, allRules(problem), usefulOptions(problem), plan)
    if (held === null) throw new Error('the plan does not fit its own problem')
    const model = held.model.arrays()
    const loose = { ...model, integer: model.integer.map((flag, column) => (isPack(column) ? 0 : flag)) }
    function isPack(column: number): boolean {
      return held?.packs.some((pack) => pack.column === column) ?? false
    }
    const anyAmount = await solver.run(loose, { gap: 0, seconds: 30 })
    expect(anyAmount.status).toBe('optimal')
    const varieties = new Set(plan.blocks.map((block) => block.variety))
    const onePack = [...varieties].reduce((sum, variety) => {
      const own = problem.quotes.filter((quote) => quote.variety === variety)
      return sum + Math.max(0, ...own.map((quote) => quote.packPriceCents))
    }, 0)
    const bound = anyAmount.bound * 100
    expect(plan.totals.costCents).toBeGreaterThanOrEqual(bound - 1)
    expect(plan.totals.costCents).toBeLessThanOrEqual(bound + onePack + 0.0001 * bound)
  },
)

it(
  'takes all there is of seed that is short, and proves that no plan could do better',
  { timeout: 300_000 },
  async () => {
    const problem = syntheticFarm('M', 2)
    const free = await planned(problem)
    const most = [...free.plan.purchases].sort((a, b) => b.cents - a.cents).slice(0, 3)
    const short = structuredClone(problem)
    for (const quote of short.quotes) {
      if (most.some((line) => problem.quotes.find((each) => each.id === line.quote)?.variety === quote.variety))
        quote.availablePacks = Math.max(1, Math.floor((quote.availablePacks ?? 400) * 0.2))
    }
    // A lock needs its seed.
    short.rules.locks = []
    const tight = await planned(short)
    expect(tight.proof.status).toBe('proven')
    expect(tight.plan.totals.costCents).toBeGreaterThan(free.plan.totals.costCents)
    const isAllTaken = (line: Plan['purchases'][number]) =>
      short.quotes.find((quote) => quote.id === line.quote)?.availablePacks === line.packs
    expect(tight.plan.purchases.filter(isAllTaken).length).toBeGreaterThan(0)
  },
)
