/** The drop on a field for a variety and window, and the stand that it leaves. */
import type { Field } from '../field.ts'
import type { Variety } from '../variety.ts'
import type { PlantingWindow } from '../window.ts'
import type { Context } from './context.ts'
import { seedsPerFootForStand, standOf } from './seed.ts'

export interface DropFor {
  /** [seeds/ft of row position]; both drills of a twin row together. */
  seedsPerFoot: number
  /** [plants/ft of row position] */
  stand: number
  /** Where the drop comes from. */
  by: 'the field' | 'a wanted stand' | 'the house' | 'the early window' | 'the plan'
}

/**
 * Rates that the plan may choose from: the house's and those around it, where the house lets the plan choose and the
 * field has no rate of its own. An early window raises each to the stand that it asks for.
 */
export function ratesFor(context: Context, field: Field, variety: Variety, window: PlantingWindow): DropFor[] {
  const house = dropFor(context, field, variety, window)
  if (!context.choosesRate || field.drop !== undefined) return [house]
  const emergence = context.emergence[field.rowPattern]
  const rates = new Map([[house.seedsPerFoot, house]])
  const least = leastOffered(context, window)
  for (const steps of rateSteps) {
    const seedsPerFoot = context.houseDrop[field.rowPattern] * (1 + steps * context.rateStep)
    const stand = standOf(seedsPerFoot, variety.germination, emergence)
    if (seedsPerFoot > 0 && stand >= least && !rates.has(seedsPerFoot))
      rates.set(seedsPerFoot, { seedsPerFoot, stand, by: 'the plan' })
  }
  return [...rates.values()]
}

/** [plants/ft] The least stand that the plan may choose in a window. */
export function leastOffered(context: Context, window: PlantingWindow): number {
  return Math.max(context.leastStand, earlyStandIn(context, window))
}

/** [plants/ft] What an early window asks for; 0 for the others. */
function earlyStandIn(context: Context, window: PlantingWindow): number {
  return window.kind === 'early' ? context.hard.earlyStand : 0
}

/** Steps from the house's rate; 0 is that rate itself. */
const rateSteps = [-2, -1, 1]

/** The most rates that `ratesFor` gives. */
export const mostRates = rateSteps.length + 1

/** The field's own drop, or the house's; an early window raises it to the stand that the rules ask for. */
export function dropFor(context: Context, field: Field, variety: Variety, window: PlantingWindow): DropFor {
  const emergence = context.emergence[field.rowPattern]
  const { germination } = variety
  const plain = plainDrop(context, field, variety)
  const least = earlyStandIn(context, window)
  const stand = standOf(plain.seedsPerFoot, germination, emergence)
  if (stand >= least) return { ...plain, stand }
  const seedsPerFoot = Math.max(plain.seedsPerFoot, seedsPerFootForStand(least, germination, emergence))
  return { seedsPerFoot, stand: standOf(seedsPerFoot, germination, emergence), by: 'the early window' }
}

function plainDrop(context: Context, field: Field, variety: Variety): Pick<DropFor, 'seedsPerFoot' | 'by'> {
  const { drop, rowPattern } = field
  if (drop === undefined) return { seedsPerFoot: context.houseDrop[rowPattern], by: 'the house' }
  if (drop.kind === 'fixed') return { seedsPerFoot: drop.seedsPerFoot, by: 'the field' }
  const emergence = context.emergence[rowPattern]
  return {
    seedsPerFoot: seedsPerFootForStand(drop.plantsPerFoot, variety.germination, emergence),
    by: 'a wanted stand',
  }
}
