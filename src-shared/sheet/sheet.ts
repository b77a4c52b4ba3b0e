/**
 * A sheet is a table of one noun that a person types, pastes and imports into. Here are its names and what a change
 * to it says: many cells, new rows and removed rows in one call, so that a paste is one transaction and one undo step.
 */
import * as v from 'valibot'
import { nameText, rowId } from '../primitive.ts'
import type { Problem } from '../problem.ts'

export const sheetNames = [
  'field',
  'variety',
  'dealer',
  'quote',
  'carried',
  'window',
  'week',
  'machine',
  'measure',
  'threat',
  'rule',
  'load',
  'seen',
  'cost',
  'contract',
] as const

export type SheetName = (typeof sheetNames)[number]

/** What a cell holds: a property of its noun as the noun's schema has it; null empties it. */
export type CellValue = string | number | boolean | null | readonly unknown[] | { readonly [key: string]: unknown }

/** As it is sent: the column's own schema decides in the engine what it means. */
const given = v.union([
  v.string(),
  v.number(),
  v.boolean(),
  v.null(),
  v.pipe(v.array(v.unknown()), v.maxLength(1000)),
  v.record(v.string(), v.unknown()),
])

const path = v.pipe(v.string(), v.minLength(1), v.maxLength(200))
const most = 200_000

/** Paths are properties of the noun, as `acres`; one entry of a record follows a slash, as `pressure/spotted wilt`. */
export const sheetChangeSchema = v.strictObject({
  sheet: v.picklist(sheetNames),
  /** Words for the undo menu, as “Paste 40 cells”. */
  says: nameText,
  /** `was`: the value that was seen; where it is another by now, the cell is refused. Absent: whatever it was. */
  cells: v.optional(
    v.pipe(v.array(v.strictObject({ id: rowId, path, value: given, was: v.optional(given) })), v.maxLength(most)),
    [],
  ),
  /** `key` is the caller's own, to find the row again in the outcome. */
  added: v.optional(
    v.pipe(v.array(v.strictObject({ key: v.number(), values: v.record(path, given) })), v.maxLength(most)),
    [],
  ),
  removed: v.optional(v.pipe(v.array(rowId), v.maxLength(most)), []),
})

export type SheetChange = v.InferOutput<typeof sheetChangeSchema>

/** One cell that was not taken. `key` is the row's id, or the caller's own key of a row to be added. */
export interface RefusedCell {
  key: number
  /** Empty where the row as a whole was not taken. */
  path: string
  problem: Problem
}

/** What came of a change. What was not taken is named; all else is done. */
export interface SheetOutcome {
  /** Cells of standing rows that were written. */
  taken: number
  /** Ids of new rows by the caller's keys. */
  added: { key: number; id: number }[]
  removed: number
  refused: RefusedCell[]
}

/** What a change leaves in the list of its sheet: the rows that it wrote, as that list has them, and the order of all. */
export interface SheetRows {
  rows: readonly { id: number }[]
  ids: readonly number[]
}

/** How a row of each sheet is named to people. */
export const sheetWords: Record<SheetName, { one: string; many: string }> = {
  field: { one: 'field', many: 'fields' },
  variety: { one: 'variety', many: 'varieties' },
  dealer: { one: 'dealer', many: 'dealers' },
  quote: { one: 'quote', many: 'quotes' },
  carried: { one: 'carried lot', many: 'carried lots' },
  window: { one: 'planting window', many: 'planting windows' },
  week: { one: 'week', many: 'weeks' },
  machine: { one: 'machine', many: 'machines' },
  measure: { one: 'measure', many: 'measures' },
  threat: { one: 'threat', many: 'threats' },
  rule: { one: 'rule', many: 'rules' },
  load: { one: 'load', many: 'loads' },
  seen: { one: 'trouble seen', many: 'troubles seen' },
  cost: { one: 'cost', many: 'costs' },
  contract: { one: 'contract', many: 'contracts' },
}
