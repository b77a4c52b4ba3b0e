/** Stand counts: mean plants a foot with its 95 % interval, against the target and against what the lot promised. Pure. */
import { spreadOf } from './mean-interval.ts'

export interface Spot {
  /** [ft] of row, > 0 */
  feet: number
  plants: number
}

export interface Stand {
  spots: number
  /** [plants/ft] mean of the spots, each weighing the same. */
  mean: number
  /** [plants/ft] ends of the 95 % interval; null with fewer than two spots. */
  low: number | null
  high: number | null
}

/**
 * Mean and 95 % interval of the spots' plants a foot. Each spot is one draw: spots of one length are what is asked for.
 * @param spots at least one
 */
export function standFrom(spots: readonly Spot[]): Stand {
  const densities = spots.map(({ feet, plants }) => plants / feet)
  const { count, mean, low, high } = spreadOf(densities)
  // No row has fewer plants than none.
  return { spots: count, mean, low: low === null ? null : Math.max(0, low), high }
}

export type StandVerdict = 'as wanted' | 'not told apart' | 'low'

/** Low only where the whole interval lies below: one bad spot is no bad field. */
export function judgeStand({ mean, low, high }: Stand, wanted: number): StandVerdict {
  if (mean >= wanted) return 'as wanted'
  if (low === null || high === null || high >= wanted) return 'not told apart'
  return 'low'
}
