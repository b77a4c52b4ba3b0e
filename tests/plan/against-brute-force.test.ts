/**
 * Small farms with every rule, solved to the very best, against every plan there is: equal to the cent. The whole set is 300 farms
 * (`npm run test:all`); each commit takes 150 of them.
 */
import { afterAll, expect, it } from 'vitest'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import type { PlanProblem } from '../../src-shared/plan-problem.ts'
import { sampled, takesAll, upTo } from '../support/sampled.ts'
import { greatestMargin, leastCost } from './brute-force.ts'
import { smallFarm } from './small-farm.ts'

const solver = new Solver()
afterAll(() => solver.close())

/** Every seed that ever failed stays named here. */
const onceFailed: number[] = []
const seeds = sampled('against brute force', upTo(300), 150, onceFailed)

it('costs what the cheapest of all plans does', { timeout: 300_000 }, async () => {
  let fits = 0
  for (const seed of seeds) {
    const problem = smallFarm(seed)
    const best = leastCost(problem)
    const solved = await solveProblem(problem, { gap: 0, seconds: 60, wholeCents: false }, solver)
    if (!solved.ok) throw new Error(`farm ${seed}: ${JSON.stringify(solved.problems)}`)
    const { plan, proof } = solved.value
    if (best === null) {
      expect(proof.status, `farm ${seed} has no plan`).toBe('nothing-fits')
      continue
    }
    fits++
    expect(proof.status, `farm ${seed}`).toBe('proven')
    expect(
      Math.abs((plan?.totals.costCents ?? Number.NaN) - best),
      `farm ${seed}: ${plan?.totals.costCents} against ${best}`,
    ).toBeLessThan(0.5)
  }
  // A generator that makes mostly impossible farms would prove little.
  expect(fits).toBeGreaterThan(seeds.length * (takesAll ? 0.4 : 0.2))
  expect(fits).toBeLessThan(seeds.length)
})

/** A farm priced as a season is: what an acre left out costs is what it could bring less what it brings otherwise. */
function pricedFarm(seed: number): PlanProblem {
  const farm = smallFarm(seed)
  return {
    ...farm,
    fields: farm.fields.map((field) => ({ ...field, leaveOutCents: (field.couldCents ?? 0) - field.otherCents })),
  }
}

it(
  'the plan of least cost is the plan of greatest margin: they differ by what the ground could bring',
  { timeout: 300_000 },
  () => {
    let fits = 0
    for (const seed of seeds) {
      const problem = pricedFarm(seed)
      const [cost, margin] = [leastCost(problem), greatestMargin(problem)]
      if (cost === null) {
        expect(margin).toBeNull()
        continue
      }
      fits++
      const could = problem.fields.reduce((sum, field) => sum + field.acres * (field.couldCents ?? 0), 0)
      expect(Math.abs((margin ?? Number.NaN) - (could - cost)), `farm ${seed}`).toBeLessThan(0.01)
    }
    expect(fits).toBeGreaterThan(0)
  },
)

it(
  'a plan’s margin is what its ground could bring less its cost, where nothing is weighed and nothing moved',
  { timeout: 300_000 },
  async () => {
    for (const seed of seeds.slice(0, 30)) {
      const priced = pricedFarm(seed)
      const problem = { ...priced, rules: { ...priced.rules, riskWeight: 1, stayPut: undefined } }
      const solved = await solveProblem(problem, { gap: 0, seconds: 60, wholeCents: false }, solver)
      if (!solved.ok || solved.value.plan === null) continue
      const { totals } = solved.value.plan
      const could = problem.fields.reduce((sum, field) => sum + field.acres * (field.couldCents ?? 0), 0)
      expect(Math.abs((totals.marginCents ?? Number.NaN) - (could - totals.costCents)), `farm ${seed}`).toBeLessThan(
        0.5,
      )
    }
  },
)
