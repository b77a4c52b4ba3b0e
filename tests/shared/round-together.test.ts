/** Figures rounded together: they add up to what stands below them, and none moves by more than one. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { roundTogether } from '../../src-shared/round-together.ts'

test('three thirds of 100 are 34, 33 and 33', () => {
  expect(roundTogether([100 / 3, 100 / 3, 100 / 3])).toEqual([34, 33, 33])
})

test('any column adds up to its rounded sum, and each figure stays within one of its value', () => {
  const value = fc.double({ min: -1e6, max: 1e6, noNaN: true })
  fc.assert(
    fc.property(fc.array(value, { maxLength: 40 }), (values) => {
      const whole = roundTogether(values)
      expect(whole.reduce((sum, each) => sum + each, 0)).toBe(
        Math.round(values.reduce((sum, each) => sum + each, 0)) + 0,
      )
      for (const [at, each] of whole.entries()) expect(Math.abs(each - values[at]!)).toBeLessThanOrEqual(1)
    }),
  )
})
