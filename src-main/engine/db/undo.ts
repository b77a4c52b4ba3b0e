/**
 * Undo. Triggers note every changed row as it was and as it is; a step is what one call changed. The record is in
 * the file, so it outlives a restart. The triggers are TEMP and written anew from the schema at each opening: a
 * new column is covered without a migration, and the file carries no code that another program would run.
 */
import { undoLimits, type UndoState } from '../../../src-shared/farm.ts'
import { ProblemError, type Problem } from '../../../src-shared/problem.ts'
import type { Connection } from './connect.ts'
import { countsFit, historyFits, historyNote, removeHistory, rowCounts } from './undo-check.ts'

/** Steps kept; older ones are forgotten. */
export const mostSteps = undoLimits.steps

/** Results, settings and the record itself: not taken back. Everything else is. */
export const notUndoable: readonly string[] = [
  'plan',
  'plan_purchase',
  'plan_input',
  'setting',
  'file_mark',
  'undo_step',
  'undo_change',
  // Bytes by what they are: the rows that name them are taken back.
  'photo_content',
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
  if (!historyFits(connection, undoColumns(connection))) removeHistory(connection)
  // In one transaction: opening a farm is mostly this, and one by one they take half as long again.
  const all = undoableTables(connection).flatMap((table) => {
    const columns = columnsOf(connection, table)
    return [
      trigger(table, 'INSERT', 'new', 'NULL', notYetRead),
      trigger(table, 'UPDATE', 'new', changedAsJson(columns, 'old'), changedAsJson(columns, 'new')),
      trigger(table, 'DELETE', 'old', rowAsJson(columns, 'old'), 'NULL'),
    ]
  })
  connection.exec(`BEGIN; ${all.join(';')}; COMMIT`)
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
  measureStep(connection, id)
  pruneUndo(connection, new Date())
}

function measureStep(connection: Connection, id: number): void {
  connection
    .prepare(
      `UPDATE undo_step SET size = (SELECT coalesce(sum(coalesce(octet_length(before), 0) + coalesce(octet_length(after), 0)), 0)
       FROM undo_change WHERE undoStepId = undo_step.id) WHERE id = ?`,
    )
    .run(id)
}

/** Forgets steps beyond the limits of number, bytes and age; the last one stays, whatever its size. */
export function pruneUndo(connection: Connection, now: Date): void {
  const oldest = new Date(now.getTime() - undoLimits.days * 86_400_000).toISOString()
  connection
    .prepare(
      `DELETE FROM undo_step WHERE id IN (
         SELECT id FROM (
           SELECT id, madeAt, row_number() OVER newest AS place, sum(size) OVER newest AS bytes
           FROM undo_step WINDOW newest AS (ORDER BY id DESC))
         WHERE place > 1 AND (place > ? OR bytes > ? OR madeAt < ?))`,
    )
    .run(undoLimits.steps, undoLimits.bytes, oldest)
}

/** What the Edit menu can offer. */
export function undoState(connection: Connection): UndoState {
  const note = historyNote(connection)
  return {
    back: stepBack(connection)?.label ?? null,
    forward: stepForward(connection)?.label ?? null,
    ...(note === undefined ? {} : { note }),
  }
}

/** Takes the newest step back; false where there is none. */
export function undoBack(connection: Connection): boolean {
  const step = stepBack(connection)
  if (!step) return false
  takeStep(connection, step, 'back')
  return true
}

/** Does the step again that was taken back last; false where there is none. */
export function undoForward(connection: Connection): boolean {
  const step = stepForward(connection)
  if (!step) return false
  takeStep(connection, step, 'forward')
  return true
}

/** The whole step or nothing. One that does not fit the farm is refused, and the history removed. */
function takeStep(connection: Connection, step: Step, way: 'back' | 'forward'): void {
  try {
    connection.transaction(() => {
      const hand = handOn(connection)
      const before = rowCounts(connection, hand.columns)
      const isBack = way === 'back'
      const taken = changesOf(connection, step, isBack ? 'DESC' : 'ASC').map((change) => {
        if (isBack && change.before === null) keepValues(hand, change)
        const [from, to] = isBack ? [change.after, change.before] : [change.before, change.after]
        apply(hand, change, from, to)
        return { tableName: change.tableName, made: Number(from === null) - Number(to === null) }
      })
      if (!countsFit(before, rowCounts(connection, hand.columns), taken)) throw new ProblemError([historyUnfit])
      connection.prepare('UPDATE undo_step SET isUndone = ? WHERE id = ?').run(isBack ? 1 : 0, step.id)
      if (isBack) measureStep(connection, step.id)
    })()
  } catch (error) {
    const isRefused = /^SQLITE_CONSTRAINT/.test(String((error as { code?: unknown } | null)?.code))
    if (!isRefused && !(error instanceof ProblemError)) throw error
    removeHistory(connection)
    throw new ProblemError([historyUnfit])
  }
}

const historyUnfit: Problem = {
  code: 'damaged',
  what: 'The undo history does not fit this farm.',
  remedy: 'It was removed. The farm is as it was before.',
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
    columns: undoColumns(connection),
    run(sql, ...values) {
      const statement = statements.get(sql) ?? connection.prepare(sql)
      statements.set(sql, statement)
      statement.run(values)
    },
  }
}

function undoColumns(connection: Connection): Map<string, ColumnInfo[]> {
  return new Map(undoableTables(connection).map((table) => [table, columnsOf(connection, table)]))
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

/** Of a changed row only what changed: a column pasted over a farm of wide rows is a twentieth of the whole rows. */
function changedAsJson(columns: readonly ColumnInfo[], row: 'old' | 'new'): string {
  const changed = columns.map(({ name, type }) => {
    const value = `${row}."${name}"`
    return `SELECT '${name}' AS name, ${type === 'BLOB' ? `hex(${value})` : value} AS value WHERE old."${name}" IS NOT new."${name}"`
  })
  return `(SELECT json_group_object(name, value) FROM (${changed.join(' UNION ALL ')}))`
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
