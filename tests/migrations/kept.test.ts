/**
 * Files that earlier versions really wrote, kept as they were: each still opens, is brought up to date and holds what it
 * held. And the steps that made them: released, they are never edited again. A kept file is never made anew.
 */
import { createHash } from 'node:crypto'
import { copyFileSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { latestVersion, migrations } from '../../migrations/index.ts'
import { backupFolder } from '../../src-main/engine/backup-path.ts'
import { listBackups } from '../../src-main/engine/backups.ts'
import { findDamage, readClosed, type Connection } from '../../src-main/engine/db/connect.ts'
import { isUnchanged } from '../../src-main/engine/db/copy.ts'
import { markOf } from '../../src-main/engine/db/mark.ts'
import { versionOf } from '../../src-main/engine/db/migrate.ts'
import { hasOwnSchema } from '../../src-main/engine/db/schema.ts'
import { openFarm } from '../../src-main/engine/farm-file.ts'
import { engineAt } from '../support/engine.ts'
import { newFarm, temporaryFolder } from '../support/open-file.ts'
import golden from './kept/golden.json' with { type: 'json' }

const kept = new URL('./kept/', import.meta.url)
const files = readdirSync(kept).filter((name) => name.endsWith('.farm'))

test('there is a file of every version that was released, and no released step has been edited', () => {
  const released = golden.steps as Record<string, string>
  expect(files.map((name) => Number.parseInt(name, 10))).toEqual(golden.versions)
  for (const { version, sql } of migrations) {
    if (!(version in released)) continue
    expect(createHash('sha256').update(sql).digest('hex'), `step ${version} was edited`).toBe(released[version])
  }
  // A step beyond those is new: it is added to the list when a version with it is given out.
  expect(Math.max(...Object.keys(released).map(Number))).toBeLessThanOrEqual(latestVersion)
})

test.each(files)('%s', async (name) => {
  const home = temporaryFolder()
  const path = join(home, 'Kept.farm')
  copyFileSync(new URL(name, kept), path)
  const opened = openFarm(path)
  if (!opened.ok) throw new Error(JSON.stringify(opened.problems))
  const { connection } = opened.value
  expect(versionOf(connection)).toBe(latestVersion)
  expect(findDamage(connection, path)).toEqual([])
  expect(hasOwnSchema(connection)).toBe(true)
  const { engine, must, bugs, close } = engineAt(home)
  engine.farm = opened.value
  onTestFinished(close)
  const before = golden.totals[name as keyof typeof golden.totals]
  const seasons = await must('season.list', {})
  const past = seasons.find(({ isOpen }) => !isOpen)
  await must('season.open', { id: past!.id })
  const orders = await must('orders.list', {})
  const loads = await must('load.list', {})
  const review = await must('review.now', {})
  expect({
    years: seasons.map(({ year }) => year),
    acres: seasons.map(({ acres }) => acres),
    packs: orders.orders.flatMap(({ lines }) => lines).reduce((sum, line) => sum + line.packs, 0),
    loads: loads.length,
    valueCents: loads.reduce((sum, { valueCents }) => sum + (valueCents ?? 0), 0),
    costCents: review.money.field.total.costCents,
    plantings: (await must('planting.list', {})).plantings.length,
    lots: (await must('trace.list', {})).lots.length,
  }).toEqual(before)
  expect(bugs).toEqual([])
})

/** What step 101 took away: written once, and never read; and days of windows, which weeks have since step 140. */
const dead = /^(programme|programme_measure|plan_block)$/
const deadColumns = ['isChangedByUser', 'status', 'costCents', 'boundCents', 'gap', 'fitDays']
const alive = (table: string, row: unknown) =>
  Object.fromEntries(
    Object.entries(row as object).filter(
      ([column]) => !deadColumns.includes(column) || !['assumption', 'plan', 'planting_window'].includes(table),
    ),
  )

/** Every row of every table but the record of undo, which a migration empties. A plan has its season as `input`, wherever it is kept. */
function rowsOf(connection: Connection): Record<string, unknown[]> {
  const all = connection
    .prepare(`SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name`)
    .pluck()
    .all() as string[]
  const tables = all.filter((name) => !/^(undo_|file_mark)/.test(name))
  const select = (name: string) =>
    name === 'plan' && all.includes('plan_input')
      ? 'SELECT plan.*, season AS input FROM plan JOIN plan_input ON hash = inputHash ORDER BY plan.id'
      : `SELECT * FROM "${name}" ORDER BY id`
  return Object.fromEntries(tables.map((name) => [name, connection.prepare(select(name)).all()]))
}

/** Step 110 takes one rule away, for yield counts without it, and changes what another's amount means. */
function rulesOfNow(rows: { rule: string }[]): { rule: string }[] {
  return rows.flatMap((row) => {
    if (row.rule === 'count-give-up') return []
    return row.rule === 'leave-out' ? [{ ...row, rule: 'may-rest', amount: 0 }] : [row]
  })
}

test.each(files)('%s keeps every row as it was written, and its backup of before is whole', (name) => {
  const path = join(temporaryFolder(), 'Kept.farm')
  copyFileSync(new URL(name, kept), path)
  const before = readClosed(path, rowsOf)
  expect(Object.values(before ?? {}).flat().length).toBeGreaterThan(500)
  const opened = openFarm(path)
  if (!opened.ok) throw new Error(JSON.stringify(opened.problems))
  const after = rowsOf(opened.value.connection)
  for (const [table, rows] of Object.entries(before ?? {})) {
    if (dead.test(table)) expect(after).not.toHaveProperty(table)
    else {
      const expected = table === 'house_rule' ? rulesOfNow(rows as { rule: string }[]) : rows
      expect(after[table], table).toMatchObject(expected.map((row) => alive(table, row)))
    }
  }
  // Every fit day of a window stands in some week.
  const days = (of: unknown[] | undefined, column: string) =>
    (of ?? []).reduce((sum: number, row) => sum + Number((row as Record<string, unknown>)[column] ?? 0), 0)
  expect(days(after['season_week'], 'plantingDays')).toBeCloseTo(days(before?.['planting_window'], 'fitDays'), 0)
  opened.value.close()
  const [backup] = listBackups(path)
  expect(backup?.reason).toBe('before a newer version')
  const copy = join(backupFolder(path), backup?.fileName ?? '')
  expect(isUnchanged(copy)).toBe(true)
  expect(readClosed(copy, rowsOf)).toEqual(before)
})

test('60.farm and the journal that a killed engine of its version left: what was in it is there', async () => {
  const home = temporaryFolder()
  for (const ending of ['', '-wal']) copyFileSync(new URL(`60.farm${ending}`, kept), join(home, `Kept.farm${ending}`))
  const { must, bugs, close } = engineAt(home)
  onTestFinished(close)
  await must('farm.open', { fileName: 'Kept.farm' })
  const fields = await must('field.list', {})
  expect(fields.find(({ name }) => name === 'Alder Forty')?.acres).toBe(123.5)
  expect(fields.map(({ name }) => name)).toContain('In the journal')
  expect((await must('backup.list', {})).aside).toEqual([])
  expect(bugs).toEqual([])
})

test('two copies of one older file are the same farm, and two farms are not', () => {
  const idOf = (name: string) => {
    const path = join(temporaryFolder(), 'Kept.farm')
    copyFileSync(new URL(name, kept), path)
    const opened = openFarm(path)
    if (!opened.ok) throw new Error(JSON.stringify(opened.problems))
    const mark = markOf(opened.value.connection)
    opened.value.close()
    return mark?.farmId
  }
  expect(idOf('60.farm')).toBe(idOf('60.farm'))
  expect(idOf('60.farm')).toMatch(/^farm-[0-9a-f]{32}$/)
  expect(markOf(newFarm().connection)?.farmId).not.toBe(markOf(newFarm().connection)?.farmId)
})
