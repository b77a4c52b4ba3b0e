/** Undo records of a stranger's file: what does not fit the farm is removed on opening or refused, and the farm stays whole. */
import { dirname } from 'node:path'
import { expect, test } from 'vitest'
import type { Connection } from '../../../src-main/engine/db/connect.ts'
import { beginUndoStep, endUndoStep } from '../../../src-main/engine/db/undo.ts'
import { openFarm, type OpenFarm } from '../../../src-main/engine/farm-file.ts'
import { engineAt } from '../../support/engine.ts'
import { dumpOf, newFarm } from '../../support/open-file.ts'

/** A file with one honest step, and records that somebody has written into it; then closed and opened. */
function withRecords(
  ...records: [table: string, rowId: number, before: string | null, after: string | null][]
): OpenFarm {
  const farm = newFarm()
  const { connection } = farm
  connection.exec('BEGIN')
  beginUndoStep(connection, 'Change acres')
  connection.exec('UPDATE field_season SET acres = 90 WHERE id = 1')
  endUndoStep(connection)
  connection.exec('COMMIT')
  const insert = connection.prepare(
    'INSERT INTO undo_change (undoStepId, tableName, rowId, before, after) VALUES (?, ?, ?, ?, ?)',
  )
  for (const [table, rowId, before, after] of records) {
    const { lastInsertRowid } = connection
      .prepare(`INSERT INTO undo_step (label, madeAt) VALUES ('Strange', '2027-01-01T00:00:00.000Z')`)
      .run()
    insert.run(lastInsertRowid, table, rowId, before, after)
  }
  farm.close()
  const opened = openFarm(farm.path)
  if (!opened.ok) throw new Error(JSON.stringify(opened.problems))
  return opened.value
}

const whole = (connection: Connection) => [dumpOf(connection), connection.prepare('SELECT * FROM setting').all()]

test('keeps a history that fits', async () => {
  const farm = withRecords()
  const host = engineAt(dirname(farm.path))
  host.engine.farm = farm
  expect(await host.must('undo.state', {})).toEqual({ back: 'Change acres', forward: null })
  await host.must('undo.back', {})
  expect(farm.connection.prepare('SELECT acres FROM field_season WHERE id = 1').pluck().get()).toBe(88)
  await host.close()
})

test.each<[string, string, number, string | null, string | null]>([
  ['makes the farm’s own row', 'farm', 1, null, '{}'],
  ['changes the farm’s own row', 'farm', 1, '{"id":1,"name":"Theirs"}', '{"id":1,"name":"Ours"}'],
  ['changes a setting', 'setting', 1, '{"id":1,"key":"a","value":"1"}', null],
  ['changes the record itself', 'undo_step', 1, null, '{}'],
  ['changes the schema', 'sqlite_schema', 1, null, '{}'],
  ['names no table', 'nothing', 1, null, '{}'],
  ['names a column that is not there', 'threat', 1, '{"id":1,"secret":1}', '{"id":1,"name":"x"}'],
  ['changes the number of a row', 'threat', 1, '{"id":9,"name":"x"}', '{"id":1,"name":"y"}'],
  ['holds a list for a value', 'threat', 1, '{"id":1,"name":["x"]}', '{"id":1,"name":"y"}'],
  ['holds no record', 'threat', 1, '[1]', '{"id":1,"name":"y"}'],
])('removes the history on opening where a record %s, and says so', async (_what, table, rowId, before, after) => {
  const farm = withRecords([table, rowId, before, after])
  const host = engineAt(dirname(farm.path))
  host.engine.farm = farm
  const as = whole(farm.connection)
  expect(await host.must('undo.state', {})).toEqual({
    back: null,
    forward: null,
    note: 'Standwell removed the undo history: it did not fit this farm.',
  })
  await host.must('undo.back', {})
  await host.must('undo.back', {})
  expect(whole(farm.connection)).toEqual(as)
  expect(host.bugs).toEqual([])
  await host.close()
})

test.each<[string, string, number, string | null, string | null]>([
  ['would delete the open season', 'season', 1, null, '{}'],
  ['would close the open season', 'season', 1, '{"id":1,"state":"closed"}', '{"id":1,"state":"open"}'],
  ['would delete a field with all that hangs on it', 'field', 1, null, '{}'],
  ['would make a row without what it needs', 'threat', 77, '{"id":77}', null],
  ['would make a row that is there', 'threat', 1, '{"id":1,"seasonId":1,"name":"x","kind":"leaf"}', null],
  ['would delete a row that is not there', 'threat', 77, null, '{}'],
])('refuses a step that %s and leaves the farm whole', async (_what, table, rowId, before, after) => {
  const farm = withRecords([table, rowId, before, after])
  const host = engineAt(dirname(farm.path))
  host.engine.farm = farm
  const as = dumpOf(farm.connection)
  expect(await host.call('undo.back', {})).toMatchObject({ ok: false, problems: [{ code: 'damaged' }] })
  expect(dumpOf(farm.connection)).toEqual(as)
  expect(await host.must('undo.state', {})).toMatchObject({ back: null, note: expect.stringContaining('removed') })
  expect(host.bugs).toEqual([])
  await host.close()
})
