/**
 * Tables brought into the open farm: recognized, judged row by row, taken as one change; and tables written out.
 * `reading-files.ts` has read the files before, in a thread of its own.
 */
import type { Input, Output } from '../../src-shared/api.ts'
import { wordsOf, type Noun as NounName } from '../../src-shared/recognize/nouns.ts'
import { headingKey } from '../../src-shared/recognize/question.ts'
import { readTable, recognize, type Recognized, type Sheet } from '../../src-shared/recognize/recognize.ts'
import type { TableReading } from '../../src-shared/recognize/context.ts'
import { textOf } from '../../src-shared/recognize/grid.ts'
import { fates, type Fate, type ImportSeen, type TableLook } from '../../src-shared/sheet/bring-in.ts'
import type { SheetName } from '../../src-shared/sheet/sheet.ts'
import { tableFile } from './export/written-file.ts'
import type { Engine } from './engine.ts'
import type { OpenFarm } from './farm-file.ts'
import { listFields } from './fields.ts'
import { keepAnswers, listAnswers } from './import-answers.ts'
import { judgeRows, type Judged } from './import/judge-rows.ts'
import { notePendingRows } from './import/pending-rows.ts'
import type { SheetsRead } from './import/read-sheets.ts'
import { listCosts } from './costs.ts'
import { listLoads } from './loads.ts'
import { listQuotes } from './quotes.ts'
import { listRules } from './rules.ts'
import { listSeen } from './seen.ts'
import { listSheet } from './sheets/list-sheet.ts'
import { shapes, stores } from './sheets/stores.ts'
import { Writer } from './sheets/writer.ts'
import { listVarieties } from './varieties.ts'
import type { FilesRead } from './reading-files.ts'

async function rowsOf({ db, connection, seasonId }: OpenFarm, sheet: SheetName): Promise<({ id: number } & object)[]> {
  if (sheet === 'field') return listFields(db, seasonId)
  if (sheet === 'variety') return listVarieties(db, seasonId)
  if (sheet === 'quote') return listQuotes(db, seasonId)
  if (sheet === 'rule') return listRules(db, seasonId)
  if (sheet === 'load') return listLoads(db, seasonId)
  if (sheet === 'seen') return listSeen(db, seasonId)
  if (sheet === 'cost') return listCosts(db, seasonId)
  return listSheet(connection, seasonId, shapes[sheet])
}

/** What names others comes after what it names. */
const order: readonly NounName[] = [
  'threat',
  'dealer',
  'variety',
  'window',
  'field',
  'week',
  'machine',
  'measure',
  'rule',
  'history',
  'soil',
  'quote',
  'carried',
  'load',
  'seen',
  'cost',
  'contract',
]

/** A list of fields without acres says more of fields that another brings. */
function rankOf({ book, match }: Recognized): number {
  if (!book) return order.length
  const isMore = book.noun === 'field' && !match.columns.some(({ id }) => id === 'acres')
  return order.indexOf(book.noun) + (isMore ? 0.5 : 0)
}

interface JudgedTable {
  table: Recognized
  reading: TableReading | null
  judged: Judged | null
  /** What its added rows are called until they are written. */
  pendingIds: number[]
  newDealers: string[]
}

