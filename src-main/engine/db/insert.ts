/** Adds one row to a table, typed by tables.ts and bound, never spelled out. For code that writes many tables at once. */
import type { Insertable } from 'kysely'
import type { Connection } from './connect.ts'
import type { Tables } from './tables.ts'

/** @returns the new row's id */
export function insertRow<Name extends keyof Tables & string>(
  connection: Connection,
  table: Name,
  row: Insertable<Tables[Name]>,
): number {
  const entries = Object.entries(row).filter(([, value]) => value !== undefined)
  const names = entries.map(([name]) => `"${name}"`).join(', ')
  const places = entries.map(() => '?').join(', ')
  const values = entries.map(([, value]) => value)
  return Number(
    connection.prepare(`INSERT INTO "${table}" (${names}) VALUES (${places})`).run(...values).lastInsertRowid,
  )
}
