/**
 * Undo. Triggers note every changed row as it was and as it is; a step is what one call changed. The record is in
 * the file, so it outlives a restart. The triggers are TEMP and written anew from the schema at each opening: a
 * new column is covered without a migration, and the file carries no code that another program would run.
 */
import type { UndoState } from '../../../src-shared/farm.ts'
import type { Connection } from './connect.ts'

/** Steps kept; older ones are forgotten. */
export const mostSteps = 500

/** Results, settings and the record itself: not taken back. Everything else is. */
export const notUndoable: readonly string[] = [
  'plan',
  'plan_block',
  'plan_purchase',
  'setting',
  'file_mark',
  'undo_step',
  'undo_change',
]

/**
 * In the place of a new row's values: when its step is taken back the row is as the step made it, and is read then.
 * An import of many rows is so recorded in half the time and a fraction of the space.
 */
const notYetRead = "'{}'"

interface ColumnInfo {
  name: string
  type: string
}

interface Step {
  id: number
  label: string
}

interface Change {
  id: number
  tableName: string
  rowId: number
  before: string | null
  after: string | null
}

/** Tables whose changes are recorded. */
export function undoableTables(connection: Connection): string[] {
  const all = connection
    .prepare(
      `SELECT name FROM main.sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\' ORDER BY name`,
    )
    .pluck()
    .all() as string[]
  return all.filter((name) => !notUndoable.includes(name))
}

/** Puts the recorder in place; once, when a file is opened. */
export function recordChanges(connection: Connection): void {
  connection.exec('CREATE TEMP TABLE undo_now (undoStepId INTEGER NOT NULL)')
  for (const table of undoableTables(connection)) {
    const before = rowAsJson(columnsOf(connection, table), 'old')
    const after = rowAsJson(columnsOf(connection, table), 'new')
    connection.exec(trigger(table, 'INSERT', 'new', 'NULL', notYetRead))
    connection.exec(trigger(table, 'UPDATE', 'new', before, after))
    connection.exec(trigger(table, 'DELETE', 'old', before, 'NULL'))
  }
}

/** What follows belongs to one step, until `endUndoStep`. Inside the caller's transaction. */
export function beginUndoStep(connection: Connection, label: string): void {
  const { lastInsertRowid } = connection
    .prepare('INSERT INTO undo_step (label, madeAt) VALUES (?, ?)')
    .run(label, new Date().toISOString())
  connection.exec('DELETE FROM temp.undo_now')
  connection.prepare('INSERT INTO temp.undo_now VALUES (?)').run(lastInsertRowid)
}

/** Closes the step. One that changed nothing leaves no trace; any other ends what could be done again. */
export function endUndoStep(connection: Connection): void {
  const id = connection.prepare('SELECT undoStepId FROM temp.undo_now').pluck().get() as number | undefined
  if (id === undefined) throw new Error('No undo step was begun.')
  connection.exec('DELETE FROM temp.undo_now')
  const hasChanges = connection.prepare('SELECT 1 FROM undo_change WHERE undoStepId = ? LIMIT 1').get(id)
  if (!hasChanges) {
    connection.prepare('DELETE FROM undo_step WHERE id = ?').run(id)
    return
  }
  connection.exec('DELETE FROM undo_step WHERE isUndone = 1')
  connection
    .prepare('DELETE FROM undo_step WHERE id IN (SELECT id FROM undo_step ORDER BY id DESC LIMIT -1 OFFSET ?)')
    .run(mostSteps)
}

/** What the Edit menu can offer. */
export function undoState(connection: Connection): UndoState {
  return { back: stepBack(connection)?.label ?? null, forward: stepForward(connection)?.label ?? null }
}

/** Takes the newest step back; false where there is none. */
export function undoBack(connection: Connection): boolean {
  return connection.transaction(() => {
    const step = stepBack(connection)
    if (!step) return false
    const hand = handOn(connection)
    for (const change of changesOf(connection, step, 'DESC')) {
      if (change.before === null) keepValues(hand, change)
      apply(hand, change, change.after, change.before)
    }
    connection.prepare('UPDATE undo_step SET isUndone = 1 WHERE id = ?').run(step.id)
    return true
  })()
}

/** Does the step again that was taken back last; false where there is none. */
export function undoForward(connection: Connection): boolean {
  return connection.transaction(() => {
    const step = stepForward(connection)
    if (!step) return false
    const hand = handOn(connection)
    for (const change of changesOf(connection, step, 'ASC')) apply(hand, change, change.before, change.after)
    connection.prepare('UPDATE undo_step SET isUndone = 0 WHERE id = ?').run(step.id)
    return true
  })()
}

