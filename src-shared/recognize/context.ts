/** What is known of a table while it is read: its columns, its cells, what was asked and said. Everything that settles a doubt has it. */
import { columnsOf, pathOf } from '../sheet/columns.ts'
import type { Kind } from '../sheet/kind.ts'
import type { CellValue } from '../sheet/sheet.ts'
import { decimalsBySize, decimalsSense } from './cell-sense.ts'
import { emptyWords } from './choices.ts'
import type { Decimals } from './figure.ts'
import type { FoundTable } from './find-tables.ts'
import { isBlank, textOf, type Cell } from './grid.ts'
import type { HeadBook, HeadColumn } from './head-book.ts'
import { legendOf } from './legend.ts'
import type { ColumnGuess, TableMatch } from './match-table.ts'
import type { Answers, Question, WordRead } from './question.ts'

export interface InterpretGiven {
  season: number
  threats: readonly string[]
  /** Names that are there, or that come in with the tables before. */
  names: { fields: readonly string[]; varieties: readonly string[]; dealers: readonly string[] }
  answers: Answers
  /** Semicolons part its columns: commas may stand before decimals. */
  isForeign: boolean
  /** File and sheet in words, where a dealer may be named. */
  named: string
  page: string | null
}

export interface CellNote {
  /** Place in the table; −1 for the row. */
  at: number
  what: string
}

export interface ReadRow {
  row: number
  cells: Cell[]
  /** Usually one; two where a row holds an early and a regular price. */
  records: Record<string, CellValue>[]
  /** Cells that were not read: left out, or the row cannot be made. */
  problems: CellNote[]
  /** How cells were read, where that is not as they stand. */
  says: CellNote[]
  /** Places of the columns behind each path. */
  places: Record<string, number>
}

export interface TableReading {
  rows: ReadRow[]
  questions: Question[]
  words: WordRead[]
  /** By place: how a column as a whole is read. */
  columnSays: Record<number, string>
}

/** A column that is known. */
export type KnownColumn = ColumnGuess & { column: HeadColumn }

export interface Context {
  book: HeadBook
  found: FoundTable
  given: InterpretGiven
  columns: readonly KnownColumn[]
  /** Path of the noun, by the id of a column. */
  pathOfId: ReadonlyMap<string, string>
  kindOf: ReadonlyMap<string, Kind>
  decimals: Decimals
  /** What the table's own key says of its short words. */
  legend: ReadonlyMap<string, string>
  questions: Map<string, Question>
  words: Map<string, WordRead>
  columnSays: Record<number, string>
  /** Cells of a column that say something. */
  own(at: number): readonly Cell[]
  /** Asks once; the cells that wait for it add up. */
  ask(question: Omit<Question, 'cells'>, cells?: number): void
}

export function contextOf(book: HeadBook, found: FoundTable, match: TableMatch, given: InterpretGiven): Context {
  const sheetColumns = columnsOf(book.sheet, { threats: given.threats })
  const columns = match.columns.flatMap((guess) => {
    const column = guess.id === null ? undefined : book.columns.find(({ id }) => id === guess.id)
    return column ? [{ ...guess, column }] : []
  })
  const questions = new Map<string, Question>()
  const isSaid = (cell: Cell) => !isBlank(cell) && !emptyWords.has(textOf(cell).toLowerCase())
  const cellsOf = new Map(columns.map(({ at }) => [at, found.rows.map(({ cells }) => cells[at] ?? '').filter(isSaid)]))
  const context: Context = {
    book,
    found,
    given,
    columns,
    pathOfId: new Map(sheetColumns.map((column) => [column.id, pathOf(column)])),
    kindOf: new Map(sheetColumns.map((column) => [column.id, column.kind])),
    decimals: 'point',
    legend: legendOf(found.words),
    questions,
    words: new Map(),
    columnSays: {},
    own: (at) => cellsOf.get(at) ?? [],
    ask(question, cells = 1) {
      const known = questions.get(question.key)
      if (known) known.cells += cells
      else questions.set(question.key, { ...question, cells })
    },
  }
  context.decimals = settleDecimals(context)
  return context
}

function settleDecimals({ columns, own, given, ask }: Context): Decimals {
  const figures = columns.filter(({ column }) =>
    ['figure', 'share', 'index', 'money', 'price', 'packs', 'count'].includes(column.reads),
  )
  const sense = decimalsSense(
    figures.flatMap(({ at }) => own(at)),
    given.isForeign,
  )
  const answer = given.answers['decimals']
  if (answer === 'point' || answer === 'comma') return answer
  if (sense.decimals !== null) return sense.decimals
  const bySize = decimalsBySize(figures.map(({ at, column }) => ({ cells: own(at), usual: column.usual })))
  if (bySize !== null) return bySize
  ask({
    key: 'decimals',
    scope: 'table',
    header: '',
    says: `“${sense.example}” could be read two ways. What stands before the decimals?`,
    answers: [
      { value: 'point', says: 'a point, as 1,234.5' },
      { value: 'comma', says: 'a comma, as 1.234,5' },
    ],
    suggestion: given.isForeign ? 'comma' : 'point',
  })
  return given.isForeign ? 'comma' : 'point'
}
