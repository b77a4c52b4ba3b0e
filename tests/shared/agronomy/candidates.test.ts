/** Which candidates become options: by the two rules written out pair by pair, and by what a plan could ask for. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { ratePrice, worthKeeping, type Candidates } from '../../../src-shared/agronomy/candidates.ts'
import { leastExtra, type SeedPrice } from '../../../src-shared/agronomy/seed-price.ts'

interface Case {
  price: SeedPrice | undefined
  pounds: number[]
  cash: number[]
  /** By rate, then by program. */
  each: { isAllowed: boolean; loss: number; other: number }[]
}

const RISK_WEIGHT = 1.5
const field = { acres: 40 }
const few = (max: number) => fc.integer({ min: 0, max })

/** Small numbers, so that ties and exact equals come up. */
const anyCase: fc.Arbitrary<Case> = fc.tuple(few(3), few(5)).chain(([rates, programs]) => {
  const list = <Item>(item: fc.Arbitrary<Item>, length: number) =>
    fc.array(item, { minLength: length, maxLength: length })
  const each = fc.record({ isAllowed: fc.boolean(), loss: few(8), other: few(8) })
  const price = fc.record({
    least: few(2),
    most: fc.integer({ min: 2, max: 4 }),
    isLimited: fc.boolean(),
    carriedPounds: fc.constantFrom(0, 80, 200),
    mustUse: fc.boolean(),
  })
  return fc.record({
    price: fc.option(price, { nil: undefined }),
    pounds: list(few(6), rates + 1),
    cash: list(few(8), programs + 1),
    each: list(each, (rates + 1) * (programs + 1)),
  })
})

function candidatesOf({ pounds, cash, each }: Case): Candidates {
  const programs = cash.length
  const column = (of: (at: number) => number) => Float64Array.from(each.keys(), of)
  const cashOf = (at: number) => cash[at % programs]!
  return {
    rates: pounds.length,
    programs,
    isAllowed: Uint8Array.from(each, ({ isAllowed }) => Number(isAllowed)),
    pounds: column((at) => pounds[Math.floor(at / programs)]!),
    cash: column(cashOf),
    loss: column((at) => each[at]!.loss),
    other: column((at) => each[at]!.other),
    total: column((at) => cashOf(at) + RISK_WEIGHT * each[at]!.loss + each[at]!.other),
  }
}

function keptOf(given: Case): number[] {
  const byCash = [...given.cash.keys()].sort((a, b) => given.cash[a]! - given.cash[b]!)
  return worthKeeping(candidatesOf(given), given.price && ratePrice(given.price, field, given.pounds), byCash)
}

/** The same by comparing every candidate with every other. */
function keptByPairs({ price, pounds, cash, each }: Case): number[] {
  const programs = cash.length
  const all = each
    .map((one, at) => ({ ...one, at, cash: cash[at % programs]!, pounds: pounds[Math.floor(at / programs)]! }))
    .filter(({ isAllowed }) => isAllowed)
  type One = (typeof all)[number]
  const total = (one: One, perPound = 0) => one.cash + RISK_WEIGHT * one.loss + one.other + perPound * one.pounds
  const pays = (one: One) =>
    all
      .filter((other) => other.at % programs === one.at % programs)
      .every((other) => {
        if (price === undefined || other.pounds === one.pounds) return true
        if (other.pounds < one.pounds)
          return total(one) + leastExtra(price, field, other.pounds, one.pounds) < total(other)
        return price.isLimited || total(one, price.most) <= total(other, price.most)
      })
  const paying = all.filter(pays)
  const isAsGood = (a: One, b: One) =>
    a.cash <= b.cash && a.loss <= b.loss && a.other <= b.other && a.pounds <= b.pounds
  return paying
    .filter((one) => !paying.some((by) => by !== one && isAsGood(by, one) && (!isAsGood(one, by) || by.at < one.at)))
    .map(({ at }) => at)
}

test('what stays is what no other beats, in its order', () => {
  fc.assert(
    fc.property(anyCase, (given) => {
      expect(keptOf(given)).toEqual(keptByPairs(given))
    }),
    { numRuns: 3000 },
  )
})

test('the best stays at every price of seed between the least and the most', () => {
  fc.assert(
    fc.property(anyCase, fc.double({ min: 0, max: 1, noNaN: true }), (given, share) => {
      const price = given.price && { ...given.price, carriedPounds: 0 }
      const perPound = price === undefined ? 10 * share : price.least + share * (price.most - price.least)
      const { total, pounds, isAllowed } = candidatesOf(given)
      const cost = (at: number) => total[at]! + perPound * pounds[at]!
      const allowed = [...total.keys()].filter((at) => isAllowed[at] === 1)
      const kept = keptOf({ ...given, price })
      expect(kept.length > 0).toBe(allowed.length > 0)
      if (kept.length > 0) expect(Math.min(...kept.map(cost))).toBeCloseTo(Math.min(...allowed.map(cost)), 9)
    }),
    { numRuns: 3000 },
  )
})
