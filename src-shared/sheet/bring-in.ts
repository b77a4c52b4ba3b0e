/** Bringing a file into a sheet: match its columns, look at every row's fate, take it. What each step asks and tells. */
import * as v from 'valibot'
import { fieldSchema } from '../field.ts'
import type { Problem } from '../problem.ts'
import { nounNames, type Noun } from '../recognize/nouns.ts'
import type { Question, WordRead } from '../recognize/question.ts'
import { sheetNames, type CellValue, type SheetName } from './sheet.ts'

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

const key = v.pipe(v.string(), v.maxLength(400))
const answers = v.optional(v.record(key, v.pipe(v.string(), v.maxLength(300))), {})
const row = v.pipe(v.string(), v.regex(/^\d{1,7}$/, 'must be the number of a row'))

/** What the person chose for one table: absent is as it was recognized. */
const choiceSchema = v.strictObject({
  noun: v.optional(v.picklist([...nounNames, 'none'])),
  headerRow: v.optional(v.pipe(v.number(), v.safeInteger(), v.minValue(1))),
  match: v.optional(v.record(row, v.nullable(key))),
  answers,
  edits: v.optional(v.record(row, v.record(row, v.pipe(v.string(), v.maxLength(2000))))),
})

/** Files of tables, each with any number of them. */
export const lookSchema = v.strictObject({
  files: v.pipe(v.array(fileSchema), v.minLength(1), v.maxLength(20)),
  /** The sheet of the page that they were dropped on: it decides where a table could be of two. */
  onto: v.optional(v.picklist(sheetNames)),
  /** By the key of a table. */
  choices: v.optional(v.record(key, choiceSchema), {}),
  /** Also tell what each row was read as, by path. */
  withValues: v.optional(v.boolean(), false),
  /** To questions about words, which hold for every table and are kept on this machine. */
  answers,
})

export const takeSchema = v.strictObject({
  ...lookSchema.entries,
  /** Take what can be taken although something is asked still, or rows are refused. */
  onlyGood: v.boolean(),
})

export type ImportLook = v.InferInput<typeof lookSchema>

export type Fate = 'added' | 'changed' | 'unchanged' | 'refused' | 'blank'
export const fates: readonly Fate[] = ['added', 'changed', 'unchanged', 'refused', 'blank']

export interface CellProblem {
  /** Place in the table; −1 where it is the row as a whole. */
  column: number
  what: string
  remedy: string
}

export interface RowFate {
  /** As a spreadsheet counts it. */
  row: number
  fate: Fate
  cells: string[]
  /** Why it is refused. */
  problems: CellProblem[]
  /** Cells that are left out; the rest of the row comes in. */
  left: CellProblem[]
  /** Cells that are read otherwise than they stand. */
  says: { column: number; what: string }[]
  /** Columns that differ from what the farm has. */
  changes: number[]
  /** Where they were asked for: what it was read as, by path; two where a row is two quotes. */
  values?: Record<string, CellValue>[]
}

export interface TableLook {
  key: string
  file: string
  page: string | null
  /** What it is; null: nobody knows, or it is left out. */
  noun: Noun | null
  sheet: SheetName | null
  isLeftOut: boolean
  /** What it could be as well, the likeliest first. */
  nouns: { noun: Noun; many: string }[]
  /** [row] as a spreadsheet counts them. */
  headerRows: number[]
  columns: {
    heading: string
    id: string | null
    samples: string[]
    /** How the column as a whole is read, as “in tons”; empty where it is as it stands. */
    says: string
    isAsked: boolean
  }[]
  /** What a column can be. */
  choices: { id: string; label: string }[]
  questions: Question[]
  words: WordRead[]
  /** Rows that are no rows of the table: titles, totals, notes. */
  aside: { row: number; why: string; text: string }[]
  rows: RowFate[]
  counts: Record<Fate, number>
  /** Cells that are left out of rows that come in. */
  leftCells: number
  /** Dealers that are added because a quote names them. */
  newDealers: string[]
}

export interface ImportSeen {
  tables: TableLook[]
  /** Files that could not be read. */
  problems: Problem[]
}

export interface Taken {
  counts: Record<Fate, number>
  /** False: something is asked or refused, and only good rows were not asked for. Nothing was changed. */
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
    /** [acre] inside the boundary. */
    acres: number | null
    /** [acre] that the field of this name is planted with. */
    plantedAcres: number | null
    fate: Fate
    what: string
    remedy: string
    /** Path data of SVG in a box of 100 by 100: what was read. */
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

/** Whether a file is of boundaries and not of tables, by its name. */
export const isBoundaryFile = (name: string) => /\.(geojson|json|kml|zip)$/i.test(name)
