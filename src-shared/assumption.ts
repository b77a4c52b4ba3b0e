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
    v.regex(/^[a-z0-9][a-z0-9 .-]*(\/[a-z0-9][a-z0-9 .-]*)*$/i, 'must be a path such as seed/bag'),
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
