/**
 * Files brought into the open farm: looked at, judged row by row, taken as one change; and tables written out. `reading-files.ts`
 * has read them before, in a thread of its own.
 */
import type { Input, Output } from '../../src-shared/api.ts'
import { columnsOf, type SheetColumn } from '../../src-shared/sheet/columns.ts'
import { fates, type Fate } from '../../src-shared/sheet/bring-in.ts'
import { matchColumns, plainHeading } from '../../src-shared/sheet/match-columns.ts'
import type { SheetName } from '../../src-shared/sheet/sheet.ts'
import { tableFile } from './export/written-file.ts'
import type { OpenFarm } from './farm-file.ts'
import { listFields } from './fields.ts'
import { boundaryAcres } from './import/boundary-area.ts'
import { fateRows, type Fated, type Matched } from './import/fate-rows.ts'
import { questionsOf } from './import/file-style.ts'
import type { BoundaryFile } from './import/read-boundary-file.ts'
import type { Cells } from './import/read-cells.ts'
import { listCosts } from './costs.ts'
import { listLoads } from './loads.ts'
import { listQuotes } from './quotes.ts'
import { listRules } from './rules.ts'
import { listSeen } from './seen.ts'
import { listSettings, setSetting } from './settings.ts'
import { listSheet } from './sheets/list-sheet.ts'
import { newRow } from './sheets/new-row.ts'
import type { Noun } from './sheets/store.ts'
import { shapes, stores } from './sheets/stores.ts'
import { Writer } from './sheets/writer.ts'
import { listVarieties } from './varieties.ts'

type Matches = Record<string, string | null>

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

function sheetColumns({ connection, seasonId }: OpenFarm, sheet: SheetName): SheetColumn[] {
  const threats = listSheet<{ name: string }>(connection, seasonId, shapes.threat).map(({ name }) => name)
  return columnsOf(sheet, { threats })
}

export async function lookAtFile(
  farm: OpenFarm,
  { sheet }: Input<'import.look'>,
  cells: Cells,
): Promise<Output<'import.look'>> {
  const before = (listSettings(farm.connection)[`match/${sheet}`] ?? {}) as Matches
  const match = matchColumns(cells.headers, sheetColumns(farm, sheet), before)
  const samples = (at: number) =>
    cells.rows
      .map(({ cells: line }) => String(line[at] ?? '').trim())
      .filter((text) => text !== '')
      .slice(0, 3)
  return {
    headers: cells.headers.map((header, at) => ({ header, samples: samples(at), match: match[at] ?? null })),
    rows: cells.rows.length,
    pages: cells.pages,
    page: cells.page,
  }
}

function matchedOf(columns: readonly SheetColumn[], cells: Cells, match: readonly (string | null)[]): Matched[] {
  return cells.headers.flatMap((_, at) => {
    const column = columns.find(({ id }) => id === match[at])
    return column ? [{ at, column }] : []
  })
}

async function judge(farm: OpenFarm, { sheet, match, style }: Input<'import.preview'>, cells: Cells) {
  const columns = sheetColumns(farm, sheet)
  const matched = matchedOf(columns, cells, match)
  const questions = questionsOf(
    matched.map(({ at, column: { kind } }) => ({
      header: cells.headers[at] ?? '',
      kind,
      cells: cells.rows.map(({ cells: line }) => line[at] ?? ''),
    })),
    style,
  )
  const writer = new Writer(farm.connection, farm.seasonId)
  const fated =
    questions.length > 0 ? null : fateRows(writer, sheet, columns, await rowsOf(farm, sheet), cells, matched, style)
  return { questions, writer, fated }
}

export async function previewFile(
  farm: OpenFarm,
  input: Input<'import.preview'>,
  cells: Cells,
): Promise<Output<'import.preview'>> {
  const { questions, fated } = await judge(farm, input, cells)
  return { questions, rows: fated?.rows ?? [], counts: fated?.counts ?? none() }
}

/** All or nothing, unless only the good rows are asked for. */
export async function takeFile(
  farm: OpenFarm,
  input: Input<'import.apply'>,
  cells: Cells,
): Promise<Output<'import.apply'>> {
  const { sheet, match, onlyGood } = input
  const { writer, fated, questions } = await judge(farm, input, cells)
  if (!fated || questions.length > 0) return { counts: none(), isDone: false }
  if (fated.counts.refused > 0 && !onlyGood) return { counts: fated.counts, isDone: false }
  write(writer, sheet, fated)
  const before = (listSettings(farm.connection)[`match/${sheet}`] ?? {}) as Matches
  const now = Object.fromEntries(cells.headers.map((header, at) => [plainHeading(header), match[at] ?? null]))
  setSetting(farm.connection, `match/${sheet}`, { ...before, ...now })
  return { counts: fated.counts, isDone: true }
}

