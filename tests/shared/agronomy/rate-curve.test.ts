/** Margin against seeding rate: rises, turns where a pound of seed no longer pays, and moves with the price. */
import { describe, expect, it } from 'vitest'
import { contextOf } from '../../../src-shared/agronomy/context.ts'
import { bestRate, rateCurve } from '../../../src-shared/agronomy/rate-curve.ts'
import { demoFarm, pick } from '../demo-farm.ts'

const farm = demoFarm()
const context = contextOf(farm)
const at = {
  field: pick(farm.fields, ({ name }) => name === 'Alder Forty'),
  variety: pick(farm.varieties),
  window: pick(farm.windows, ({ kind }) => kind === 'usual'),
}
const curve = (cents: number) => rateCurve(context, at, [], cents)

describe('the curve', () => {
  it('runs from half to one and a half of the house’s rate, with a yield that never falls', () => {
    const points = curve(85)
    expect(points[0]!.seedsPerFoot).toBeCloseTo(3, 12)
    expect(points.at(-1)!.seedsPerFoot).toBeCloseTo(9, 12)
    points.forEach((point, i) => {
      if (i > 0) expect(point.yieldLb).toBeGreaterThanOrEqual(points[i - 1]!.yieldLb - 1e-9)
    })
  })

  it('has its best in the middle at the usual price, lower for dear seed, at the top for seed for nothing', () => {
    // Of all rates: those below the least stand too.
    const best = (cents: number) => bestRate(curve(cents).map((point) => ({ ...point, isOffered: true }))).seedsPerFoot
    expect(best(85)).toBeGreaterThan(3)
    expect(best(85)).toBeLessThan(9)
    expect(best(400)).toBeLessThan(best(85))
    expect(best(0)).toBeGreaterThan(best(85))
  })

  it('does not call a rate below the least stand the best', () => {
    const least = pick(curve(400), ({ isOffered }) => isOffered)
    expect(least.stand).toBeGreaterThanOrEqual(context.leastStand)
    expect(bestRate(curve(400))).toEqual(least)
  })

  it('differs between two rates by the yield less the seed', () => {
    const [a, b] = [curve(85)[4]!, curve(85)[8]!]
    const free = [curve(0)[4]!, curve(0)[8]!] as const
    expect(b.cents - a.cents).toBeCloseTo(free[1].cents - free[0].cents - 85 * (b.seedPounds - a.seedPounds), 6)
  })
})
