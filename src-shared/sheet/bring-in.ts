/** Bringing a file into a sheet: match its columns, look at every row's fate, take it. What each step asks and tells. */
import * as v from 'valibot'
import { fieldSchema } from '../field.ts'
import { dayOrders } from './day-text.ts'
import { sheetNames } from './sheet.ts'

/** [character] of base64: a file of 20 MB. More is a mistake, or meant to do harm. */
const mostText = Math.ceil((20 * 1024 * 1024 * 4) / 3)

export const fileSchema = v.strictObject({
  name: v.pipe(v.string(), v.minLength(1), v.maxLength(255)),
  base64: v.pipe(
    v.string(),
    v.maxLength(mostText, 'must not be larger than 20 MB'),
    v.regex(/^[A-Za-z0-9+/]*={0,2}$/, 'must be base64'),
  ),
})

/** How a file writes what could be read two ways; asked about once a file, never guessed. */
const styleSchema = v.strictObject({
  /** What stands before the decimals. */
  numbers: v.optional(v.picklist(['point', 'comma'])),
  /** What comes first in 3/4/2027. */
  days: v.optional(v.picklist(dayOrders)),
  /** What 0.87 means in a column of percent. */
  shares: v.optional(v.picklist(['share', 'percent'])),
})

export type Style = v.InferOutput<typeof styleSchema>

export const lookSchema = v.strictObject({
  sheet: v.picklist(sheetNames),
  file: fileSchema,
  /** Of a workbook; absent: the first with anything in it. */
  page: v.optional(v.string()),
})

export const bringSchema = v.strictObject({
  ...lookSchema.entries,
  /** For each column of the file the id of ours, or null to leave it. */
  match: v.pipe(v.array(v.nullable(v.string())), v.maxLength(1000)),
  style: styleSchema,
})

export const takeSchema = v.strictObject({
  ...bringSchema.entries,
  /** Take the good rows although others are refused. */
  onlyGood: v.boolean(),
})

export interface FileLook {
  headers: { header: string; samples: string[]; match: string | null }[]
  rows: number
  pages: string[]
  page: string | null
}

export type Fate = 'added' | 'changed' | 'unchanged' | 'refused' | 'blank'
export const fates: readonly Fate[] = ['added', 'changed', 'unchanged', 'refused', 'blank']

export interface Question {
  about: keyof Style
  /** A text of the file that could be read two ways. */
  example: string
  header: string
  answers: { value: string; says: string }[]
}

export interface RowFate {
  /** As a spreadsheet counts it: the header is 1. */
  row: number
  fate: Fate
  cells: string[]
  /** By column of the file; −1 where it is the row as a whole. */
  problems: { column: number; what: string; remedy: string }[]
  /** Columns of the file that differ from what the farm has. */
  changes: number[]
}

export interface Preview {
  /** To be answered first; then there are no rows yet. */
  questions: Question[]
  rows: RowFate[]
  counts: Record<Fate, number>
}

export interface Taken {
  counts: Record<Fate, number>
  /** False: something was refused, and only good rows were not asked for. Nothing was changed. */
  isDone: boolean
}

export const boundarySchemaIn = v.strictObject({
  file: fileSchema,
  /** Property of the boundaries that holds the field's name; absent: the likeliest. */
  property: v.optional(v.string()),
  /** What else a field needs, for those that are not there yet; absent: none is made. Acres are those inside. */
  newFields: v.optional(
    v.strictObject({ water: fieldSchema.entries.water, yieldGoalLb: fieldSchema.entries.yieldGoalLb }),
  ),
})

export const boundaryTakeSchema = v.strictObject({
  ...boundarySchemaIn.entries,
  onlyGood: v.boolean(),
  /** Also set the planted acres to those inside. */
  setAcres: v.boolean(),
})

export interface BoundaryPreview {
  properties: string[]
  property: string | null
  rows: {
    row: number
    name: string
    acres: number | null
    fate: Fate
    what: string
    remedy: string
    /** Path data of SVG in a box of 100 by 100: what was read, where it was refused or mended. */
    picture: string | null
    /** There is no field of this name: it is made, or refused where none is to be made. */
    isNew: boolean
  }[]
  counts: Record<Fate, number>
}

/** A table as it is shown, to be written out. Text stays text; numbers are in the header's unit. */
export const exportSchema = v.strictObject({
  title: v.pipe(v.string(), v.trim(), v.minLength(1), v.maxLength(80)),
  as: v.picklist(['csv', 'xlsx']),
  headers: v.pipe(v.array(v.string()), v.minLength(1), v.maxLength(200)),
  rows: v.pipe(v.array(v.array(v.union([v.string(), v.number(), v.null()]))), v.maxLength(200_000)),
})

export interface WrittenFile {
  name: string
  type: string
  base64: string
}
