/**
 * Undo: random edits, all taken back, all done again, across restarts: every row equal to the last byte. The whole set is 300 runs of
 * edits (`npm run test:all`), 25 with every commit.
 */
import fc from 'fast-check'
import { copyFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import type { Connection } from '../../../src-main/engine/db/connect.ts'
import {
  beginUndoStep,
  endUndoStep,
  mostSteps,
  notUndoable,
  undoableTables,
  undoBack,
  undoForward,
  undoState,
} from '../../../src-main/engine/db/undo.ts'
import { createFarm, openFarm, type OpenFarm } from '../../../src-main/engine/farm-file.ts'
import { takesAll } from '../../support/sampled.ts'
import { dumpOf, newFarm, smallSeason, temporaryFolder } from '../../support/open-file.ts'

function step(connection: Connection, label: string, work: () => void): void {
  connection.exec('BEGIN IMMEDIATE')
  try {
    beginUndoStep(connection, label)
    work()
    endUndoStep(connection)
    connection.exec('COMMIT')
  } catch (error) {
    if (connection.inTransaction) connection.exec('ROLLBACK')
    throw error
  }
}

const acresOf = (connection: Connection) =>
  connection.prepare('SELECT acres FROM field_season WHERE id = 1').pluck().get()
const setAcres = (connection: Connection, acres: number) =>
  step(connection, `Acres ${acres}`, () =>
    connection.prepare('UPDATE field_season SET acres = ? WHERE id = 1').run(acres),
  )

test('back and forward, with the words for the menu', () => {
  const { connection } = newFarm()
  expect(undoState(connection)).toEqual({ back: null, forward: null })
  expect([undoBack(connection), undoForward(connection)]).toEqual([false, false])
  setAcres(connection, 90)
  setAcres(connection, 91.3)
  expect(undoState(connection)).toEqual({ back: 'Acres 91.3', forward: null })
  undoBack(connection)
  expect([acresOf(connection), undoState(connection)]).toEqual([90, { back: 'Acres 90', forward: 'Acres 91.3' }])
  undoBack(connection)
  expect([acresOf(connection), undoState(connection)]).toEqual([88, { back: null, forward: 'Acres 90' }])
  undoForward(connection)
  expect([acresOf(connection), undoState(connection)]).toEqual([90, { back: 'Acres 90', forward: 'Acres 91.3' }])
})

test('a new change ends what could be done again; a step that changes nothing does not', () => {
  const { connection } = newFarm()
  setAcres(connection, 90)
  undoBack(connection)
  setAcres(connection, 88)
  expect(undoState(connection)).toEqual({ back: null, forward: 'Acres 90' })
  setAcres(connection, 70)
  expect(undoState(connection)).toEqual({ back: 'Acres 70', forward: null })
})

test('a step that changes one row several times goes back to before the first and forward to after the last', () => {
  const { connection } = newFarm()
  const start = dumpOf(connection)
  step(connection, 'Many', () =>
    connection.exec(`
      UPDATE field_season SET acres = 90 WHERE id = 1;
      UPDATE field_season SET acres = 91 WHERE id = 1;
      INSERT INTO setting (key, value) VALUES ('not undoable', '1');
      INSERT INTO threat (id, seasonId, name, kind) VALUES (50, 1, 'new', 'leaf');
      UPDATE threat SET name = 'newer' WHERE id = 50;
      UPDATE field SET name = 'Swap' WHERE id = 1;
      UPDATE field SET name = 'Creek Bottom' WHERE id = 2;
      UPDATE field SET name = 'Hill' WHERE id = 1`),
  )
  const end = dumpOf(connection)
  undoBack(connection)
  expect(dumpOf(connection)).toEqual(start)
  undoForward(connection)
  expect(dumpOf(connection)).toEqual(end)
})

test('a step that fails leaves no trace', () => {
  const { connection } = newFarm()
  const start = dumpOf(connection)
  expect(() =>
    step(connection, 'Fails', () =>
      connection.exec('UPDATE field_season SET acres = 5; UPDATE field_season SET acres = -5'),
    ),
  ).toThrow()
  connection.exec('UPDATE field_season SET acres = 6 WHERE id = 2')
  expect(undoState(connection)).toEqual({ back: null, forward: null })
  expect(connection.prepare('SELECT count(*) FROM undo_change').pluck().get()).toBe(0)
  connection.exec('UPDATE field_season SET acres = 41.3 WHERE id = 2')
  expect(dumpOf(connection)).toEqual(start)
})

test('removing a thing with all that hangs on it comes back whole, photos too', () => {
  const { connection } = newFarm()
  connection.exec(`INSERT INTO lot (id, seasonId, varietyId, lotNumber, pounds) VALUES (1, 1, 1, 'A-1', 2000)`)
  connection
    .prepare(
      `INSERT INTO tag_photo (lotId, fileName, mediaType, sha256, size) VALUES (1, 'tag.jpg', 'image/jpeg', ?, 5)`,
    )
    .run('a'.repeat(64))
  const start = dumpOf(connection)
  step(connection, 'Remove all', () =>
    connection.exec('DELETE FROM lot; DELETE FROM variety; DELETE FROM field; DELETE FROM threat'),
  )
  const end = dumpOf(connection)
  expect(end.rating).toEqual([])
  undoBack(connection)
  expect(dumpOf(connection)).toEqual(start)
  undoForward(connection)
  expect(dumpOf(connection)).toEqual(end)
})

test(`keeps ${mostSteps} steps, which is more than 200`, () => {
  const { connection } = newFarm()
  for (let n = 1; n <= mostSteps + 20; n += 1) setAcres(connection, n)
  expect(connection.prepare('SELECT count(*) FROM undo_step').pluck().get()).toBe(mostSteps)
  expect(mostSteps).toBeGreaterThanOrEqual(200)
  // Most are left aside, since each way back takes as long: the oldest that is kept must be the last of those that go back.
  connection.exec('DELETE FROM undo_step WHERE id BETWEEN 51 AND 500')
  let taken = 0
  while (undoBack(connection)) taken += 1
  expect([taken, acresOf(connection)]).toEqual([mostSteps - 450, 20])
})

test('no undoable table refers to one that is not: taking back could not bring the other back', () => {
  const { connection } = newFarm()
  const outward = undoableTables(connection).flatMap((table) =>
    (connection.pragma(`foreign_key_list("${table}")`) as { table: string }[])
      .filter((reference) => notUndoable.includes(reference.table))
      .map((reference) => `${table} → ${reference.table}`),
  )
  expect(outward).toEqual([])
})

test('a record that names another table, or brings SQL for a column, does no harm', () => {
  const { connection } = newFarm()
  setAcres(connection, 90)
  connection.exec(`UPDATE undo_change SET tableName = 'setting"; DROP TABLE farm; --'`)
  expect(() => undoBack(connection)).toThrow(/names a table/)
  connection.exec(
    `UPDATE undo_change SET tableName = 'farm', rowId = 1, before = '{"name":"Same","x\\" = 1; DROP TABLE farm; --":1}'`,
  )
  undoBack(connection)
  expect(connection.prepare('SELECT name FROM farm').pluck().all()).toEqual(['Same'])
})

/** One random edit; some are refused by the tables, as a person's would be. */
const edit = fc.oneof(
  fc.record({
    kind: fc.constant('acres' as const),
    id: fc.integer({ min: 1, max: 3 }),
    value: fc.double({ min: 0.001, max: 100000, noNaN: true }),
  }),
  fc.record({
    kind: fc.constant('twice' as const),
    id: fc.integer({ min: 1, max: 3 }),
    value: fc.integer({ min: 1, max: 1000 }),
  }),
  fc.record({
    kind: fc.constant('name' as const),
    id: fc.integer({ min: 1, max: 3 }),
    value: fc.string({ minLength: 1, maxLength: 12, unit: 'grapheme' }),
  }),
  fc.record({
    kind: fc.constant('index' as const),
    id: fc.integer({ min: 1, max: 3 }),
    value: fc.double({ min: 0.3, max: 2, noNaN: true }),
  }),
  fc.record({
    kind: fc.constant('lock' as const),
    id: fc.integer({ min: 1, max: 3 }),
    value: fc.integer({ min: 1, max: 3 }),
  }),
  fc.record({
    kind: fc.constant('remove' as const),
    id: fc.integer({ min: 1, max: 3 }),
    value: fc.constantFrom('variety', 'field', 'threat', 'quote'),
  }),
  fc.record({
    kind: fc.constant('variety' as const),
    id: fc.constant(1),
    value: fc.string({ minLength: 1, maxLength: 12 }),
  }),
  fc.record({ kind: fc.constant('back' as const), id: fc.constant(0), value: fc.constant(0) }),
  fc.record({ kind: fc.constant('forward' as const), id: fc.constant(0), value: fc.constant(0) }),
)
type Edit = typeof edit extends fc.Arbitrary<infer One> ? One : never

function perform(connection: Connection, { kind, id, value }: Edit): void {
  if (kind === 'back') return void undoBack(connection)
  if (kind === 'forward') return void undoForward(connection)
  try {
    step(connection, kind, () => {
      if (kind === 'twice') {
        connection.prepare('UPDATE field_season SET acres = ? WHERE id = ?').run(value + 1, id)
        connection.prepare('UPDATE field_season SET acres = ? WHERE id = ?').run(value + 2, id)
      }
      if (kind === 'acres') connection.prepare('UPDATE field_season SET acres = ? WHERE id = ?').run(value, id)
      if (kind === 'name') connection.prepare('UPDATE field SET name = trim(?) WHERE id = ?').run(value, id)
      if (kind === 'index') connection.prepare('UPDATE variety SET yieldIndex = ? WHERE id >= ?').run(value, id)
      if (kind === 'lock')
        connection.prepare('INSERT INTO field_lock (fieldSeasonId, varietyId) VALUES (?, ?)').run(id, value)
      if (kind === 'remove') connection.prepare(`DELETE FROM "${value}" WHERE id = ?`).run(id)
      if (kind === 'variety') {
        const sql = `INSERT INTO variety (seasonId, name, seedsPerPound, vine, daysToMaturity) VALUES (1, trim(?), 650, 'large', 140)`
        connection.prepare(sql).run(value)
      }
    })
  } catch (error) {
    if (!/constraint/i.test(String(error))) throw error
  }
}

test(
  'random edits: all back is the start, all forward is the end, also across a restart (every fifth run)',
  { timeout: 300_000 },
  () => {
    const folder = temporaryFolder()
    const template = join(folder, 'Template.farm')
    const made = createFarm(template, smallSeason())
    if (!made.ok) throw new Error(JSON.stringify(made.problems))
    const start = dumpOf(made.value.connection)
    made.value.close()
    let run = 0
    const mustOpen = (path: string): OpenFarm => {
      const opened = openFarm(path)
      if (!opened.ok) throw new Error(JSON.stringify(opened.problems))
      // Kept on disk as on a laptop, but the test need not wait for the disk.
      opened.value.connection.pragma('synchronous = OFF')
      return opened.value
    }
    let farm: OpenFarm | null = null
    const freshFarm = (): OpenFarm => {
      const path = join(folder, `Run ${run}.farm`)
      copyFileSync(template, path)
      return mustOpen(path)
    }
    fc.assert(
      fc.property(fc.array(edit, { maxLength: 40 }), (edits) => {
        run += 1
        let open = farm ?? freshFarm()
        // A failing run must not spoil the file of the next: that one starts afresh.
        farm = null
        const restart = () => {
          if (run % 5 !== 0) return
          open.close()
          open = mustOpen(open.path)
        }
        try {
          for (const one of edits) perform(open.connection, one)
          while (undoForward(open.connection)) continue
          const end = dumpOf(open.connection)
          restart()
          while (undoBack(open.connection)) continue
          expect(dumpOf(open.connection)).toEqual(start)
          restart()
          while (undoForward(open.connection)) continue
          expect(dumpOf(open.connection)).toEqual(end)
          expect(open.connection.pragma('foreign_key_check')).toEqual([])
          while (undoBack(open.connection)) continue
          open.connection.exec('DELETE FROM undo_step')
          farm = open
        } finally {
          if (farm === null) open.close()
        }
      }),
      { numRuns: takesAll ? 300 : 25 },
    )
    ;(farm as OpenFarm | null)?.close()
  },
)
