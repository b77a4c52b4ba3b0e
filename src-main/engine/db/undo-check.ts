/**
 * Does the undo record fit the farm? A file may come from a stranger, whose record could delete what no call deletes. Checked when a
 * file is opened, and at each step by what the step did; a record that does not fit is removed as a whole, since its steps build on
 * one another.
 */
import type { Connection } from './connect.ts'

/** Setting that says why there is no older history; shown with the undo state. */
const noteKey = 'undo/note'
const removedNote = 'Standwell removed the undo history: it did not fit this farm.'

/** Columns of each table whose changes are recorded. */
export type UndoColumns = ReadonlyMap<string, readonly { name: string }[]>

/** True where each record is a row of a known table in its known columns. */
export function historyFits(connection: Connection, tables: UndoColumns): boolean {
  const named = connection.prepare('SELECT DISTINCT tableName FROM undo_change').pluck().all() as string[]
  return named.every((table) => {
    const columns = tables.get(table)
    // No call changes the farm's own row.
    if (!columns || table === 'farm') return false
    const paths = columns.map(({ name }) => `'$."${name}"'`).join(', ')
    const isStrange = (side: 'before' | 'after') =>
      `(${side} IS NOT NULL AND (json_type(${side}) <> 'object'
        OR coalesce(json_extract(${side}, '$.id'), rowId) IS NOT rowId
        OR json_remove(${side}, ${paths}) <> '{}'
        OR EXISTS (SELECT 1 FROM json_each(${side}) WHERE type IN ('object', 'array'))))`
    // A row that was there or is made again needs all its columns; the tables themselves refuse what is missing.
    return (
      connection
        .prepare(
          `SELECT 1 FROM undo_change WHERE tableName = ? AND (${isStrange('before')} OR ${isStrange('after')}) LIMIT 1`,
        )
        .get(table) === undefined
    )
  })
}

/** Removes every step and keeps a word about it. */
export function removeHistory(connection: Connection): void {
  connection.transaction(() => {
    connection.exec('DELETE FROM undo_change; DELETE FROM undo_step')
    connection
      .prepare('INSERT INTO setting (key, value) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value')
      .run(noteKey, JSON.stringify(removedNote))
  })()
}

/** What is told of the history, or undefined. */
export function historyNote(connection: Connection): string | undefined {
  const value = connection.prepare('SELECT value FROM setting WHERE key = ?').pluck().get(noteKey) as string | undefined
  const note: unknown = value === undefined ? undefined : JSON.parse(value)
  // A stranger's words are not shown as ours.
  return note === removedNote ? removedNote : undefined
}

/** Rows of each table, and what every farm has: one farm, one open season. */
export function rowCounts(connection: Connection, tables: UndoColumns): Map<string, number> {
  const count = (from: string) => connection.prepare(`SELECT count(*) FROM ${from}`).pluck().get() as number
  return new Map([
    ...[...tables.keys()].map((table): [string, number] => [table, count(`main."${table}"`)]),
    ['the farm', count('main.farm')],
    ['open seasons', count(`main.season WHERE state = 'open'`)],
  ])
}

/** True where a step changed the number of rows as its records say, and in no other way: nothing went along unrecorded. */
export function countsFit(
  before: ReadonlyMap<string, number>,
  after: ReadonlyMap<string, number>,
  steps: readonly { tableName: string; made: number }[],
): boolean {
  const expected = new Map(before)
  for (const { tableName, made } of steps) expected.set(tableName, (expected.get(tableName) ?? 0) + made)
  return [...expected].every(([name, count]) => after.get(name) === count)
}
