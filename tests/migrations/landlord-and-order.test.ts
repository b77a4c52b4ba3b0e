/** Step 130: fields say whose land they are and how the farm agency numbers them, and lists keep the order of their sheet. */
import Database from 'better-sqlite3'
import { expect, test } from 'vitest'
import { migrations } from '../../migrations/index.ts'
import { migrate } from '../../src-main/engine/db/migrate.ts'
import { farmOf, freeSeason } from '../support/order-farm.ts'

test('rows that were there keep what they held and have none of the new columns', () => {
  const connection = new Database(':memory:')
  for (const { sql, version } of migrations.filter((step) => step.version < 130))
    connection.exec(`${sql}; PRAGMA user_version = ${version}`)
  connection.exec(`INSERT INTO farm (id, name, createdAt) VALUES (1, 'Any', '2027-01-02T00:00:00.000Z');
    INSERT INTO season (id, farmId, year) VALUES (1, 1, 2027);
    INSERT INTO field (id, farmId, name) VALUES (1, 1, 'Hill');
    INSERT INTO field_season (fieldId, seasonId, acres, rowSpacingIn, rowPattern, water, yieldGoalLb) VALUES (1, 1, 40, 36, 'twin', 'dryland', 3800)`)
  migrate(connection, () => undefined)
  expect(
    connection.prepare('SELECT acres, landlord, farmNumber, tract, place, position FROM field_season').get(),
  ).toEqual({
    acres: 40,
    landlord: null,
    farmNumber: null,
    tract: null,
    place: null,
    position: null,
  })
  const put = (sql: string) => () => connection.exec(sql)
  expect(put(`UPDATE field_season SET landlord = ''`)).toThrow('CHECK')
  expect(put('UPDATE quote SET position = 0')).not.toThrow()
  expect(put('UPDATE field_season SET position = 0')).toThrow('CHECK')
})

test('a list is in the order of its sheet, what was typed after it by name, and a plan does not hang on it', async () => {
  const typed = ['Alder', 'Zinnia', 'Maple']
  const { must, engine } = farmOf(
    freeSeason((own) => ({
      ...own,
      fields: typed.map((name, at) => ({ ...own.fields[0]!, name, ...(at === 0 ? {} : { position: at }) })),
    })),
  )
  expect((await must('field.list', {})).map(({ name }) => name)).toEqual(['Zinnia', 'Maple', 'Alder'])
  await must('plan.solve', { gap: 0, seconds: 20 })
  engine.farm!.connection.exec('UPDATE field_season SET position = 9 WHERE position = 1')
  expect((await must('field.list', {})).map(({ name }) => name)).toEqual(['Maple', 'Zinnia', 'Alder'])
  expect(await must('plan.latest', {})).toMatchObject({ isStale: false })
})
