/**
 * What becomes of each row of a file: added, changed, unchanged, refused with the reason at the cell, or blank. Looks
 * only; what is to be written comes along, so that taking it is the very same judgement. Rows in = sum of the fates.
 */
import type { Reading } from '../../../src-shared/read-text.ts'
import type { Kind } from '../../../src-shared/sheet/kind.ts'
import { pathOf, valueAt, type SheetColumn } from '../../../src-shared/sheet/columns.ts'
import { matcherOf } from '../../../src-shared/sheet/same-row.ts'
import { fates, type Fate, type RowFate, type Style } from '../../../src-shared/sheet/bring-in.ts'
import type { CellValue, SheetName } from '../../../src-shared/sheet/sheet.ts'
import { checkValue } from '../sheets/check-value.ts'
import { newRow } from '../sheets/new-row.ts'
import type { Noun } from '../sheets/store.ts'
import { stores } from '../sheets/stores.ts'
import type { Writer } from '../sheets/writer.ts'
import { plainText, styleOf } from './file-style.ts'
import type { Cell, Cells } from './read-cells.ts'

export interface Matched {
  /** Place in the file's row. */
  at: number
  column: SheetColumn
}

export interface Fated {
  rows: RowFate[]
  counts: Record<Fate, number>
  /** What taking it writes. */
  added: Noun[]
  changed: { id: number; property: string; entry: string | null; value: unknown }[]
}

type Standing = { id: number } & object

/** @param columns all that the sheet has, those that the file lacks as well */
export function fateRows(
  writer: Writer,
  sheet: SheetName,
  columns: readonly SheetColumn[],
  standing: readonly Standing[],
  cells: Cells,
  matched: readonly Matched[],
  style: Style,
): Fated {
  const store = stores[sheet]
  const matcher = matcherOf(sheet, standing)
  const seen = new Map<string, number>()
  const readers = matched.map(({ at, column: { kind } }) => {
    const own = styleOf(
      kind,
      cells.rows.map(({ cells: line }) => line[at] ?? ''),
      style,
    )
    const read = remembered((cell: Cell) => reading(cell, kind, own))
    // A row may be shorter than the header.
    return (line: readonly Cell[]) => read(line[at] ?? '')
  })
  const checkers = new Map<string, (value: CellValue) => ReturnType<typeof checkValue>>()
  const check = (path: string, value: unknown) => {
    let checker = checkers.get(path)
    if (!checker) checkers.set(path, (checker = remembered((each) => checkValue(writer, sheet, store, path, each))))
    return checker(value as CellValue)
  }
  const out: Fated = { rows: [], counts: countsOf([]), added: [], changed: [] }
  for (const { row, cells: line } of cells.rows) {
    const read = readers.map((reader) => reader(line))
    const fate: RowFate = {
      row,
      fate: 'blank',
      cells: cells.headers.map((_, at) => String(line[at] ?? '')),
      problems: [],
      changes: [],
    }
    out.rows.push(fate)
    if (read.every((cell) => cell === null)) continue
    const values: Record<string, CellValue> = {}
    matched.forEach(({ at, column }, index) => {
      const cell = read[index]
      if (!cell) return
      if (cell.ok) values[pathOf(column)] = cell.value
      else fate.problems.push({ column: at, what: sentence(cell.what), remedy: 'Correct the cell in the file.' })
    })
    const key = matcher.keyOf(values)
    const first = seen.get(key)
    if (first !== undefined && fate.problems.length === 0) {
      const [path = '', ...more] = matcher.pathsOf(values)
      const what = `The same ${path === 'ticket' ? 'ticket' : more.length === 0 ? 'name' : 'row'} stands in row ${first} already.`
      fate.problems.push({ column: placeOf(path), what, remedy: 'Keep one of the two.' })
    } else seen.set(key, row)
    const there = matcher.find(values)
    if (there) changeRow(there, values, fate)
    else addRow(values, fate)
    if (fate.problems.length > 0) {
      fate.fate = 'refused'
      fate.changes = []
    }
  }
  out.counts = countsOf(out.rows)
  return out

  function placeOf(path: string): number {
    return matched.find(({ column }) => pathOf(column) === path)?.at ?? -1
  }

  function addRow(values: Record<string, CellValue>, fate: RowFate) {
    const row = newRow(writer, sheet, store, values, check)
    for (const { path, problem } of row.problems) {
      // A cell that was not read is not missing as well.
      if (problem.code === 'missing' && fate.problems.some(({ column }) => column === placeOf(path) && column >= 0))
        continue
      const at = placeOf(path)
      const what =
        at < 0 && problem.code === 'missing'
          ? `No column of the file gives “${labelOf(path)}”, which a new row needs.`
          : problem.what
      fate.problems.push({ column: at, what, remedy: problem.remedy })
    }
    fate.fate = 'added'
    if (fate.problems.length === 0 && row.values) out.added.push(row.values)
  }

  function labelOf(path: string): string {
    return columns.find((column) => pathOf(column) === path)?.label ?? path
  }

  /** The row as it would be with all of it written. */
  function askewNow(id: number, writes: Fated['changed']) {
    return store.askew?.(writer, id, Object.fromEntries(writes.map(({ property, value }) => [property, value])))
  }

  function changeRow(there: Standing, values: Record<string, CellValue>, fate: RowFate) {
    const writes: Fated['changed'] = []
    for (const [path, value] of Object.entries(values)) {
      const own = valueAt(there, path)
      // What tells rows apart and what names other things is the same whatever its capitals.
      const isName = matcher.pathsOf(values).includes(path) || store.refers?.[path] !== undefined
      if (isSame(own, value) || (isName && isSame(lower(own), lower(value)))) continue
      const at = placeOf(path)
      const checked = check(path, value)
      if (!checked.ok) fate.problems.push({ column: at, what: checked.problem.what, remedy: checked.problem.remedy })
      else {
        writes.push({ id: there.id, ...checked.value })
        fate.changes.push(at)
      }
    }
    const askew = writes.length > 0 ? askewNow(there.id, writes) : null
    if (askew) fate.problems.push({ column: placeOf(askew.path), what: `${askew.what}.`, remedy: askew.remedy })
    fate.fate = writes.length > 0 ? 'changed' : 'unchanged'
    if (fate.problems.length === 0) out.changed.push(...writes)
  }
}

