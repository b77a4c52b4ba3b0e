/** The reserve by chance as a house rule. The newsvendor itself is held against published rows in tests/published. */
import fc from 'fast-check'
import jstat from 'jstat'
import { describe, expect, it } from 'vitest'
import { priceSeason } from '../../../src-main/engine/plan/price.ts'
import { contextOf } from '../../../src-shared/agronomy/context.ts'
import { chanceWith, houseReserve, needVariation } from '../../../src-shared/agronomy/reserve.ts'
import { Book, type Assumption } from '../../../src-shared/assumption.ts'
import { starterBook } from '../../../src-shared/book/starter.ts'
import type { Rule } from '../../../src-shared/rule.ts'
import { demoFarm } from '../demo-farm.ts'

const book = new Book(starterBook)
const own = (key: string, value: number): Assumption => ({ key, value, unit: '', source: '', sourceKind: 'the farm' })
const fixed: Rule = { rule: 'reserve', amount: 0.03, isOn: true }
const byChance: Rule = { rule: 'reserve-by-chance', isOn: true }

describe('the house rule', () => {
  it('a fixed share, nothing, or by chance, which goes before', () => {
    const reserve = (...rules: Rule[]) => contextOf(demoFarm({ rules })).reserve
    expect(reserve()).toBe(0)
    expect(reserve(fixed)).toBe(0.03)
    // CV = √(0.03² + 0.02² + 0.03² + 0.01²) = 0.04796; F(z) = 0.60 / 0.95 = 0.6316, z = 0.336; 0.336 × 0.04796 = 0.0161.
    expect(reserve(byChance)).toBeCloseTo(0.0161, 4)
    expect(reserve(fixed, byChance)).toBe(reserve(byChance))
    expect(reserve(fixed, { ...byChance, isOn: false })).toBe(0.03)
  })

  it('reaches the solver’s problem', () => {
    const priced = priceSeason(demoFarm({ rules: [byChance] }))
    expect(priced.ok && priced.value.problem.rules.reserve).toBeCloseTo(0.0161, 4)
  })

  it('says mean, deviation, chance of running short and pounds left for every variety', () => {
    const answer = houseReserve(book, 20_000)
    expect(answer.mean).toBe(20_000)
    expect(answer.deviation).toBeCloseTo(
      20_000 * needVariation({ seedCount: 0.03, emergence: 0.02, planter: 0.03, acreage: 0.01 }),
      8,
    )
    expect(answer.chanceShort).toBeCloseTo(0.35 / 0.95, 10)
    expect(answer.orderPounds).toBeCloseTo(20_000 * (1 + answer.reserve), 6)
    expect(answer.expectedLeft - answer.expectedShort).toBeCloseTo(answer.orderPounds - 20_000, 6)
  })

  it('is never below the need, also where a pound left costs more than one missing', () => {
    const dear = new Book(starterBook, [own('reserve/left pound', 2)])
    const answer = houseReserve(dear, 1000)
    expect(answer.criticalRatio).toBeCloseTo(0.6 / 2.6, 10)
    expect(answer.reserve).toBe(0)
    expect(answer.chanceShort).toBeCloseTo(0.5, 10)
  })

  it('grows with what running short costs', () => {
    const dearer = new Book(starterBook, [own('reserve/short pound', 3)])
    expect(houseReserve(dearer, 1).reserve).toBeGreaterThan(houseReserve(book, 1).reserve)
  })
})

describe('what an amount means', () => {
  it('agrees with an independent library', () => {
    fc.assert(
      fc.property(fc.integer({ min: 900, max: 1100 }), (have) => {
        const answer = chanceWith(1000, houseReserve(book, 1000).deviation, have)
        expect(answer.chanceShort).toBeCloseTo(1 - jstat.normal.cdf(have, 1000, answer.deviation), 6)
        expect(answer.expectedLeft).toBeGreaterThanOrEqual(0)
        expect(answer.expectedShort).toBeGreaterThanOrEqual(0)
      }),
    )
  })

  it('with a certain need there is no chance', () => {
    expect(chanceWith(100, 0, 110)).toMatchObject({ chanceShort: 0, expectedLeft: 10, expectedShort: 0 })
    expect(chanceWith(100, 0, 90)).toMatchObject({ chanceShort: 1, expectedLeft: 0, expectedShort: 10 })
  })
})
