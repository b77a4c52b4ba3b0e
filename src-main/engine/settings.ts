/** All SQL about settings that belong to the file: column widths, matches of columns. Undo leaves them alone. */
import type { Connection } from './db/connect.ts'

export function listSettings(connection: Connection): Record<string, unknown> {
  const rows = connection.prepare('SELECT key, value FROM setting ORDER BY key').all() as {
    key: string
    value: string
  }[]
  return Object.fromEntries(rows.map(({ key, value }) => [key, JSON.parse(value) as unknown]))
}

export function setSetting(connection: Connection, key: string, value: unknown): null {
  connection
    .prepare('INSERT INTO setting (key, value) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = excluded.value')
    .run(key, JSON.stringify(value))
  return null
}