function lower(value: CellValue): CellValue {
  return typeof value === 'string' ? value.toLowerCase() : value
}

/** What a cell says, or null where it is empty. */
function reading(cell: Cell, kind: Kind, style: Style): Reading<CellValue> | null {
  const text = plainText(cell, kind, style)
  return text === '' ? null : kind.read(text)
}

/** Answers kept for each value: most cells of a long file say what a cell above says. */
const mostRemembered = 2000

/** The same answer for the same plain value, worked out once; for a list or a record each time. */
function remembered<Value, Answer>(work: (value: Value) => Answer): (value: Value) => Answer {
  const known = new Map<Value, Answer>()
  return (value) => {
    if (typeof value === 'object') return work(value)
    const before = known.get(value)
    if (before !== undefined) return before
    const answer = work(value)
    if (known.size < mostRemembered) known.set(value, answer)
    return answer
  }
}

function countsOf(rows: readonly RowFate[]): Record<Fate, number> {
  const counts = Object.fromEntries(fates.map((fate) => [fate, 0])) as Record<Fate, number>
  for (const { fate } of rows) counts[fate] += 1
  return counts
}

/** The order of a list of names or years does not matter. */
function isSame(one: CellValue, other: CellValue): boolean {
  const text = (value: CellValue) =>
    JSON.stringify(Array.isArray(value) ? value.map((part) => JSON.stringify(part)).toSorted() : value)
  return one === other || text(one) === text(other)
}

function sentence(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}.`
}
