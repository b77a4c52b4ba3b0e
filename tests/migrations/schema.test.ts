/**
 * schema.json is the schema after the last step. It changes only on purpose:
 *   STANDWELL_WRITE_SCHEMA=1 npx vitest run --config tests/vitest.config.ts tests/migrations/schema.test.ts
 * writes it anew; read the difference before it is committed.
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { latestVersion, migrations } from '../../migrations/index.ts'
import { createDatabase, type Connection } from '../../src-main/engine/db/connect.ts'
import { migrate } from '../../src-main/engine/db/migrate.ts'

const folder = join(import.meta.dirname, '../../migrations')
const file = join(folder, 'schema.json')

interface Entry {
  type: string
  name: string
  sql: string
}

function schemaOf(connection: Connection): { version: number; entries: Entry[] } {
  const entries = connection
    .prepare(
      `SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%' ORDER BY type, name`,
    )
    .all() as Entry[]
  return {
    version: connection.pragma('user_version', { simple: true }) as number,
    // Comments and layout are not the schema.
    entries: entries.map((entry) => ({ ...entry, sql: entry.sql.replace(/--.*$/gm, '').replace(/\s+/g, ' ').trim() })),
  }
}

function fresh(): Connection {
  const connection = createDatabase(':memory:')
  migrate(connection, () => undefined)
  return connection
}

const kept = () => JSON.parse(readFileSync(file, 'utf8')) as ReturnType<typeof schemaOf>

test('the schema is the one that schema.json keeps', () => {
  const now = schemaOf(fresh())
  if (process.env.STANDWELL_WRITE_SCHEMA) writeFileSync(file, `${JSON.stringify(now, null, 2)}\n`)
  expect(now, 'On purpose? The first comment of this test says how to write schema.json anew.').toEqual(kept())
})

test.each([
  ['a column more', 'ALTER TABLE lot ADD COLUMN colour TEXT'],
  ['an index less', 'DROP INDEX lot_season'],
  ['a trigger less', 'DROP TRIGGER lot_planted_is_kept'],
  ['a renamed column', 'ALTER TABLE "load" RENAME COLUMN buyer TO boughtBy'],
  ['a table more', 'CREATE TABLE extra (id INTEGER PRIMARY KEY) STRICT'],
  ['another version', 'PRAGMA user_version = 9990'],
])('the guard sees %s', (_name, sql) => {
  const connection = fresh()
  connection.exec(sql)
  expect(schemaOf(connection)).not.toEqual(kept())
})

test('the guard passes over comments and layout', () => {
  const connection = fresh()
  connection.exec('DROP TABLE setting')
  const sql = readFileSync(join(folder, '0060-settings-and-undo.sql'), 'utf8')
  const setting = /CREATE TABLE setting[\s\S]*?STRICT;/.exec(sql)?.[0] ?? ''
  connection.exec(setting.replace('(\n', '( -- a comment\n\n\n'))
  expect(schemaOf(connection)).toEqual(kept())
})

test('every sql file is a step, in order', () => {
  const files = readdirSync(folder).filter((name) => name.endsWith('.sql'))
  const versions = migrations.map((step) => step.version)
  expect(versions).toHaveLength(files.length)
  // Numbers are set aside for work that goes on beside: some may be missing.
  expect(versions).toEqual([...new Set(versions)].sort((a, b) => a - b))
  expect(latestVersion).toBe(versions.at(-1))
})

test('all tables are STRICT, have a key named id, and an index for every reference', () => {
  const connection = fresh()
  const tables = connection.pragma('table_list') as { schema: string; name: string; type: string; strict: number }[]
  const own = tables.filter((table) => table.schema === 'main' && !table.name.startsWith('sqlite_'))
  expect(own.length).toBeGreaterThan(45)
  expect(own.filter((table) => table.strict !== 1)).toEqual([])
  const unindexed = own.flatMap(({ name }) => {
    const columns = connection.pragma(`table_info("${name}")`) as { name: string; pk: number }[]
    expect(columns.filter((column) => column.pk > 0).map((column) => column.name)).toEqual(['id'])
    const indexes = connection.pragma(`index_list("${name}")`) as { name: string }[]
    const firsts = indexes.map(
      ({ name: index }) => (connection.pragma(`index_info("${index}")`) as { name: string | null }[])[0]?.name,
    )
    const references = connection.pragma(`foreign_key_list("${name}")`) as { from: string }[]
    return references.filter(({ from }) => !firsts.includes(from)).map(({ from }) => `${name}.${from}`)
  })
  // One farm a file: nothing is ever looked up by it.
  expect(unindexed).toEqual([])
})
