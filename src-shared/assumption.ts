/**
 * The house book: every number a grower may dispute is a row with its unit, range and source, and can be
 * changed. Keys are paths, general to particular: `threat/spotted wilt/loss/high`.
 */
import * as v from 'valibot'
import { note } from './primitive.ts'

/** How a number is known. Only `published` and `derived` carry a citation. */
export const sourceKinds = [
  'published',
  'derived',
  'common practice',
  'our estimate',
  'from memory',
  'the farm',
] as const

export const assumptionSchema = v.strictObject({
  key: v.pipe(
    v.string(),
    v.maxLength(300, 'must not be longer than 300 characters'),
    // Any letters: a threat that a farm adds has its own name, as it is written, in the keys of its rows.
    v.regex(/^[^\s\p{Cc}][^\p{Cc}]*\/[^\p{Cc}]*[^\s\p{Cc}]$/u, 'must be a path such as seed/bag'),
  ),
  /** A number, or one of a few words where the row names an action. */
  value: v.union([v.pipe(v.number(), v.finite()), v.pipe(v.string(), v.maxLength(80))], 'must be a number or a word'),
  unit: v.optional(v.string(), ''),
  low: v.optional(v.pipe(v.number(), v.finite())),
  high: v.optional(v.pipe(v.number(), v.finite())),
  /** What it bears on, in a few words. */
  affects: v.optional(note),
  source: v.optional(note, ''),
  sourceKind: v.picklist(sourceKinds),
})

export type Assumption = v.InferOutput<typeof assumptionSchema>

/** Where a figure is known as a range: its ends and the value that is counted with. */
export interface Range {
  low: number
  usual: number
  high: number
}

/** A row as a range. Without ends it is its value; a farm's own value outside the ends widens them. */
export function rangeOf(row: Pick<Assumption, 'value' | 'low' | 'high'>): Range {
  const usual = Number(row.value)
  return { low: Math.min(row.low ?? usual, usual), usual, high: Math.max(row.high ?? usual, usual) }
}

/** Rows by key. A key asked for and not there is a fault of the starter set, so it throws. */
export class Book {
  readonly rows: ReadonlyMap<string, Assumption>

  /** Later rows replace earlier ones of the same key: starter set first, the farm's changes after. */
  constructor(...sets: readonly (readonly Assumption[])[]) {
    this.rows = new Map(sets.flat().map((row) => [row.key, row]))
  }

  row(key: string): Assumption {
    const row = this.rows.get(key)
    if (!row) throw new Error(`The book has no row ${key}.`)
    return row
  }

  number(key: string): number {
    const { value } = this.row(key)
    if (typeof value !== 'number') throw new Error(`The book's row ${key} is not a number.`)
    return value
  }

  word(key: string): string {
    return String(this.row(key).value)
  }

  /** The number, or `otherwise` where no row was written: for factors that most threats do not have. */
  numberOr(key: string, otherwise: number): number {
    return this.rows.has(key) ? this.number(key) : otherwise
  }
}
