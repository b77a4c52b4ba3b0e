/** Step 100: which rows the names in a plan mean is written down for the plans and drafts that are there already. */
import Database from 'better-sqlite3'
import { copyFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { migrations } from '../../migrations/index.ts'
import { migrate } from '../../src-main/engine/db/migrate.ts'
import { renamedSince, namesNow } from '../../src-main/engine/db/names.ts'
import { openFarm } from '../../src-main/engine/farm-file.ts'
import { engineAt } from '../support/engine.ts'
import { temporaryFolder } from '../support/open-file.ts'

function before100() {
  const connection = new Database(':memory:')
  for (const { sql, version } of migrations.filter((step) => step.version < 100))
    connection.exec(`${sql}; PRAGMA user_version = ${version}`)
  connection.exec(`INSERT INTO farm (id, name, createdAt) VALUES (1, 'Any', '2027-01-02T00:00:00.000Z');
    INSERT INTO season (id, farmId, year) VALUES (1, 1, 2027)`)
  return connection
}

test('does nothing where there is no plan, and leaves an input that no plan has', () => {
  const connection = before100()
  connection.exec(`INSERT INTO plan_input (hash, season) VALUES ('${'a'.repeat(64)}', '{}')`)
  migrate(connection, () => undefined)
  expect(connection.prepare('SELECT names FROM plan_input').pluck().all()).toEqual(['{}'])
})

test('takes the names of then from the blocks that were written down, and else those of today', () => {
  const connection = before100()
  const hash = 'b'.repeat(64)
  connection.exec(`INSERT INTO field (id, farmId, name) VALUES (5, 1, 'Creek'), (6, 1, 'Hill');
    INSERT INTO field_season (id, fieldId, seasonId, acres, rowSpacingIn, rowPattern, water, yieldGoalLb)
      VALUES (50, 5, 1, 40, 36, 'twin', 'dryland', 4000), (60, 6, 1, 40, 36, 'twin', 'dryland', 4000);
    INSERT INTO variety (id, seasonId, name, seedsPerPound, vine, daysToMaturity) VALUES (7, 1, 'Amber', 650, 'medium', 140);
    INSERT INTO dealer (id, seasonId, name) VALUES (8, 1, 'North Seed');
    INSERT INTO draft (id, seasonId, name, createdAt) VALUES (9, 1, 'Cautious', '2027-01-20T10:00:00.000Z');
    INSERT INTO plan_input (hash, season) VALUES ('${hash}', '{}');
    INSERT INTO plan (id, seasonId, madeAt, status, proof, inputHash)
      VALUES (1, 1, '2027-01-20T10:00:00.000Z', 'proven', '{}', '${hash}');
    INSERT INTO plan_block (planId, fieldSeasonId, varietyId, field, variety, window, programme, acres, poundsPerAcre, pounds,
        cashCents, lossCents, vineCents, giveUpCents)
      VALUES (1, 50, 7, 'Crek', 'Amber', 'Usual', '[]', 40, 120, 4800, 0, 0, 0, 0)`)
  migrate(connection, () => undefined)
  const names = (table: string) => JSON.parse(connection.prepare(`SELECT names FROM ${table}`).pluck().get() as string)
  const today = { variety: { 7: 'Amber' }, dealer: { 8: 'North Seed' }, window: {}, measure: {} }
  expect(names('plan_input')).toEqual({ field: { 5: 'Crek', 6: 'Hill' }, ...today })
  expect(names('draft')).toEqual({ field: { 5: 'Creek', 6: 'Hill' }, ...today })
})

test.each(['60.farm', '90.farm'])(
  '%s: its plans are those of its rows, and a rename changes none of them',
  async (name) => {
    const home = temporaryFolder()
    copyFileSync(new URL(`./kept/${name}`, import.meta.url), join(home, 'Kept.farm'))
    const opened = openFarm(join(home, 'Kept.farm'))
    if (!opened.ok) throw new Error(JSON.stringify(opened.problems))
    const { engine, must, bugs, close } = engineAt(home)
    engine.farm = opened.value
    onTestFinished(close)
    const { connection, db } = opened.value
    const stored = connection
      .prepare('SELECT plan.seasonId, plan_input.names FROM plan JOIN plan_input ON hash = inputHash')
      .all() as { seasonId: number; names: string }[]
    expect(stored.length).toBeGreaterThan(0)
    for (const { seasonId, names } of stored) expect(renamedSince(names, await namesNow(db, seasonId))).toBeNull()
    const past = (await must('season.list', {})).find(({ isOpen }) => !isOpen)!
    await must('season.open', { id: past.id })
    const before = (await must('plan.latest', {}))!
    const { field } = before.plan!.blocks[0]!
    // A field is the farm's: its name can be corrected in the season that is open now.
    const open = (await must('season.list', {})).find(({ isOpen }) => isOpen)!
    await must('season.open', { id: open.id })
    const row = (await must('field.list', {})).find((each) => each.name === field)!
    const cells = [{ id: row.id, path: 'name', value: 'Corrected' }]
    await must('sheet.change', { sheet: 'field', says: 'Rename', cells })
    await must('season.open', { id: past.id })
    const after = (await must('plan.latest', {}))!
    expect(after.isStale).toBe(before.isStale)
    expect(after.changes).toEqual(before.changes)
    expect(after.plan!.blocks[0]!.field).toBe('Corrected')
    expect(after.plan!.totals).toEqual(before.plan!.totals)
    expect(bugs).toEqual([])
  },
)
