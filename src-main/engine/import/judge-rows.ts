/**
 * What becomes of each row of a table: added, changed, unchanged, refused with the reason at the cell, or blank. A bad cell that a
 * row can be without is left out of it. Looks only; what is to be written comes along, so that taking it is the very same
 * judgement. Rows in = sum of the fates.
 */
import { fates, type CellProblem, type Fate, type RowFate } from '../../../src-shared/sheet/bring-in.ts'
import { columnsOf, pathOf, valueAt } from '../../../src-shared/sheet/columns.ts'
import { matcherOf } from '../../../src-shared/sheet/same-row.ts'
import type { CellValue, SheetName } from '../../../src-shared/sheet/sheet.ts'
import type { ReadRow } from '../../../src-shared/recognize/context.ts'
import { isBlankRow, textOf } from '../../../src-shared/recognize/grid.ts'
import { nearest } from '../../../src-shared/recognize/near.ts'
import { checkValue } from '../sheets/check-value.ts'
import { newRow } from '../sheets/new-row.ts'
import type { Noun } from '../sheets/store.ts'
import { stores } from '../sheets/stores.ts'
import type { Writer } from '../sheets/writer.ts'

export interface Judged {
  rows: RowFate[]
  counts: Record<Fate, number>
  leftCells: number
  /** What taking it writes. */
  added: Noun[]
  changed: { id: number; property: string; entry: string | null; value: unknown }[]
}

export interface JudgeGiven {
  sheet: SheetName
  standing: readonly ({ id: number } & object)[]
  threats: readonly string[]
  /** Rows of a table that says more of things that are there, and makes none. */
  onlyThere: boolean
  /** Cells of rows that are one row of the farm, as the years of a field’s history: which rows of the file went into it. */
  width: number
}

type Write = Judged['changed'][number]

