/**
 * The curve of cash against expected loss: monotone, and each point's cash the least for its limit, by trying every plan. The whole
 * set is 60 farms (`npm run test:all`); each commit takes 12 of them.
 */
import { afterAll, expect, it } from 'vitest'
import { drawCurve, type CurveOptions } from '../../src-main/engine/plan/curve.ts'
import { priceSeason } from '../../src-main/engine/plan/price.ts'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import type { CurveCounts, CurvePoint } from '../../src-shared/curve.ts'
import type { PlanProblem } from '../../src-shared/plan-problem.ts'
import { sampled, takesAll, upTo } from '../support/sampled.ts'
import { demoFarm } from '../shared/demo-farm.ts'
import { leastCost } from './brute-force.ts'
import { smallFarm } from './small-farm.ts'

const solver = new Solver()
afterAll(() => solver.close())

const exact: CurveOptions = { counts: 'cash', between: 9, near: null, gap: 0, seconds: 60, wholeCents: false }

/** The least that must be paid where no more than so much may be lost, over every plan there is. */
function leastPaid(problem: PlanProblem, counts: CurveCounts, lossLimitCents: number | undefined): number | null {
  const options = problem.options.map((option) =>
    counts === 'cost' ? option : { ...option, vineCents: 0, giveUpCents: 0 },
  )
  const within = Math.min(lossLimitCents ?? Infinity, problem.rules.lossLimitCents ?? Infinity)
  const rules = {
    ...problem.rules,
    riskWeight: 0,
    lossLimitCents: Number.isFinite(within) ? within : undefined,
  }
  return leastCost({ ...problem, options, rules })
}

it('of small farms, against every plan', { timeout: 300_000 }, async () => {
  let points = 0
  let bent = 0
  for (const seed of sampled('curves', upTo(60), 12)) {
    const problem = smallFarm(seed)
    const counts = seed % 2 === 0 ? 'cost' : 'cash'
    const drawn = await drawCurve(problem, { ...exact, counts }, solver)
    if (!drawn.ok) throw new Error(`farm ${seed}: ${JSON.stringify(drawn.problems)}`)
    const curve = drawn.value
    const fits = leastCost(problem) !== null
    expect(curve.points.length > 0, `farm ${seed}`).toBe(fits)
    expect(curve.isPartial, `farm ${seed}`).toBe(false)
    if (curve.points.length > 2) bent++
    curve.points.forEach((point: CurvePoint, index) => {
      points++
      const name = `farm ${seed}, point ${index} of ${curve.points.length}`
      const { plan, paidCents, lossCents, lossLimitCents, proof } = point
      expect(lossCents, name).toBeCloseTo(plan.totals.lossCents, 6)
      const { cashCents, vineCents, giveUpCents, leftOutCents, movedCents } = plan.totals
      const rest = counts === 'cost' ? vineCents + giveUpCents : 0
      expect(Math.abs(paidCents - (cashCents + rest + leftOutCents + movedCents)), name).toBeLessThan(0.5)
      expect(['proven', 'within'], name).toContain(proof.status)
      // Least for its own limit, and for the loss it came to: the same, since nothing between is cheaper. Halves of a field
      // are the solver's, which are off by less than 1e-7 of it.
      for (const limit of [lossLimitCents ?? undefined, lossCents * (1 + 1e-7) + 1e-6]) {
        const least = leastPaid(problem, counts, limit)
        expect(Math.abs(paidCents - (least ?? Number.NaN)), name).toBeLessThan(0.5)
      }
      const before = curve.points[index - 1]
      if (before) {
        expect(lossCents, name).toBeGreaterThan(before.lossCents)
        expect(paidCents, name).toBeLessThan(before.paidCents)
      }
    })
    const cheapest = leastPaid(problem, counts, undefined)
    if (fits) expect(Math.abs((curve.points.at(-1)?.paidCents ?? Number.NaN) - (cheapest ?? 0))).toBeLessThan(0.5)
    // A plan that loses less than the safest point pays at least $100 for each dollar of it.
    const [safest] = curve.points
    for (const less of safest ? [100, 1000, 10_000, 100_000] : []) {
      const { lossCents = 0, paidCents = 0 } = safest ?? {}
      if (less > lossCents) continue
      const paid = leastPaid(problem, counts, lossCents - less)
      if (paid !== null) expect(paid, `farm ${seed}`).toBeGreaterThanOrEqual(paidCents + 100 * less - 1)
    }
  }
  // A part may lack what is rare: it would fail by its draw alone.
  expect(bent).toBeGreaterThan(takesAll ? 10 : -1)
  expect(points).toBeGreaterThan(takesAll ? 100 : -1)
})

it(
  'begins at the plan in hand: a clock too short for any search leaves a curve, not an empty one',
  { timeout: 300_000 },
  async () => {
    // With carried seed enough for fields, several rates of one place are offered: 3,668 options for 3,110.
    const carried = [{ variety: 'Brindle', pounds: 20_000, mustUse: false, isOwnGrown: false }]
    const priced = priceSeason(demoFarm({ carried }))
    if (!priced.ok) throw new Error(JSON.stringify(priced.problems))
    const { problem } = priced.value
    const solved = await solveProblem(problem, { gap: 0.05, seconds: 60, wholeCents: true }, solver)
    if (!solved.ok || solved.value.plan === null) throw new Error(JSON.stringify(solved))
    const near = solved.value.plan
    const drawn = await drawCurve(problem, { ...exact, wholeCents: true, between: 0, near, seconds: 0.01 }, solver)
    if (!drawn.ok) throw new Error(JSON.stringify(drawn.problems))
    expect(drawn.value.points.length).toBeGreaterThan(0)
    expect(drawn.value.points[0]!.lossCents).toBeLessThanOrEqual(near.totals.lossCents)
  },
)

it('stops when asked and keeps the points it has', { timeout: 300_000 }, async () => {
  // Nine points, when it is not stopped.
  const problem = smallFarm(57)
  const stop = new AbortController()
  const heard: CurvePoint[] = []
  const drawn = await drawCurve(
    problem,
    {
      ...exact,
      signal: stop.signal,
      onPoint(point) {
        heard.push(point)
        if (heard.length === 2) stop.abort()
      },
    },
    solver,
  )
  if (!drawn.ok) throw new Error(JSON.stringify(drawn.problems))
  expect(drawn.value.isPartial).toBe(true)
  expect(drawn.value.points).toHaveLength(2)
})
