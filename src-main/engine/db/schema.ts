/**
 * Is a file's schema the one that our steps make? A file can come from a stranger: a trigger or a view in it would
 * run with our writes. Anything more, less or other than the steps make is refused.
 */
import { migrations } from '../../../migrations/index.ts'
import { createDatabase, type Connection } from './connect.ts'
import { migrate, versionOf } from './migrate.ts'

/** Every table, index, trigger and view with its text, in one order. */
export function schemaText(connection: Connection): string {
  const rows = connection
    .prepare(
      `SELECT type, name, tbl_name, sql FROM main.sqlite_schema
       WHERE name NOT LIKE 'sqlite\\_%' ESCAPE '\\' ORDER BY type, name`,
    )
    .raw()
    .all()
  return JSON.stringify(rows)
}

/** By version: built once a process, in memory, in a few milliseconds. */
const expected = new Map<number, string>()

export function hasOwnSchema(connection: Connection): boolean {
  const version = versionOf(connection)
  if (!migrations.some((step) => step.version === version)) return false
  let text = expected.get(version)
  if (text === undefined) {
    const made = createDatabase(':memory:')
    migrate(
      made,
      () => undefined,
      migrations.filter((step) => step.version <= version),
    )
    text = schemaText(made)
    made.close()
    expected.set(version, text)
  }
  return schemaText(connection) === text
}