export function judgeRows(
  writer: Writer,
  rows: readonly ReadRow[],
  { sheet, standing, threats, onlyThere, width }: JudgeGiven,
): Judged {
  const store = stores[sheet]
  const columns = columnsOf(sheet, { threats })
  const labels = new Map(columns.map((column) => [pathOf(column), column.label]))
  const neededPaths = new Set(columns.filter(({ isNeeded }) => isNeeded).map(pathOf))
  const matcher = matcherOf(sheet, standing)
  const seen = new Map<string, number>()
  let names: string[] | undefined
  const checkers = new Map<string, Map<unknown, ReturnType<typeof checkValue>>>()
  const check = (path: string, value: unknown) => {
    if (typeof value === 'object') return checkValue(writer, sheet, store, path, value)
    let known = checkers.get(path)
    if (!known) checkers.set(path, (known = new Map()))
    let answer = known.get(value)
    if (!answer) {
      answer = checkValue(writer, sheet, store, path, value)
      if (known.size < mostRemembered) known.set(value, answer)
    }
    return answer
  }
  const out: Judged = { rows: [], counts: none(), leftCells: 0, added: [], changed: [] }
  for (const row of rows) out.rows.push(judged(row))
  for (const { fate, left } of out.rows) {
    out.counts[fate] += 1
    if (fate !== 'refused') out.leftCells += left.length
  }
  return out

  function judged(row: ReadRow): RowFate {
    const fate: RowFate = {
      row: row.row,
      fate: 'blank',
      cells: Array.from({ length: width }, (_, at) => textOf(row.cells[at])),
      problems: [],
      left: [],
      says: row.says.map(({ at, what }) => ({ column: at, what })),
      changes: [],
    }
    if (isBlankRow(row.cells)) return fate
    const unread = row.problems.map(({ at, what }): CellProblem => ({
      column: at,
      what: sentence(what),
      remedy: 'Correct the cell.',
    }))
    const added: Noun[] = []
    const changed: Write[] = []
    let isSame = true
    for (const record of row.records) {
      const own = judgeRecord(row, record, unread, fate)
      if (own === null) continue
      if (own.noun) added.push(own.noun)
      changed.push(...own.writes)
      isSame &&= !own.noun && own.writes.length === 0
    }
    // A cell that was not read is told once, whether the row comes in or not.
    for (const problem of unread)
      if (!fate.problems.some(({ column }) => column === problem.column)) fate.left.push(problem)
    if (fate.problems.length > 0) {
      fate.problems.push(...fate.left.splice(0))
      return { ...fate, fate: 'refused', changes: [] }
    }
    out.added.push(...added)
    out.changed.push(...changed)
    return { ...fate, fate: added.length > 0 ? 'added' : isSame ? 'unchanged' : 'changed' }
  }

  function namesThere(path: string): string[] {
    names ??= standing.map((each) => String(valueAt(each, path) ?? ''))
    return names
  }

  function placeOf(row: ReadRow, path: string): number {
    return row.places[path] ?? -1
  }

  /** @returns what is to be written of it; null where the row is refused, with the reasons in `fate` */
  function judgeRecord(
    row: ReadRow,
    record: Record<string, CellValue>,
    unread: readonly CellProblem[],
    fate: RowFate,
  ): { noun: Noun | null; writes: Write[] } | null {
    const key = matcher.keyOf(record)
    const [path = ''] = matcher.pathsOf(record)
    const first = seen.get(key)
    const isNamed = matcher.pathsOf(record).some((each) => record[each] !== undefined && record[each] !== null)
    if (isNamed && first !== undefined && first !== row.row) {
      const what = `The same ${path === 'ticket' ? 'ticket' : path === 'name' ? 'name' : 'row'} stands in row ${first} already.`
      fate.problems.push({ column: placeOf(row, path), what, remedy: 'Keep one of the two.' })
      return null
    }
    if (isNamed) seen.set(key, row.row)
    const there = matcher.find(record)
    if (there) return { noun: null, writes: changes(row, there, record, fate) }
    if (onlyThere && typeof record[path] !== 'string') {
      const what = 'Which field this is waits for an answer, or is not said.'
      fate.problems.push({ column: placeOf(row, path), what, remedy: 'Answer what is asked, or fill it in.' })
      return null
    }
    if (onlyThere && typeof record[path] === 'string') {
      const near = nearest(String(record[path]), namesThere(path))
      const remedy = near ? `Did you mean “${near.name}”?` : 'Import the fields first, or correct the name.'
      fate.problems.push({
        column: placeOf(row, path),
        what: `There is no field named “${String(record[path])}”.`,
        remedy,
      })
      return null
    }
    return { noun: made(row, record, unread, fate), writes: [] }
  }

  function made(
    row: ReadRow,
    record: Record<string, CellValue>,
    unread: readonly CellProblem[],
    fate: RowFate,
  ): Noun | null {
    const { values, problems } = newRow(writer, sheet, store, record, check)
    for (const { path, problem } of problems) {
      const at = placeOf(row, path)
      const isMissing = problem.code === 'missing'
      // A needed cell that was not read is not missing as well: its own reason stands.
      const own = isMissing ? unread.find(({ column }) => column >= 0 && column === at) : undefined
      if (own) {
        if (!fate.problems.includes(own)) fate.problems.push(own)
        continue
      }
      const label = labels.get(path) ?? path
      const what = isMissing
        ? at < 0
          ? `No column gives “${label}”. A new row needs it.`
          : `“${label}” is empty. A new row needs it.`
        : problem.what
      const told = { column: at, what, remedy: isMissing ? 'Fill it in.' : problem.remedy }
      if (values === null || neededPaths.has(path)) fate.problems.push(told)
      else fate.left.push(told)
    }
    if (fate.problems.length > 0) return null
    if (values === null) {
      fate.problems.push(
        unread[0] ?? { column: -1, what: 'The row lacks what a new one needs.', remedy: 'Fill it in.' },
      )
      return null
    }
    return values
  }

  function changes(
    row: ReadRow,
    there: { id: number } & object,
    record: Record<string, CellValue>,
    fate: RowFate,
  ): Write[] {
    const writes: Write[] = []
    for (const [path, given] of Object.entries(record)) {
      const own = valueAt(there, path)
      const value = path === 'history' ? withOlder(given, own) : given
      // What tells rows apart and what names other things is the same whatever its capitals.
      const isName = matcher.pathsOf(record).includes(path) || store.refers?.[path] !== undefined
      if (isEqual(own, value) || (isName && isEqual(lower(own), lower(value)))) continue
      const at = placeOf(row, path)
      const checked = check(path, value)
      if (!checked.ok) fate.left.push({ column: at, what: checked.problem.what, remedy: checked.problem.remedy })
      else {
        writes.push({ id: there.id, ...checked.value })
        fate.changes.push(at)
      }
    }
    const askew =
      writes.length > 0
        ? there.id < 0
          ? store.askew?.(writer, null, { ...there, ...changedOf(writes) })
          : store.askew?.(writer, there.id, changedOf(writes))
        : null
    if (askew) fate.problems.push({ column: placeOf(row, askew.path), what: `${askew.what}.`, remedy: askew.remedy })
    return writes
  }
}

const changedOf = (writes: readonly Write[]) =>
  Object.fromEntries(writes.map(({ property, value }) => [property, value]))

/** Values whose answer is kept, of each column. */
const mostRemembered = 2000

/** Years of a history that the file says nothing of stay. */
function withOlder(given: CellValue, own: CellValue): CellValue {
  const years = new Set((given as { season: number }[]).map(({ season }) => season))
  const older = ((own ?? []) as { season: number }[]).filter(({ season }) => !years.has(season))
  return [...(given as unknown[]), ...older]
}

const none = () => Object.fromEntries(fates.map((fate) => [fate, 0])) as Record<Fate, number>

const lower = (value: CellValue) => (typeof value === 'string' ? value.toLowerCase() : value)

/** The order of a list of names or years does not matter. */
function isEqual(one: CellValue, other: CellValue): boolean {
  if (one === other) return true
  if (typeof one !== 'object' || typeof other !== 'object' || one === null || other === null) return false
  const text = (value: CellValue) =>
    JSON.stringify(Array.isArray(value) ? value.map((part) => JSON.stringify(sortedKeys(part))).toSorted() : value)
  return text(one) === text(other)
}

function sortedKeys(part: unknown): unknown {
  return typeof part === 'object' && part !== null
    ? Object.fromEntries(Object.entries(part).toSorted(([one], [other]) => (one < other ? -1 : 1)))
    : part
}

const sentence = (words: string) => `${words.charAt(0).toUpperCase()}${words.slice(1)}.`
