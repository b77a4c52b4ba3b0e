/** Step 101: what was written and never read goes, and nothing else; plans keep their blocks and their proof in themselves. */
import { copyFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { openFarm } from '../../src-main/engine/farm-file.ts'
import { engineAt } from '../support/engine.ts'
import { temporaryFolder } from '../support/open-file.ts'

test.each(['60.farm', '90.farm'])('%s: its tables are gone, its plan and its book are whole', async (name) => {
  const home = temporaryFolder()
  copyFileSync(new URL(`./kept/${name}`, import.meta.url), join(home, 'Kept.farm'))
  const opened = openFarm(join(home, 'Kept.farm'))
  if (!opened.ok) throw new Error(JSON.stringify(opened.problems))
  const { connection } = opened.value
  const { engine, must, bugs, close } = engineAt(home)
  engine.farm = opened.value
  onTestFinished(close)
  const tables = connection.prepare(`SELECT name FROM sqlite_schema WHERE type = 'table'`).pluck().all()
  for (const table of ['programme', 'programme_measure', 'plan_block']) expect(tables).not.toContain(table)
  expect(connection.pragma('foreign_key_check')).toEqual([])
  const past = (await must('season.list', {})).find(({ isOpen }) => !isOpen)!
  await must('season.open', { id: past.id })
  const latest = (await must('plan.latest', {}))!
  expect(latest.plan!.blocks.length).toBeGreaterThan(5)
  expect(latest.proof.status).toMatch(/proven|within/)
  expect(latest.plan!.totals.costCents).toBe(latest.proof.costCents)
  expect((await must('orders.list', {})).differences).toEqual([])
  const open = (await must('season.list', {})).find(({ isOpen }) => isOpen)!
  await must('season.open', { id: open.id })
  await must('book.set', { key: 'germination/warn below', value: 0.8 } as never)
  const rows = (await must('book.list', {})).flatMap((topic) => topic.rows as { key: string; isOwn?: boolean }[])
  expect(rows.some(({ key }) => key === 'germination/warn below')).toBe(true)
  expect(bugs).toEqual([])
})
