/** Margin an acre against seeding rate, for one field, variety, window and spray program. */
import { acreValue, bestValueOf, vineCents } from './acre-money.ts'
import { growingAt, leftBy, practicesOf, type BlockAt } from './block-money.ts'
import type { Context } from './context.ts'
import { cropOf, groundFor } from './crop.ts'
import { dropFor, leastOffered } from './drop.ts'
import { poundsPerAcre } from './seed.ts'

export interface RatePoint {
  /** [seeds/ft of row position] */
  seedsPerFoot: number
  /** [plants/ft] */
  stand: number
  /** [lb/acre] of seed, without the reserve. */
  seedPounds: number
  /** [lb/acre] */
  yieldLb: number
  /** [cent/acre] what the crop leaves after losses, less seed; all else is the same at every rate. */
  cents: number
  /** False where the stand falls below what the house lets a plan choose. */
  isOffered: boolean
}

/** How far the curve reaches on both sides of the house's rate. */
const [from, to, steps] = [0.5, 1.5, 20] as const

/**
 * @param seedCentsPerPound [cent/lb] what a pound of seed costs, with the reserve
 * @returns rates from half to one and a half of the house's, rising
 */
export function rateCurve(
  context: Context,
  at: BlockAt,
  programme: readonly string[],
  seedCentsPerPound: number,
): RatePoint[] {
  const { field, variety, window } = at
  const house = dropFor(context, field, variety, window).seedsPerFoot
  const least = leastOffered(context, window)
  const ground = groundFor(context, field)
  const best = bestValueOf(context)
  const left = leftBy(context, practicesOf(context, programme))
  return Array.from({ length: steps + 1 }, (_, step): RatePoint => {
    const seedsPerFoot = house * (from + ((to - from) * step) / steps)
    const growing = growingAt(context, at, seedsPerFoot)
    const crop = cropOf(context, ground, growing, left)
    const value = acreValue(context, best, ground, field, variety, crop.beforeLb, 0)
    const vine = vineCents(context, field, variety, value.crop, crop.lossShare)
    const seedPounds = poundsPerAcre(seedsPerFoot, field.rowSpacingIn, variety.seedsPerPound)
    const cents = value.crop * (1 - context.riskWeight * crop.lossShare) - vine - seedPounds * seedCentsPerPound
    const isOffered = growing.stand >= least
    return { seedsPerFoot, stand: growing.stand, seedPounds, yieldLb: crop.lb, cents, isOffered }
  })
}

/** The best point of a curve that the house offers; of all where it offers none. @param points at least one */
export function bestRate(points: readonly RatePoint[]): RatePoint {
  const offered = points.filter(({ isOffered }) => isOffered)
  return (offered.length > 0 ? offered : points).reduce((best, each) => (each.cents > best.cents ? each : best))
}
