/**
 * Stand counts: mean plants a foot with its 95 % interval, against the target and against what the lot promised, and
 * for a low stand what keeping it costs set against planting again. Every price is a row of the book. Pure.
 */
import type { Book } from '../assumption.ts'
import type { RowPattern } from '../field.ts'
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

export interface ReplantCase {
  rowPattern: RowPattern
  /** [lb/acre] that the field is expected to make. */
  yieldLb: number
  /** [cent/lb] of peanuts */
  centsPerPound: number
  /** [cent/acre] of new seed */
  seedCentsPerAcre: number
}

export interface ReplantChoice {
  /** [cent/acre] yield forgone by the thin stand. */
  keepCents: number
  /** [cent/acre] seed, work and yield lost to the later planting. */
  replantCents: number
  seedCents: number
  workCents: number
  laterCents: number
  /** [share] of yield that keeping forgoes. */
  keepShare: number
}

/**
 * [share] of yield that a thin stand forgoes: so much for each plant a foot missing of the reference, never all.
 * @param stand [plants/ft]
 */
export function thinStandLoss(book: Book, stand: number, rowPattern: RowPattern): number {
  const missing = Math.max(0, book.number('stand/reference') - stand)
  return Math.min(1, missing * book.number(`replant/yield per missing plant/${rowPattern}`))
}

/** Keeping a stand against planting again, in cents an acre; the cheaper is a question of the book's numbers. */
export function replantOrKeep(book: Book, stand: number, of: ReplantCase): ReplantChoice {
  const crop = of.yieldLb * of.centsPerPound
  const keepShare = thinStandLoss(book, stand, of.rowPattern)
  const workCents = book.number('replant/work') * 100
  const laterCents = crop * book.number('replant/share lost by planting late')
  return {
    keepShare,
    keepCents: Math.round(keepShare * crop),
    seedCents: Math.round(of.seedCentsPerAcre),
    workCents: Math.round(workCents),
    laterCents: Math.round(laterCents),
    replantCents: Math.round(of.seedCentsPerAcre) + Math.round(workCents) + Math.round(laterCents),
  }
}
