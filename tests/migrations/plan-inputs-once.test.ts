/** Step 90: the season that plans were made from is kept once for all plans of the same data, and every plan still has its own. */
import Database from 'better-sqlite3'
import { createHash } from 'node:crypto'
import { expect, test } from 'vitest'
import { migrations } from '../../migrations/index.ts'
import { migrate } from '../../src-main/engine/db/migrate.ts'
import { farmOf, freeSeason, quick } from '../support/order-farm.ts'

const hashOf = (text: string) => createHash('sha256').update(text).digest('hex')

test('plans of one season share it, others keep theirs, and no plan loses its input', () => {
  const connection = new Database(':memory:')
  const before = migrations.filter(({ version }) => version < 90)
  for (const { sql, version } of before) connection.exec(`${sql}; PRAGMA user_version = ${version}`)
  connection.exec(`INSERT INTO farm (id, name, createdAt) VALUES (1, 'Any', '2027-01-02T00:00:00.000Z');
    INSERT INTO season (id, farmId, year) VALUES (1, 1, 2027)`)
  const insert = connection.prepare(
    `INSERT INTO plan (seasonId, madeAt, status, proof, input, inputHash) VALUES (1, '2027-01-20T10:00:00.000Z', 'proven', '{}', ?, ?)`,
  )
  const seasons = ['{"a":1}', '{"a":2}', '{"a":1}']
  for (const season of seasons) insert.run(season, hashOf(season))
  migrate(connection, () => undefined)
  expect(connection.prepare('SELECT season FROM plan_input ORDER BY id').pluck().all()).toEqual(['{"a":1}', '{"a":2}'])
  const inputs = connection
    .prepare('SELECT season FROM plan JOIN plan_input ON hash = inputHash ORDER BY plan.id')
    .pluck()
    .all()
  expect(inputs).toEqual(seasons)
  expect(connection.pragma('table_info(plan)')).not.toContainEqual(expect.objectContaining({ name: 'input' }))
})

test('two solves of the same farm keep one input, without outlines of fields', async () => {
  const square = {
    type: 'Polygon',
    coordinates: [
      [
        [-83, 31],
        [-83, 31.01],
        [-82.99, 31.01],
        [-82.99, 31],
        [-83, 31],
      ],
    ],
  }
  const season = freeSeason((same) => ({
    ...same,
    fields: same.fields.map((field) => ({ ...field, boundary: square as never })),
  }))
  const { must, engine } = farmOf(season)
  await must('plan.solve', quick)
  await must('plan.solve', quick)
  const kept = engine.farm!.connection.prepare('SELECT season FROM plan_input').pluck().all() as string[]
  expect(kept).toHaveLength(1)
  expect(kept[0]).not.toContain('Polygon')
  expect((await must('plan.latest', {}))?.isStale).toBe(false)
})
