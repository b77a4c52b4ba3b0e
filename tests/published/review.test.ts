/**
 * The review's statistics against an independent library (jstat): t intervals of a mean and Welch's interval of a difference;
 * and an example worked out by hand.
 */
import jstat from 'jstat'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { differenceOf, spreadOf } from '../../src-shared/agronomy/mean-interval.ts'

const values = fc.array(fc.double({ min: -2000, max: 2000, noNaN: true }), { minLength: 2, maxLength: 30 })
/** Spread enough that a rounding error is not all of it. */
const spread = values.filter((list) => Math.max(...list) - Math.min(...list) > 1)
const mean = (list: readonly number[]) => list.reduce((sum, each) => sum + each, 0) / list.length
const variance = (list: readonly number[]) =>
  list.reduce((sum, each) => sum + (each - mean(list)) ** 2, 0) / (list.length - 1)

describe('against jstat', () => {
  it('the 95 % interval of a mean', () => {
    fc.assert(
      fc.property(spread, (list) => {
        const { low, high } = spreadOf(list)
        const half = jstat.studentt.inv(0.975, list.length - 1) * Math.sqrt(variance(list) / list.length)
        // The library's quantile is good to about a millionth.
        expect(Math.abs(high! - (mean(list) + half))).toBeLessThan(half * 1e-5 + 1e-9)
        expect(Math.abs(low! - (mean(list) - half))).toBeLessThan(half * 1e-5 + 1e-9)
      }),
    )
  })

  it('Welch’s interval of a difference, and whether 0 lies in it', () => {
    fc.assert(
      fc.property(spread, spread, (a, b) => {
        const found = differenceOf(spreadOf(a), spreadOf(b))!
        const [one, other] = [variance(a) / a.length, variance(b) / b.length]
        const degrees = (one + other) ** 2 / (one ** 2 / (a.length - 1) + other ** 2 / (b.length - 1))
        const half = jstat.studentt.inv(0.975, degrees) * Math.sqrt(one + other)
        expect(found.degrees).toBeCloseTo(degrees, 6)
        expect(Math.abs(found.high - found.low - 2 * half)).toBeLessThan(half * 1e-4)
        expect(found.isToldApart).toBe(found.low > 0 || found.high < 0)
      }),
    )
  })
})

it('an example by hand: 5 and 4 fields', () => {
  const found = differenceOf(spreadOf([610, 590, 640, 600, 620]), spreadOf([520, 560, 540, 500]))!
  // Means 612 and 530, variances 370 and 666.67; standard error √(74 + 166.67) = 15.513.
  expect(found.difference).toBeCloseTo(82, 9)
  expect(found.degrees).toBeCloseTo(240.6667 ** 2 / (74 ** 2 / 4 + 166.6667 ** 2 / 3), 3)
  expect(found.isToldApart).toBe(true)
})

it('one field has no interval, and nothing is told apart by it', () => {
  const one = spreadOf([500])
  expect(one).toEqual({ count: 1, mean: 500, deviation: null, low: null, high: null })
  expect(differenceOf(one, spreadOf([1, 2, 3]))).toBeNull()
})

it('fields that are all alike: the difference is what it is', () => {
  expect(differenceOf(spreadOf([5, 5]), spreadOf([3, 3]))).toMatchObject({ low: 2, high: 2, isToldApart: true })
  expect(differenceOf(spreadOf([5, 5]), spreadOf([5, 5]))).toMatchObject({ isToldApart: false })
})
