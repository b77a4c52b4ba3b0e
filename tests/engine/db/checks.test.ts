/** The tables refuse by themselves what the schemas of src-shared refuse: the last line when a caller forgets. */
import { expect, test } from 'vitest'
import { newFarm } from '../../support/open-file.ts'

test.each([
  ['acres of nothing', 'UPDATE field_season SET acres = 0'],
  ['negative acres', 'UPDATE field_season SET acres = -1'],
  ['acres as words', `UPDATE field_season SET acres = 'many'`],
  ['a row pattern of its own', `UPDATE field_season SET rowPattern = 'triple'`],
  ['a drop without an amount', 'UPDATE field_season SET dropPerFoot = NULL WHERE dropKind IS NOT NULL'],
  ['a stand of more than 20 a foot', `UPDATE field_season SET dropPerFoot = 21 WHERE dropKind = 'stand'`],
  ['a price with a fraction of a cent', 'UPDATE quote SET packPriceCents = 12.5'],
  ['a negative price', 'UPDATE quote SET packPriceCents = -1'],
  ['a day that does not exist', `UPDATE quote SET orderBy = '2027-02-30'`],
  ['a day without its zero', `UPDATE quote SET orderBy = '2027-2-3'`],
  ['a day of the year that does not exist', `UPDATE planting_window SET opens = '04-31'`],
  ['germination in per cent', 'UPDATE variety SET germination = 85'],
  ['a rating of ten', 'UPDATE rating SET rating = 10'],
  ['half a day to maturity', 'UPDATE variety SET daysToMaturity = 140.5'],
  ['two varieties of one name', `UPDATE variety SET name = 'AMBER' WHERE name = 'Bison'`],
  ['two quotes of one title', `UPDATE quote SET name = 'early order' WHERE name = 'late order'`],
  ['a name of blanks', `UPDATE field SET name = ' '`],
  ['an exclusion of nothing', 'UPDATE exclusion SET fieldSeasonId = NULL, varietyId = NULL, windowId = NULL'],
  ['an assumption that is number and word', `UPDATE assumption SET numberValue = 1, wordValue = 'x'`],
  ['a rule about two things', 'UPDATE house_rule SET varietyId = 1, threatId = 1'],
  ['a reference to nothing', 'UPDATE quote SET dealerId = 999'],
  ['a boundary that is no geometry', `UPDATE field_boundary SET geometry = '{"type":"Point"}'`],
  ['two open seasons', 'INSERT INTO season (farmId, year) VALUES (1, 2028)'],
  ['a second farm', `INSERT INTO farm (id, name, createdAt) VALUES (2, 'B', '2027-01-01T00:00:00.000Z')`],
  [
    'a tare above the gross',
    `INSERT INTO load (fieldSeasonId, hauledOn, grossPounds, tarePounds) VALUES (1, '2027-09-20', 10, 11)`,
  ],
  [
    'more sprouts than seeds',
    'INSERT INTO germination_replicate (germinationTestId, ordinal, seeds, sprouted) VALUES (1, 1, 100, 101)',
  ],
])('refused: %s', (_name, sql) => {
  const { connection } = newFarm()
  expect(() => connection.exec(sql)).toThrow(/constraint|datatype mismatch|cannot store/i)
})

test('a lot that was planted is kept, whatever is deleted around it; one that was not can go', () => {
  const { connection } = newFarm()
  connection.exec(`
    INSERT INTO lot (id, seasonId, varietyId, lotNumber, pounds) VALUES (1, 1, 1, 'A-1', 2000), (2, 1, 1, 'A-2', 2000);
    INSERT INTO planting (id, fieldSeasonId, isFinished, plantedOn, acres) VALUES (1, 1, 1, '2027-05-03', 20);
    INSERT INTO planting_lot (plantingId, lotId, pounds) VALUES (1, 1, 1900)`)
  expect(() => connection.exec('DELETE FROM lot WHERE id = 1')).toThrow('a lot that was planted is kept')
  expect(() => connection.exec('DELETE FROM variety WHERE id = 1')).toThrow(/constraint/i)
  expect(() => connection.exec('DELETE FROM field WHERE id = 1')).toThrow(/constraint/i)
  expect(() => connection.exec('DELETE FROM season')).toThrow()
  connection.exec('DELETE FROM lot WHERE id = 2')
  expect(connection.prepare('SELECT lotNumber FROM lot').pluck().all()).toEqual(['A-1'])
})

test('renaming and removing reach what refers to a thing', () => {
  const { connection } = newFarm()
  connection.exec(`DELETE FROM variety WHERE name = 'Amber'`)
  const left = (table: string) => connection.prepare(`SELECT count(*) FROM "${table}"`).pluck().get()
  expect([left('field_lock'), left('quote'), left('house_rule')]).toEqual([0, 3, 3])
  expect(connection.pragma('foreign_key_check')).toEqual([])
})
