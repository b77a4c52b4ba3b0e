/**
 * What spreadsheets call the columns of each table, what their cells hold and in which unit: one table of data, by noun, in
 * nouns.json. A new word goes there, never into a branch. Heads are in any short form: both sides are written out before they are
 * compared. Common practice in the trade, no source. Tests hold the table against the columns of the sheets.
 */
import type { SheetName } from '../sheet/sheet.ts'
import table from './nouns.json' with { type: 'json' }
import type { Dimension } from './units.ts'

/** How a cell is read. `virtual` columns below are read into others: two crops into one history, two prices into two quotes. */
export type Reads =
  | 'name' // words as they stand
  | 'place' // words; a merged or ditto cell goes on
  | 'note'
  | 'field' // the name of one that is there
  | 'variety'
  | 'dealer'
  | 'threat'
  | 'figure'
  | 'whole' // a figure without decimals
  | 'share' // a share of something, in percent
  | 'index' // against usual = 1: 1.06, 106 or 106 %
  | 'money' // whole cents
  | 'day'
  | 'monthDay'
  | 'word' // one of the column’s choices
  | 'yesNo'
  | 'rating' // 1–9, or another scale
  | 'level' // none … severe, or another scale
  | 'crop'
  | 'history'
  | 'rows' // spacing, pattern, or both in one cell
  | 'count' // nematodes, in a unit to be known
  | 'price'
  | 'pack'
  | 'breaks'
  | 'packs' // how many packs, or a weight
  | 'own' // as the column of the sheet reads it

export interface ColumnWords {
  /** Of the sheet’s column, or of a virtual one. */
  id: string
  label: string
  reads: Reads
  heads: string
  dimension?: Dimension
  /** [unit of its dimension] one of ours, where ours is another, as feet of a length. */
  oneIs?: number
  /** What a farm has, in our unit; outside of it another unit is meant, or it is another column. */
  usual?: readonly [low: number, high: number]
  /** Never by its heading alone: the cells must fit as well. */
  isWeak?: true
  /** A row cannot be made without it. */
  isNeeded?: true
  /** Other factors that figures without a unit may have, tried where they are not usual as they stand. */
  others?: readonly { unit: string; factor: number }[]
  /** May stand in several columns, which are read together. */
  isMany?: true
  /** Key of `choiceWords`, where it is not the id: columns of several nouns have one id. */
  choices?: string
  /** Path that it is written to where no column gives it; always asked about, since it is near and not the same. */
  standsFor?: string
}

export const nounNames = [
  'field',
  'history',
  'soil',
  'variety',
  'quote',
  'dealer',
  'carried',
  'load',
  'seen',
  'cost',
  'contract',
  'window',
  'week',
  'machine',
  'measure',
  'threat',
  'rule',
] as const
export type Noun = (typeof nounNames)[number]

export interface NounWords {
  noun: Noun
  sheet: SheetName
  /** Whole sentences end with it: “These are fields”. */
  many: string
  /** In a title, a file’s name or a sheet’s. */
  names: string
  /** One of each must be there. */
  needs: readonly (readonly string[])[]
  /** Speaks against it. */
  not?: readonly string[]
  columns: readonly ColumnWords[]
}

/** The table itself, one column a line. */
export const nouns = table as unknown as readonly NounWords[]

/** What a table may be called by the sheet that it goes to. */
export const nounOfSheet = (sheet: SheetName): Noun | null => nouns.find((each) => each.sheet === sheet)?.noun ?? null

export const wordsOf = (noun: Noun): NounWords => nouns.find((each) => each.noun === noun) as NounWords