/** Every table of the files against the farm, each as if those before it were in already. */
async function judgeTables(engine: Engine, farm: OpenFarm, input: Input<'import.look'>, files: FilesRead) {
  const { connection, seasonId } = farm
  const names = (rows: readonly object[]) => rows.map((each) => (each as { name: string }).name)
  const threats = names(listSheet(connection, seasonId, shapes.threat))
  const season = Number(
    (connection.prepare('SELECT year FROM season WHERE id = ?').get(seasonId) as { year: number }).year,
  )
  const known = {
    fields: names(await rowsOf(farm, 'field')),
    varieties: names(await rowsOf(farm, 'variety')),
    dealers: names(await rowsOf(farm, 'dealer')),
  }
  const answers = { ...listAnswers(engine.home), ...input.answers }
  const sheets = files.files.flatMap(({ file, isForeign, sheets: pages }: SheetsRead) =>
    pages.map((page): Sheet => ({ file, isForeign, ...page })),
  )
  const tables = recognize(sheets, {
    season,
    threats,
    dealers: known.dealers,
    onto: input.onto,
    choices: input.choices,
    answers,
  })
  const writer = new Writer(connection, seasonId)
  const judged = new Map<string, JudgedTable>()
  const standing = new Map<SheetName, ({ id: number } & object)[]>()
  for (const table of tables.toSorted((one, other) => rankOf(one) - rankOf(other))) {
    const reading = readTable(table, { season, threats, names: known, answers })
    if (!reading || !table.book) {
      judged.set(table.key, { table, reading: null, judged: null, pendingIds: [], newDealers: [] })
      continue
    }
    const { sheet, noun } = table.book
    const newDealers =
      noun === 'quote' ? dealersOf(reading).filter((name) => writer.idOf('dealer', name) === undefined) : []
    for (const name of newDealers) notePending(writer, 'dealer', name)
    known.dealers.push(...newDealers)
    let rows = standing.get(sheet)
    if (!rows) standing.set(sheet, (rows = await rowsOf(farm, sheet)))
    const own = judgeRows(writer, reading.rows, {
      sheet,
      standing: rows,
      threats,
      onlyThere: noun === 'history' || noun === 'soil',
      width: table.found.headings.length,
    })
    judged.set(table.key, { table, reading, judged: own, pendingIds: notePendingRows(rows, own), newDealers })
    const added = own.added.flatMap(({ name }) => (typeof name === 'string' ? [name] : []))
    if (sheet === 'variety' || sheet === 'dealer' || sheet === 'field') {
      for (const name of added) notePending(writer, sheet === 'field' ? 'field_season' : sheet, name)
      known[sheet === 'field' ? 'fields' : sheet === 'variety' ? 'varieties' : 'dealers'].push(...added)
    }
  }
  return tables.map(({ key }) => judged.get(key) as JudgedTable)
}

/** A name that comes in with a table before: what refers to it is judged as if it were there. */
function notePending(writer: Writer, table: 'dealer' | 'variety' | 'field_season', name: string) {
  writer.noteNew(table, -1, name)
}

function dealersOf(reading: TableReading): string[] {
  const names = new Map<string, string>()
  for (const { records } of reading.rows) {
    for (const { dealer } of records)
      if (typeof dealer === 'string' && !names.has(dealer.toLowerCase())) names.set(dealer.toLowerCase(), dealer)
  }
  return [...names.values()]
}

/** @param isOneKnown another table of the import is recognized: one that could be nothing is then left out without a question */
function lookOf({ table, reading, judged, newDealers }: JudgedTable, isOneKnown: boolean): TableLook {
  const { book, match, found, choice } = table
  const samples = (at: number) =>
    found.rows
      .slice(0, 200)
      .map(({ cells }) => textOf(cells[at]))
      .filter((text) => text !== '')
      .slice(0, 3)
  return {
    key: table.key,
    file: table.sheet.file,
    page: table.sheet.page,
    noun: book?.noun ?? null,
    sheet: book?.sheet ?? null,
    isLeftOut: choice.noun === 'none',
    nouns: match.nouns.map(({ noun }) => ({ noun, many: wordsOf(noun).many })),
    headerRows: found.headerRows,
    columns: match.columns.map(({ heading, at, id, isAsked }) => ({
      heading,
      id: book ? id : null,
      samples: samples(at),
      says: reading?.columnSays[at] ?? '',
      isAsked,
    })),
    choices: (book?.columns ?? []).map(({ id, label }) => ({ id, label })),
    questions: [
      ...(match.isAsked && choice.noun === undefined && found.rows.length > 0 && (match.nouns.length > 0 || !isOneKnown)
        ? [nounQuestion(table)]
        : []),
      ...(reading?.questions ?? []),
    ],
    words: reading?.words ?? [],
    aside: found.aside,
    rows: judged?.rows ?? [],
    counts: judged?.counts ?? none(),
    leftCells: judged?.leftCells ?? 0,
    newDealers,
  }
}

const isOneKnown = (tables: readonly JudgedTable[]) => tables.some(({ table }) => table.book !== null)

/** With what each row was read as: for the command line and for tests. */
function withValues(table: JudgedTable, isOneKnown: boolean): TableLook {
  const look = lookOf(table, isOneKnown)
  return { ...look, rows: look.rows.map((row, at) => ({ ...row, values: table.reading?.rows[at]?.records ?? [] })) }
}

