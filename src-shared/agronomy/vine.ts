/** The vine: what a vine class does on ground of a given growth, and what it costs or saves. */
import type { Book } from '../assumption.ts'
import { growthLevels, type GrowthLevel } from '../field.ts'
import { vineClasses, type VineClass } from '../variety.ts'

export const vineActions = ['promote', 'none', 'hold back', 'growth regulator', 'do not plant'] as const
export type VineAction = (typeof vineActions)[number]

export interface VineEntry {
  action: VineAction
  /** [cent/acre] cost of the action; negative where it saves, as fertilizer that is not spread. */
  cents: number
  /** Multiplies the loss to leaf diseases. */
  leafSpot: number
  /** [share of yield] left in the ground. */
  digLoss: number
  /** [share] more digger and combine hours. */
  slowing: number
}

export type VineTable = Record<VineClass, Record<GrowthLevel, VineEntry>>

/** Reads the 4 × 3 table. A word that is no action is a fault of the row and reads as none. */
export function readVine(book: Book): VineTable {
  return Object.fromEntries(
    vineClasses.map((vine) => [
      vine,
      Object.fromEntries(growthLevels.map((growth) => [growth, readEntry(book, vine, growth)])),
    ]),
  ) as VineTable
}

function readEntry(book: Book, vine: VineClass, growth: GrowthLevel): VineEntry {
  const at = (rest: string) => `vine/${vine}/${growth}/${rest}`
  const word = book.word(at('action'))
  return {
    action: vineActions.find((action) => action === word) ?? 'none',
    cents: book.number(at('cost')) * 100,
    leafSpot: book.number(at('leaf disease')),
    digLoss: book.number(at('digging loss')),
    slowing: book.number(at('slowing')),
  }
}
