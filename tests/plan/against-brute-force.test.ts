/**
 * Small farms with every rule, solved to the very best, against every plan there is: equal to the cent. The whole set is 300 farms
 * (`npm run test:all`); each commit takes 150 of them.
 */
import { afterAll, expect, it } from 'vitest'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import { sampled, takesAll, upTo } from '../support/sampled.ts'
import { leastCost } from './brute-force.ts'
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
