/**
 * Reserve by chance. Strongest row: Cachon & Terwiesch, Matching Supply with Demand, 3rd ed., Q12.1d (its table rounds
 * z up to 0.44, which gives 235.2; exact 234.458). The normal quantile is checked against an independent library.
 */
import { describe, expect, it } from 'vitest'
import jstat from 'jstat'
import { normalCdf, normalPdf, normalQuantile } from '../../src-shared/agronomy/normal.ts'
import { newsvendor, newsvendorReserve } from '../../src-shared/agronomy/reserve.ts'

describe('T7b', () => {
  it('Cachon & Terwiesch: Normal(200, 80), 8 short, 4 left', () => {
    const reserve = newsvendor(200, 80, 8, 4)
    expect(reserve.criticalRatio).toBeCloseTo(2 / 3, 10)
    expect(reserve.orderPounds).toBeCloseTo(234.458, 2)
    expect(Math.abs(reserve.orderPounds - 235.2)).toBeLessThan(0.8)
  })

  it.each([
    // Tutorsglobe questions 52554787 and 51686643: inputs published, answers computed exactly.
    [1000, 200, 40, 10, 1168.324],
    [1000, 200, 30, 20, 1050.669],
    // Wikipedia, 'Newsvendor model': from memory.
    [50, 20, 2, 5, 38.681],
  ])('Normal(%s, %s), short %s, left %s → %s', (mean, deviation, short, left, order) => {
    expect(newsvendor(mean, deviation, short, left).orderPounds).toBeCloseTo(order, 2)
  })

  it('counts what is left and what is missing as a simulation does', () => {
    const reserve = newsvendorReserve(
      10_000,
      { seedCount: 0.03, emergence: 0.02, planter: 0.03, acreage: 0.01 },
      60,
      35,
    )
    // Expected left − expected short = order − mean, whatever the distribution.
    expect(reserve.expectedLeft - reserve.expectedShort).toBeCloseTo(reserve.orderPounds - 10_000, 6)
    // Midpoints of 20,000 equal slices of probability stand for the distribution.
    const slices = 20_000
    let left = 0
    for (let i = 0; i < slices; i++) {
      const need = 10_000 + reserve.deviation * jstat.normal.inv((i + 0.5) / slices, 0, 1)
      left += Math.max(0, reserve.orderPounds - need) / slices
    }
    expect(left).toBeCloseTo(reserve.expectedLeft, 0)
    expect(reserve.chanceShort).toBeCloseTo(35 / 95, 10)
  })
})

describe('the normal distribution against jstat', () => {
  it.each([0.001, 0.01, 0.05, 0.2857, 0.5, 0.6667, 0.8, 0.95, 0.99, 0.999])('quantile of %s', (p) => {
    expect(normalQuantile(p)).toBeCloseTo(jstat.normal.inv(p, 0, 1), 6)
    expect(normalCdf(normalQuantile(p))).toBeCloseTo(p, 13)
  })

  it.each([-6, -3, -2.5, -1, 0, 0.3, 1, 2.499, 2.5, 2.501, 4])('cdf and density at %s', (z) => {
    expect(normalCdf(z)).toBeCloseTo(jstat.normal.cdf(z, 0, 1), 7)
    expect(normalPdf(z)).toBeCloseTo(jstat.normal.pdf(z, 0, 1), 12)
  })

  it('far out there is nothing left, and no number has no place', () => {
    expect(normalCdf(-40)).toBe(0)
    expect(normalCdf(40)).toBe(1)
    expect(normalCdf(Number.NaN)).toBeNaN()
    expect(normalQuantile(Number.MIN_VALUE)).toBeLessThan(-37)
  })

  it('refuses what is no probability', () => {
    expect(normalQuantile(-0.1)).toBeNaN()
    expect(normalQuantile(1.1)).toBeNaN()
    expect(normalQuantile(0)).toBe(-Infinity)
    expect(normalQuantile(1)).toBe(Infinity)
  })
})