function stepBack(connection: Connection): Step | undefined {
  return connection.prepare('SELECT id, label FROM undo_step WHERE isUndone = 0 ORDER BY id DESC').get() as
    Step | undefined
}

function stepForward(connection: Connection): Step | undefined {
  return connection.prepare('SELECT id, label FROM undo_step WHERE isUndone = 1 ORDER BY id').get() as Step | undefined
}

function changesOf(connection: Connection, step: Step, order: 'ASC' | 'DESC'): Change[] {
  // A row's parents were there before it and went after it, so in this order no reference is ever broken for long;
  // the rest is checked at the end.
  connection.pragma('defer_foreign_keys = ON')
  connection.exec('DELETE FROM temp.undo_now')
  return connection
    .prepare(`SELECT id, tableName, rowId, before, after FROM undo_change WHERE undoStepId = ? ORDER BY id ${order}`)
    .all(step.id) as Change[]
}

/** The schema looked up and the statements prepared once a step: a step may hold a hundred thousand changes. */
interface Hand {
  columns: ReadonlyMap<string, ColumnInfo[]>
  run(sql: string, ...values: (string | number | Buffer | null)[]): void
}

function handOn(connection: Connection): Hand {
  const statements = new Map<string, ReturnType<Connection['prepare']>>()
  return {
    columns: new Map(undoableTables(connection).map((table) => [table, columnsOf(connection, table)])),
    run(sql, ...values) {
      const statement = statements.get(sql) ?? connection.prepare(sql)
      statements.set(sql, statement)
      statement.run(values)
    },
  }
}

/** Reads a row that the step made, before it goes, so that it can be made again. */
function keepValues(hand: Hand, { id, tableName, rowId }: Change): void {
  const columns = hand.columns.get(tableName)
  if (!columns) throw new Error(`The undo record names a table ${tableName}.`)
  const values = rowAsJson(columns, 'made')
  hand.run(
    `UPDATE undo_change SET after = (SELECT ${values} FROM main."${tableName}" made WHERE made.id = ?) WHERE id = ?`,
    rowId,
    id,
  )
}

/** Brings one row from one state to the other. Names out of the record are looked up in the schema, never trusted. */
function apply(hand: Hand, change: Change, from: string | null, to: string | null): void {
  const { tableName, rowId } = change
  const all = hand.columns.get(tableName)
  if (!all) throw new Error(`The undo record names a table ${tableName}.`)
  if (to === null) {
    hand.run(`DELETE FROM "${tableName}" WHERE id = ?`, rowId)
    return
  }
  const row = JSON.parse(to) as Record<string, string | number | null>
  const columns = all.filter((column) => Object.hasOwn(row, column.name))
  const values = columns.map((column) => stored(column, row[column.name] ?? null))
  const names = columns.map((column) => `"${column.name}"`)
  if (from === null) {
    const places = names.map(() => '?').join(', ')
    hand.run(`INSERT INTO "${tableName}" (${names.join(', ')}) VALUES (${places})`, ...values)
  } else {
    const sets = names.map((name) => `${name} = ?`).join(', ')
    hand.run(`UPDATE "${tableName}" SET ${sets} WHERE id = ?`, ...values, rowId)
  }
}

function columnsOf(connection: Connection, table: string): ColumnInfo[] {
  return connection.pragma(`table_info("${table}")`) as ColumnInfo[]
}

/** SQLite writes a REAL into JSON so that it reads back as the same number; only bytes need help. */
function rowAsJson(columns: readonly ColumnInfo[], row: 'old' | 'new' | 'made'): string {
  const pairs = columns.map(({ name, type }) => {
    const value = `${row}."${name}"`
    return `'${name}', ${type === 'BLOB' ? `hex(${value})` : value}`
  })
  return `json_object(${pairs.join(', ')})`
}

function stored(column: ColumnInfo, value: string | number | null): string | number | Buffer | null {
  return column.type === 'BLOB' && typeof value === 'string' ? Buffer.from(value, 'hex') : value
}

function trigger(table: string, event: string, row: 'old' | 'new', before: string, after: string): string {
  return `CREATE TEMP TRIGGER "undo_${event.toLowerCase()}_${table}" AFTER ${event} ON main."${table}"
    WHEN EXISTS (SELECT 1 FROM undo_now)
    BEGIN
      INSERT INTO undo_change (undoStepId, tableName, rowId, before, after)
      SELECT undoStepId, '${table}', ${row}.id, ${before}, ${after} FROM undo_now
      ${event === 'UPDATE' ? `WHERE ${before} IS NOT ${after}` : ''};
    END`
}
