/** The vine: what a vine class does on ground of a given growth, and what it costs or saves. */
import type { Book } from '../assumption.ts'
import { growthLevels, type GrowthLevel } from '../field.ts'
import type { Problem } from '../problem.ts'
import { vineClasses, type VineClass } from '../variety.ts'

export const vineActions = [
  'promote',
  'none',
  'hold back',
  'growth regulator',
  'growth regulator always',
  'do not plant',
] as const
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

/** Key of one cell's figure: `vine/very large/rank/digging loss`. */
export function vineKey(vine: VineClass, growth: GrowthLevel, what: string): string {
  return `vine/${vine}/${growth}/${what}`
}

/** Reads the 4 × 3 table. A word that is no action reads as none; `vineNotices` says so. */
export function readVine(book: Book): VineTable {
  return Object.fromEntries(
    vineClasses.map((vine) => [
      vine,
      Object.fromEntries(growthLevels.map((growth) => [growth, readEntry(book, vine, growth)])),
    ]),
  ) as VineTable
}

function readEntry(book: Book, vine: VineClass, growth: GrowthLevel): VineEntry {
  const at = (what: string) => vineKey(vine, growth, what)
  return {
    action: actionIn(book.word(at('action'))) ?? 'none',
    cents: book.number(at('cost')) * 100,
    leafSpot: book.number(at('leaf disease')),
    digLoss: book.number(at('digging loss')),
    slowing: book.number(at('slowing')),
  }
}

function actionIn(word: string): VineAction | undefined {
  return vineActions.find((action) => action === word)
}

/** Cells whose word is no action, each as a problem: nothing is done there until the row is corrected. */
export function vineNotices(book: Book): Problem[] {
  return vineClasses.flatMap((vine) =>
    growthLevels.flatMap((growth) => {
      const key = vineKey(vine, growth, 'action')
      const word = book.word(key)
      if (actionIn(word)) return []
      return [
        {
          code: 'bad-value' as const,
          what: `“${word}” is no action that the vine table knows, so nothing is done to a ${vine} vine on ${growth} ground.`,
          where: { table: 'assumption', path: key },
          remedy: `Choose one of: ${vineActions.join(', ')}.`,
        },
      ]
    }),
  )
}
