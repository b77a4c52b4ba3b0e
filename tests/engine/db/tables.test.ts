/** tables.ts against the real schema: every table, every column, its type, whether it may be null or be left out. */
import { expect, test } from 'vitest'
import { createDatabase, type Connection } from '../../../src-main/engine/db/connect.ts'
import { migrate } from '../../../src-main/engine/db/migrate.ts'
import { columns } from '../../../src-main/engine/db/tables.ts'

interface Described {
  sql: string
  isNullable: boolean
  isPreset: boolean
}

interface ColumnInfo {
  name: string
  type: string
  notnull: number
  dflt_value: string | null
  pk: number
}

function schemaTables(connection: Connection): Record<string, Record<string, Described>> {
  const names = connection
    .prepare(`SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%'`)
    .pluck()
    .all() as string[]
  return Object.fromEntries(
    names.map((table) => {
      const info = connection.pragma(`table_info("${table}")`) as ColumnInfo[]
      const described = info.map(({ name, type, notnull, dflt_value, pk }): [string, Described] => [
        name,
        { sql: type, isNullable: notnull === 0 && pk === 0, isPreset: pk > 0 || dflt_value !== null },
      ])
      return [table, Object.fromEntries(described)]
    }),
  )
}

function fresh(): Connection {
  const connection = createDatabase(':memory:')
  migrate(connection, () => undefined)
  return connection
}

test('tables.ts is the schema', () => {
  expect(columns).toEqual(schemaTables(fresh()))
})

test.each([
  ['a table more', 'CREATE TABLE extra (id INTEGER PRIMARY KEY) STRICT'],
  ['a column more', 'ALTER TABLE field ADD COLUMN colour TEXT'],
  ['a column less', 'ALTER TABLE field_season DROP COLUMN soil'],
  ['another type', 'ALTER TABLE lot DROP COLUMN note; ALTER TABLE lot ADD COLUMN note INTEGER'],
  [
    'null no longer allowed',
    `ALTER TABLE lot DROP COLUMN note; ALTER TABLE lot ADD COLUMN note TEXT NOT NULL DEFAULT ''`,
  ],
])('the comparison sees %s', (_name, sql) => {
  const connection = fresh()
  connection.exec(sql)
  expect(columns).not.toEqual(schemaTables(connection))
})
