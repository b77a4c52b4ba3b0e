/** Sheets of a file → tables recognized, and each read: where it is, of which noun, which column is which, what its cells say. Pure. */
import type { SheetName } from '../sheet/sheet.ts'
import { decimalsSense } from './cell-sense.ts'
import type { Decimals } from './figure.ts'
import { findTables, Heads, type FoundTable } from './find-tables.ts'
import { isBlankRow, turned, type Grid } from './grid.ts'
import { headBooks, type HeadBook } from './head-book.ts'
import type { InterpretGiven, TableReading } from './context.ts'
import { interpret } from './interpret.ts'
import { matchTable, type TableMatch } from './match-table.ts'
import type { Noun } from './nouns.ts'
import { headingKey, type Answers } from './question.ts'

/** One sheet of a file, as it was read. */
export interface Sheet {
  file: string
  /** Of a workbook. */
  page: string | null
  grid: Grid
  /** Semicolons part its columns. */
  isForeign: boolean
}

/** What the person chose for one table. */
export interface TableChoice {
  /** none: it is not brought in. */
  noun?: Noun | 'none' | undefined
  /** [row] of the sheet, as a spreadsheet counts it. */
  headerRow?: number | undefined
  /** Place → id; null: left out. */
  match?: Readonly<Record<string, string | null>> | undefined
  /** Answers that hold for this table only. */
  answers?: Answers | undefined
  /** [row] → place → text, corrected in the preview. */
  edits?: Readonly<Record<string, Readonly<Record<string, string>>>> | undefined
}

export interface Recognized {
  /** Tells it from the other tables of the same files. */
  key: string
  sheet: Sheet
  found: FoundTable
  match: TableMatch
  book: HeadBook | null
  choice: TableChoice
}

export interface RecognizeGiven {
  season: number
  threats: readonly string[]
  dealers: readonly string[]
  /** The page that the file was dropped on. */
  onto?: SheetName | undefined
  choices: Readonly<Record<string, TableChoice>>
  /** Answers of before, by the keys of words; headings under `heading/NOUN/HEADING`. */
  answers: Answers
}

/** Rows up to which a sheet may be one that lies on its side. */
const mostTurned = 80

export function recognize(sheets: readonly Sheet[], given: RecognizeGiven): Recognized[] {
  const books = headBooks(given.threats)
  const heads = new Heads(books, given.season)
  return sheets
    .flatMap((sheet) => {
      if (sheet.grid.rows.every(isBlankRow)) return []
      const tables = tablesIn(sheet, heads, given)
      return tables.map((found, at) => recognizeTable(sheet, found, at, books, given))
    })
    .filter(
      ({ book, found }, _, all) =>
        book !== null || all.length === 1 || (found.rows.length > 0 && found.headings.length > 1),
    )
}

const keyOf = (sheet: Sheet, at: number) => [sheet.file, sheet.page ?? '', at].join('/')

function tablesIn(sheet: Sheet, heads: Heads, given: RecognizeGiven): FoundTable[] {
  const { choices } = given
  const pointed = choices[keyOf(sheet, 0)]?.headerRow
  if (pointed !== undefined) {
    const at = pointed - sheet.grid.firstRow
    if (at >= 0 && at < sheet.grid.rows.length) return findTables(sheet.grid, heads, { first: at, last: at })
  }
  const found = findTables(sheet.grid, heads)
  if (found.length > 0 && found.some(({ rows }) => rows.length > 0)) return found
  if (sheet.grid.rows.length <= mostTurned) {
    const side = findTables(turned(sheet.grid), heads)
    if (side.length > 0 && side.some(({ rows, headings }) => rows.length > 0 && headings.length > 2)) {
      const upright = found.length > 0 ? found : asHeaded(sheet.grid, heads)
      // On its side only where that is much the better table.
      return scoreOf(side) > 1.4 * scoreOf(upright) ? side : upright
    }
  }
  return found.length > 0 ? found : asHeaded(sheet.grid, heads)

  /** How well the best noun fits the first table. */
  function scoreOf([first]: readonly FoundTable[]): number {
    return first === undefined ? 0 : (matchOf(sheet, first, {}, heads.books, given).nouns[0]?.score ?? 0)
  }
}

/** A grid with nothing in it that is known: its first row of several cells as headings, which can be pointed at elsewhere. */
function asHeaded(grid: Grid, heads: Heads): FoundTable[] {
  const first = Math.max(
    0,
    grid.rows.findIndex((row) => row.filter((cell) => cell !== '').length > 1),
  )
  return findTables(grid, heads, { first, last: first })
}

function recognizeTable(
  sheet: Sheet,
  found: FoundTable,
  at: number,
  books: readonly HeadBook[],
  given: RecognizeGiven,
): Recognized {
  const key = keyOf(sheet, at)
  const choice = given.choices[key] ?? {}
  const edited = withEdits(found, choice.edits)
  const match = matchOf(sheet, edited, choice, books, given)
  const noun = choice.noun === 'none' ? null : match.noun
  return { key, sheet, found: edited, match, book: books.find((book) => book.noun === noun) ?? null, choice }
}

function matchOf(
  sheet: Sheet,
  found: FoundTable,
  choice: TableChoice,
  books: readonly HeadBook[],
  given: RecognizeGiven,
): TableMatch {
  const titles = found.aside.filter(({ why }) => why === 'title').map(({ text }) => text)
  return matchTable(books, found, {
    season: given.season,
    threats: given.threats,
    names: [sheet.file.replace(/\.[a-z]+$/i, ''), sheet.page ?? '', ...titles].join(' '),
    sheet: given.onto,
    noun: choice.noun === 'none' ? undefined : choice.noun,
    match: choice.match,
    before: (noun, heading) => {
      const known = given.answers[headingKey(noun, heading)]
      return known === undefined ? undefined : known === '' ? null : known
    },
    dealers: given.dealers,
    decimals: decimalsOf(found, sheet.isForeign),
  })
}

/** For matching: settled again, by the figures alone, once the columns are known. */
function decimalsOf({ rows }: FoundTable, isForeign: boolean): Decimals {
  const figures = rows.flatMap(({ cells }) =>
    cells.filter((cell) => typeof cell === 'string' && /^[\d.,]+$/.test(cell.trim())),
  )
  return decimalsSense(figures, isForeign).decimals ?? 'comma'
}

function withEdits(found: FoundTable, edits: TableChoice['edits']): FoundTable {
  if (edits === undefined || Object.keys(edits).length === 0) return found
  return {
    ...found,
    rows: found.rows.map((row) => {
      const own = Object.hasOwn(edits, row.row) ? edits[row.row] : undefined
      if (own === undefined) return row
      return { ...row, cells: row.cells.map((cell, at) => (Object.hasOwn(own, at) ? (own[at] ?? '') : cell)) }
    }),
  }
}

/** What a recognized table says. @returns null where it is of no noun */
export function readTable(
  table: Recognized,
  given: Omit<InterpretGiven, 'isForeign' | 'named' | 'page' | 'answers'> & { answers: Answers },
): TableReading | null {
  if (!table.book) return null
  return interpret(table.book, table.found, table.match, {
    ...given,
    answers: { ...given.answers, ...table.choice.answers },
    isForeign: table.sheet.isForeign,
    named: table.sheet.file.replace(/\.[a-z]+$/i, ''),
    page: table.sheet.page,
  })
}