function nounQuestion({ match, found }: Recognized): TableLook['questions'][number] {
  const likely = match.nouns.slice(0, 4).map(({ noun }) => ({ value: noun as string, says: wordsOf(noun).many }))
  const answers = [...likely, { value: 'none', says: 'nothing to import' }]
  return {
    key: 'noun',
    scope: 'table',
    header: '',
    says: 'What is this table?',
    cells: found.rows.length,
    answers,
    suggestion: match.noun ?? 'none',
  }
}

/** Nothing is written. */
export async function lookAtFiles(
  engine: Engine,
  farm: OpenFarm,
  input: Input<'import.look'>,
  files: FilesRead,
): Promise<ImportSeen> {
  const tables = await judgeTables(engine, farm, input, files)
  return {
    tables: tables.map((each) => (input.withValues ? withValues : lookOf)(each, isOneKnown(tables))),
    problems: files.problems,
  }
}

/** All or nothing, unless only what is good is asked for. In the caller’s transaction. */
export async function takeFiles(
  engine: Engine,
  farm: OpenFarm,
  input: Input<'import.apply'>,
  files: FilesRead,
): Promise<Output<'import.apply'>> {
  const tables = await judgeTables(engine, farm, input, files)
  const counts = none()
  for (const { judged } of tables) for (const fate of fates) counts[fate] += judged?.counts[fate] ?? 0
  const isAsked = tables.some((each) => lookOf(each, isOneKnown(tables)).questions.length > 0)
  if (!input.onlyGood && (counts.refused > 0 || isAsked || files.problems.length > 0)) return { counts, isDone: false }
  // Names that were only pending are forgotten: they are written now, and get their ids.
  const fresh = new Writer(farm.connection, farm.seasonId)
  const rank = ({ table }: JudgedTable) => rankOf(table)
  const writtenIds = new Map<number, number>()
  for (const { table, judged, pendingIds, newDealers } of tables.toSorted((one, other) => rank(one) - rank(other))) {
    if (!judged || !table.book) continue
    for (const name of newDealers) stores.dealer.insert(fresh, { name, orderFeeCents: 0, leastPounds: 0, breaks: [] })
    const store = stores[table.book.sheet]
    for (const { id, property, entry, value } of judged.changed)
      store.update(fresh, writtenIds.get(id) ?? id, property, entry, value)
    const next = nextPosition(fresh, table.book.sheet)
    judged.added.forEach((values, at) => {
      const id = store.insert(fresh, next === null ? values : { ...values, position: next + at })
      writtenIds.set(pendingIds[at] as number, id)
    })
  }
  keepAnswers(engine.home, { ...input.answers, ...chosenHeadings(tables) })
  return { counts, isDone: true }
}

const ordered: Partial<Record<SheetName, string>> = {
  field: 'field_season',
  variety: 'variety',
  dealer: 'dealer',
  quote: 'quote',
}

/** New rows stand in the order of their file, after those that came before. */
function nextPosition(writer: Writer, sheet: SheetName): number | null {
  const table = ordered[sheet]
  if (table === undefined) return null
  const last =
    writer.one<number | null>(`SELECT max(position) FROM "${table}" WHERE seasonId = ?`, writer.seasonId) ?? 0
  // Beyond what the column takes there is no order to keep.
  return last < 500_000 ? last + 1 : null
}

/** Columns that the person chose, to be known the next time. */
function chosenHeadings(tables: readonly JudgedTable[]): Record<string, string> {
  const out: Record<string, string> = {}
  for (const { table } of tables) {
    if (!table.book) continue
    for (const [at, id] of Object.entries(table.choice.match ?? {})) {
      const heading = table.match.columns[Number(at)]?.heading ?? ''
      if (heading !== '') out[headingKey(table.book.noun, heading)] = id ?? ''
    }
  }
  return out
}

function none(): Record<Fate, number> {
  return Object.fromEntries(fates.map((fate) => [fate, 0])) as Record<Fate, number>
}

export async function writeTable({ title, as, headers, rows }: Input<'export.table'>): Promise<Output<'export.table'>> {
  return tableFile(title, as, headers, rows)
}
