/** Emergence that falls with the drop, and drops for a stand. Trial: Peanut Science art. 1268 (T1e), 30-inch single rows. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  emergenceAt,
  packsFor,
  poundsPerAcre,
  seedsPerFootForStand,
  standOf,
} from '../../../src-shared/agronomy/seed.ts'

const emergences = fc.record({
  field: fc.double({ min: 0.5, max: 1, noNaN: true }),
  fallsPerSeed: fc.double({ min: 0, max: 0.085, noNaN: true }),
  referenceSeedsPerFoot: fc.double({ min: 4, max: 7, noNaN: true }),
})

describe('emergence that falls with the drop', () => {
  // 86 % of 4.27 seeds a foot stood; each seed more took 0.085.
  const trial = { field: 0.86, fallsPerSeed: 0.085, referenceSeedsPerFoot: 4.27 }

  it.each([
    [4.27, 0.86, 3.69],
    [5.18, 0.78, 4.02],
    [5.79, 0.73, 4.21],
  ])('art. 1268: %s seeds a foot → %s, %s plants a foot', (drop, share, plants) => {
    expect(Math.abs(emergenceAt(drop, 1, trial) - share)).toBeLessThan(0.005)
    // The plants are printed per metre to a tenth: 0.03 plants a foot.
    expect(Math.abs(standOf(drop, 1, trial) - plants)).toBeLessThan(0.04)
  })

  it('is held to one plant a seed, and to a twentieth', () => {
    expect(emergenceAt(1, 1, trial)).toBe(1)
    expect(emergenceAt(30, 1, trial)).toBe(0.05)
  })

  it('a drop for a stand leaves that stand, or where it cannot, the drop with the best stand', () => {
    fc.assert(
      fc.property(
        emergences,
        fc.double({ min: 0.7, max: 1, noNaN: true }),
        fc.double({ min: 1, max: 6, noNaN: true }),
        (emergence, germination, wanted) => {
          const drop = seedsPerFootForStand(wanted, germination, emergence)
          const stand = standOf(drop, germination, emergence)
          if (Math.abs(stand - wanted) < 1e-6) return
          // Not reached: no drop that anyone plants does better.
          for (let other = 1; other <= 15; other += 0.25) {
            expect(standOf(other, germination, emergence)).toBeLessThanOrEqual(stand + 1e-6)
          }
          expect(stand).toBeLessThan(wanted)
        },
      ),
    )
  })

  it('takes the lesser of the two drops', () => {
    // 0.085 s² − 1.22295 s + 4 = 0: 8 / (1.22295 + √0.13561) = 5.028; the other is 9.36.
    const drop = seedsPerFootForStand(4, 1, trial)
    expect(drop).toBeCloseTo(5.028, 3)
    expect(standOf(drop - 0.01, 1, trial)).toBeLessThan(4)
  })

  it.each([0, 0.085, -0.01])(
    'of dead seed it is a number still: twenty seeds a plant (falling by %s)',
    (fallsPerSeed) => {
      expect(seedsPerFootForStand(4, 0, { ...trial, fallsPerSeed })).toBeCloseTo(80, 9)
    },
  )

  it('without a fall: 4 plants at 85 % × 86 % take 5.47 seeds', () => {
    expect(seedsPerFootForStand(4, 0.85, { field: 0.86, fallsPerSeed: 0, referenceSeedsPerFoot: 6 })).toBeCloseTo(
      5.472,
      3,
    )
  })
})

describe('twin rows', () => {
  it('are one row position: 3 + 3 seeds in pairs 36 in apart take what 6 single at 36 in take', () => {
    // 14,520 ft × 6 seeds / 650 = 134.03 lb; counting each drill as a row would take twice that.
    expect(poundsPerAcre(3 + 3, 36, 650)).toBeCloseTo(134.03, 2)
  })
})

describe('packs', () => {
  it('are whole, over all fields of a variety together', () => {
    // Three fields of 1,010 lb and 3 %: 3,120.9 lb, 63 bags of 50; field by field it would be 3 × 21 + … = 63, of 2,000: 2 against 3.
    expect(packsFor(3 * 1010, 0.03, 50)).toBe(63)
    expect(packsFor(3 * 1010, 0.03, 2000)).toBe(2)
    expect(3 * packsFor(1010, 0.03, 2000)).toBe(3)
  })

  it('a rounding error buys no pack, and nothing needed buys none', () => {
    expect(packsFor(0.1 * 3 * 500, 0, 50)).toBe(3)
    expect(packsFor(0, 0.1, 50)).toBe(0)
  })
})
