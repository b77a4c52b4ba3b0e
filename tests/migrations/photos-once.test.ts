/** Step 80 on a file of step 60: each picture's bytes once, every row still with its own, and undo steps that know their size. */
import { createHash } from 'node:crypto'
import { expect, test } from 'vitest'
import { migrations } from '../../migrations/index.ts'
import { createDatabase } from '../../src-main/engine/db/connect.ts'
import { migrate } from '../../src-main/engine/db/migrate.ts'

test('keeps each picture once and gives every row its bytes and their size', () => {
  const connection = createDatabase(':memory:')
  migrate(
    connection,
    () => undefined,
    migrations.filter(({ version }) => version <= 60),
  )
  // By hand: the store of now writes columns that a file of step 60 has not.
  connection.exec(`
    INSERT INTO farm (id, name, createdAt) VALUES (1, 'Creek', '2027-01-01T00:00:00.000Z');
    INSERT INTO season (id, farmId, year) VALUES (1, 1, 2027);
    INSERT INTO variety (id, seasonId, name, seedsPerPound, vine, daysToMaturity) VALUES (1, 1, 'Amber', 650, 'medium', 140);
  `)
  connection.exec(`INSERT INTO lot (id, seasonId, varietyId, lotNumber, pounds) VALUES (1, 1, 1, 'A-1', 2000)`)
  const bytes = ['one', 'one', 'two, longer'].map((text) => Buffer.from(text))
  const hash = (each: Buffer) => createHash('sha256').update(each).digest('hex')
  const insert = connection.prepare(
    `INSERT INTO tag_photo (lotId, fileName, mediaType, bytes, sha256) VALUES (1, ?, 'image/png', ?, ?)`,
  )
  bytes.forEach((each, at) => insert.run(`${at}.png`, each, hash(each)))
  migrate(connection, () => undefined)
  const rows = connection
    .prepare(
      `SELECT fileName, size, photo_content.bytes FROM tag_photo JOIN photo_content USING (sha256) ORDER BY tag_photo.id`,
    )
    .all()
  expect(rows).toEqual(bytes.map((each, at) => ({ fileName: `${at}.png`, size: each.length, bytes: each })))
  expect(connection.prepare('SELECT count(*) FROM photo_content').pluck().get()).toBe(2)
  expect(connection.pragma('integrity_check', { simple: true })).toBe('ok')
})
