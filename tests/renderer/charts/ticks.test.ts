/** Round places on an axis hold all that is shown, evenly. */
import fc from 'fast-check'
import { expect, it } from 'vitest'
import { ticksOf } from '../../../src-renderer/charts/ticks.ts'

it.each([
  [0, 100, 5, [0, 20, 40, 60, 80, 100]],
  [0, 27_461, 6, [0, 5000, 10_000, 15_000, 20_000, 25_000, 30_000]],
  [-30, 45, 4, [-40, -20, 0, 20, 40, 60]],
  [7, 7, 5, [7, 8]],
])('%d to %d in about %d', (low, high, count, ticks) => {
  expect(ticksOf(low, high, count)).toEqual(ticks)
})

it('holds both ends, rises, and is not crowded', () => {
  const value = fc.double({ min: -1e9, max: 1e9, noNaN: true })
  fc.assert(
    fc.property(value, fc.double({ min: 1e-3, max: 1e9, noNaN: true }), (low, span) => {
      const ticks = ticksOf(low, low + span)
      const slack = span * 1e-6
      expect(ticks[0]!).toBeLessThanOrEqual(low + slack)
      expect(ticks.at(-1)!).toBeGreaterThanOrEqual(low + span - slack)
      expect(ticks.length).toBeLessThanOrEqual(9)
      for (const [at, tick] of ticks.entries()) if (at > 0) expect(tick).toBeGreaterThan(ticks[at - 1]!)
    }),
  )
})
