/** The work that a vine asks for: what is paid for it and what it gains. A growth regulator is weighed, not forced. */
import type { Variety } from '../variety.ts'
import { silent } from './calculation.ts'
import type { Context } from './context.ts'
import { dollarsPerPound } from './price.ts'
import type { VineEntry } from './vine.ts'

/** Whether a growth regulator is used where the vine table names one: where it pays, or where the house says always. */
export interface VineWork {
  /** [cent/acre] paid: negative where it saves. */
  cents: number
  /** [lb/acre] more yield. */
  gainLb: number
  /** True where a regulator is named and left off, since it costs more than it brings. */
  isLeftOff: boolean
}

export function vineWorkOf(context: Context, vine: VineEntry, variety: Variety): VineWork {
  const gainLb = context.regulatorGainLb
  if (vine.action === 'growth regulator always') return { cents: vine.cents, gainLb, isLeftOff: false }
  if (vine.action !== 'growth regulator') return { cents: vine.cents, gainLb: 0, isLeftOff: false }
  const worth = gainLb * dollarsPerPound(context.book, context.price, variety, silent) * 100
  return worth > vine.cents ? { cents: vine.cents, gainLb, isLeftOff: false } : { cents: 0, gainLb: 0, isLeftOff: true }
}
