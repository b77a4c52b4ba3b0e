/**
 * Does what a window asks of a sheet in one go: cells written, rows added, rows removed. What is not taken comes back
 * with its place and reason, and holds nothing else up. Inside the caller's transaction and undo step.
 */
import {
  sheetWords,
  type RefusedCell,
  type SheetChange,
  type SheetName,
  type SheetOutcome,
  type SheetRows,
} from '../../../src-shared/sheet/sheet.ts'
import { changedMeanwhile } from '../../../src-shared/meanwhile.ts'
import { valueAt } from '../../../src-shared/sheet/columns.ts'
import type { Connection } from '../db/connect.ts'
import { checkValue, problemAt } from './check-value.ts'
import { newRow } from './new-row.ts'
import { stores } from './stores.ts'
import type { Store } from './store.ts'
import { Writer } from './writer.ts'

/**
 * Takes what can be taken and says of every cell that was not why. In the caller's transaction.
 * @param before the sheet's rows as they are listed; needed where a cell says what was seen in it
 */
export function changeSheet(
  connection: Connection,
  seasonId: number,
  change: SheetChange,
  before: readonly { id: number }[] = [],
): SheetOutcome {
  const writer = new Writer(connection, seasonId)
  const { sheet } = change
  const store = stores[sheet]
  const refused: RefusedCell[] = []
  const ids = store.ids(writer)
  let removed = 0
  for (const id of change.removed) {
    if (!ids.has(id)) continue
    const problem = removeOne(writer, sheet, store, id)
    if (problem) refused.push({ key: id, path: '', problem })
    else {
      ids.delete(id)
      removed += 1
    }
  }
  let taken = 0
  const rowOf = new Map(before.map((row) => [row.id, row]))
  // What was there before any cell of this change was written.
  const late = change.cells.map((cell) =>
    ids.has(cell.id) ? stale(writer, rowOf.get(cell.id), sheet, cell) : gone(sheet),
  )
  for (const [at, { id, path, value }] of change.cells.entries()) {
    const problem = late[at] ?? writeOne(writer, sheet, store, id, path, value)
    if (problem) refused.push({ key: id, path, problem: { ...problem, where: { ...problem.where, id } } })
    else taken += 1
  }
  const added: SheetOutcome['added'] = []
  for (const { key, values } of change.added) {
    const row = newRow(writer, sheet, store, values)
    refused.push(...row.problems.map(({ path, problem }) => ({ key, path, problem })))
    if (row.values) added.push({ key, id: store.insert(writer, row.values) })
  }
  return { taken, added, removed, refused }
}

/** Of the list as it is after a change: the rows that were written, and the order of all. */
export function rowsAfter(
  list: readonly { id: number }[],
  { cells }: Pick<SheetChange, 'cells'>,
  { added }: Pick<SheetOutcome, 'added'>,
): SheetRows {
  const touched = new Set([...cells, ...added].map(({ id }) => id))
  return { rows: list.filter(({ id }) => touched.has(id)), ids: list.map(({ id }) => id) }
}

function gone(sheet: SheetName) {
  const what = `That ${sheetWords[sheet].one} is not there any more.`
  return problemAt(sheet, '', 'unknown-name', what, 'Look at the list again; it may have been removed or taken back.')
}

/** Cells whose value now is told by the list of the sheet only. */
export function needsList({ sheet, cells }: Pick<SheetChange, 'sheet' | 'cells'>): boolean {
  return cells.some(({ path, was }) => was !== undefined && stores[sheet].plain?.names.has(path) !== true)
}

/** @param row as it is listed; needed where the path is no plain column */
function stale(
  writer: Writer,
  row: object | undefined,
  sheet: SheetName,
  { id, path, was }: SheetChange['cells'][number],
) {
  if (was === undefined) return null
  const { plain } = stores[sheet]
  const isPlain = plain?.names.has(path) === true
  if (!isPlain && row === undefined) return null
  const now = isPlain ? plain.value(writer, id, path) : valueAt(row as object, path)
  return changedMeanwhile(now, was, { table: sheet, column: path })
}

/** @returns why it was not written, or null */
function writeOne(writer: Writer, sheet: SheetName, store: Store, id: number, path: string, given: unknown) {
  const checked = checkValue(writer, sheet, store, path, given)
  if (!checked.ok) return checked.problem
  const { property, entry, value } = checked.value
  if (entry === null) {
    const clash = store.clash(writer, id, { [property]: value })
    if (clash !== null) {
      return problemAt(
        sheet,
        path,
        'repeated-name',
        `${clash}.`,
        `Give this ${sheetWords[sheet].one} a name of its own.`,
      )
    }
  }
  const lacks = entry === null ? store.lacks?.(writer, id, { [property]: value }) : null
  if (lacks) return problemAt(sheet, path, 'missing', `${lacks.what}.`, 'Enter it, or switch the row off.')
  const askew = store.askew?.(writer, id, { [property]: value })
  if (askew) return problemAt(sheet, path, 'bad-value', `${askew.what}.`, askew.remedy)
  store.update(writer, id, property, entry, value)
  return null
}

/** A row that orders, deliveries or loads hang on stays: they are the farm's record. */
function removeOne(writer: Writer, sheet: SheetName, store: Store, id: number) {
  writer.connection.exec('SAVEPOINT one_row')
  try {
    store.remove(writer, id)
    writer.connection.exec('RELEASE one_row')
    return null
  } catch (error) {
    writer.connection.exec('ROLLBACK TO one_row')
    writer.connection.exec('RELEASE one_row')
    if (!String((error as { code?: unknown }).code).startsWith('SQLITE_CONSTRAINT')) throw error
    const what = `This ${sheetWords[sheet].one} stands in an order, a delivery, a planting or a load and cannot be removed.`
    return problemAt(sheet, '', 'in-use', what, 'Remove it there first, or leave it in the list.')
  }
}
