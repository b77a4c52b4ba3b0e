/** The runner: all due steps or none, a copy first, and rows that survive every step. */
import { readdirSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { latestVersion, migrations } from '../../migrations/index.ts'
import { applicationId, createDatabase } from '../../src-main/engine/db/connect.ts'
import { migrate, versionOf } from '../../src-main/engine/db/migrate.ts'
import { openFarm } from '../../src-main/engine/farm-file.ts'
import { temporaryFolder } from '../support/open-file.ts'

const never = () => {
  throw new Error('A new file needs no copy.')
}

const farmRow = `INSERT INTO farm (id, name, createdAt) VALUES (1, 'Kept', '2026-12-01T08:00:00.000Z')`

test('a new file goes through every step, and a second run through none', () => {
  const connection = createDatabase(':memory:')
  expect(migrate(connection, never)).toEqual(migrations.map((step) => step.version))
  expect(versionOf(connection)).toBe(latestVersion)
  expect(migrate(connection, never)).toEqual([])
})

test.each(migrations.slice(1).map((step) => step.version))(
  'a file of the version before %i keeps its rows',
  (version) => {
    const connection = createDatabase(':memory:')
    const before = migrations.filter((step) => step.version < version)
    migrate(connection, never, before)
    connection.exec(farmRow)
    connection.exec(`INSERT INTO season (id, farmId, year) VALUES (4, 1, 2027)`)
    let copied = 0
    migrate(connection, (from) => (copied = from))
    expect(copied).toBe(before.at(-1)?.version)
    expect(versionOf(connection)).toBe(latestVersion)
    expect(connection.prepare('SELECT id, farmId, year, state FROM season').all()).toEqual([
      { id: 4, farmId: 1, year: 2027, state: 'open' },
    ])
    expect(connection.pragma('foreign_key_check')).toEqual([])
  },
)

test('a step that fails leaves the file as it was, version and all', () => {
  const connection = createDatabase(':memory:')
  migrate(connection, never)
  connection.exec(farmRow)
  const steps = [
    ...migrations,
    { version: latestVersion + 10, name: 'good', sql: 'ALTER TABLE farm ADD COLUMN motto TEXT' },
    {
      version: latestVersion + 20,
      name: 'bad',
      sql: `UPDATE farm SET motto = 'x'; INSERT INTO no_such_table VALUES (1)`,
    },
  ]
  expect(() => migrate(connection, () => undefined, steps)).toThrow(/no_such_table/)
  expect(versionOf(connection)).toBe(latestVersion)
  expect(connection.prepare('SELECT * FROM farm').get()).not.toHaveProperty('motto')
  expect(connection.pragma('foreign_keys', { simple: true })).toBe(1)
})

test('a step that breaks a reference is refused', () => {
  const connection = createDatabase(':memory:')
  migrate(connection, never)
  connection.exec(`${farmRow}; INSERT INTO season (id, farmId, year) VALUES (4, 1, 2027)`)
  const step = { version: latestVersion + 10, name: 'orphan', sql: 'DELETE FROM farm' }
  expect(() => migrate(connection, () => undefined, [...migrations, step])).toThrow(/season that refers to nothing/)
  expect(connection.prepare('SELECT count(*) FROM farm').pluck().get()).toBe(1)
})

test('a copy that cannot be made stops the migration', () => {
  const connection = createDatabase(':memory:')
  migrate(connection, never, migrations.slice(0, 2))
  expect(() =>
    migrate(connection, () => {
      throw new Error('disk full')
    }),
  ).toThrow('disk full')
  expect(versionOf(connection)).toBe(20)
})

test('opening an older file puts a whole copy beside it first', () => {
  const folder = temporaryFolder()
  const path = join(folder, 'Old.farm')
  const old = createDatabase(path)
  migrate(old, never, migrations.slice(0, 2))
  old.exec(`${farmRow}; INSERT INTO season (id, farmId, year) VALUES (4, 1, 2027)`)
  old.close()
  const opened = openFarm(path)
  if (!opened.ok) throw new Error(JSON.stringify(opened.problems))
  expect(versionOf(opened.value.connection)).toBe(latestVersion)
  expect(opened.value.seasonId).toBe(4)
  opened.value.close()
  const copies = readdirSync(join(folder, 'Old backups')).sort()
  expect(copies).toEqual([
    expect.stringMatching(/before a newer version\.farm$/),
    expect.stringMatching(/\.farm\.sha256$/),
  ])
  const copy = createDatabase(join(folder, 'Old backups', copies[0] ?? ''))
  expect(copy.pragma('application_id', { simple: true })).toBe(applicationId)
  expect(versionOf(copy)).toBe(20)
  expect(copy.prepare('SELECT name FROM farm').pluck().get()).toBe('Kept')
  copy.close()
  expect(statSync(path).size).toBeGreaterThan(0)
})