function write(writer: Writer, sheet: SheetName, { added, changed }: Fated) {
  const store = stores[sheet]
  for (const { id, property, entry, value } of changed) store.update(writer, id, property, entry, value)
  for (const values of added) store.insert(writer, values)
}

function none(): Record<Fate, number> {
  return Object.fromEntries(fates.map((fate) => [fate, 0])) as Record<Fate, number>
}

/** [acre] To a tenth: what a planter monitor shows. */
function plantedAcres(inside: number | null): number | null {
  return inside === null ? null : Math.round(inside * 10) / 10
}

/** Every boundary of a file against the fields by name. */
async function judgeBoundaries(farm: OpenFarm, { property, newFields }: Input<'boundary.look'>, read: BoundaryFile) {
  const writer = new Writer(farm.connection, farm.seasonId)
  const chosen = property ?? read.properties[0] ?? null
  const fields = new Map((await listFields(farm.db, farm.seasonId)).map((field) => [field.name.toLowerCase(), field]))
  const seen = new Set<string>()
  const rows = read.features.map(({ properties, ...judgement }, index) => {
    const { boundary, picture } = judgement
    const name = (chosen === null ? undefined : properties[chosen]) ?? ''
    const field = fields.get(name.toLowerCase())
    const acres = boundary ? boundaryAcres(boundary) : null
    let made: Noun | null = null
    const judged = (fate: Fate, what = judgement.what, remedy = judgement.remedy) => ({
      row: index + 1,
      name,
      acres,
      fate,
      what,
      remedy,
      picture,
      isNew: name !== '' && boundary !== null && !field,
      field,
      boundary,
      made,
    })
    if (name === '' && !boundary && picture === null) return judged('blank', '', '')
    if (name === '') return judged('refused', 'It has no name.', 'Choose the property that holds the field’s name.')
    if (!boundary) return judged('refused')
    if (seen.has(name.toLowerCase()))
      return judged('refused', `${name} has a boundary above already.`, 'Join the two into one multi-polygon.')
    if (!field && !newFields)
      return judged('refused', `There is no field named “${name}”.`, 'Add the field first, or correct the name.')
    if (!field) {
      const row = newRow(writer, 'field', stores.field, { name, acres: plantedAcres(acres), ...newFields })
      const [problem] = row.problems
      if (!row.values || problem)
        return judged(
          'refused',
          problem?.problem.what ?? 'It makes no field.',
          problem?.problem.remedy ?? 'Add it by hand.',
        )
      made = row.values
    }
    seen.add(name.toLowerCase())
    if (!field?.boundary) return judged('added')
    return judged(JSON.stringify(field.boundary) === JSON.stringify(boundary) ? 'unchanged' : 'changed')
  })
  const counts = none()
  for (const { fate } of rows) counts[fate] += 1
  return { properties: read.properties, property: chosen, rows, counts }
}

/** What each outline of a file would do to which field. Nothing is written. */
export async function previewBoundaries(
  farm: OpenFarm,
  input: Input<'boundary.look'>,
  read: BoundaryFile,
): Promise<Output<'boundary.look'>> {
  const { rows, ...rest } = await judgeBoundaries(farm, input, read)
  return { ...rest, rows: rows.map(({ field: _field, boundary: _boundary, made: _made, ...row }) => row) }
}

/** All or nothing, unless only the good ones are asked for. In the caller's transaction. */
export async function takeBoundaries(
  farm: OpenFarm,
  { onlyGood, setAcres, ...input }: Input<'boundary.apply'>,
  read: BoundaryFile,
): Promise<Output<'boundary.apply'>> {
  const { rows, counts } = await judgeBoundaries(farm, input, read)
  if (counts.refused > 0 && !onlyGood) return { counts, isDone: false }
  const writer = new Writer(farm.connection, farm.seasonId)
  for (const { fate, field, boundary, acres, made } of rows) {
    if (made) stores.field.insert(writer, { ...made, boundary })
    if (!field || fate === 'refused' || fate === 'blank') continue
    if (fate !== 'unchanged') stores.field.update(writer, field.id, 'boundary', null, boundary)
    const planted = plantedAcres(acres)
    if (setAcres && planted !== null && planted > 0) stores.field.update(writer, field.id, 'acres', null, planted)
  }
  return { counts, isDone: true }
}

export async function writeTable({ title, as, headers, rows }: Input<'export.table'>): Promise<Output<'export.table'>> {
  return tableFile(title, as, headers, rows)
}
