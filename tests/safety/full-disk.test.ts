/** A database that may not grow, as on a full disk: what fails is told and wholly undone, what was there stays, and room helps. */
import { expect, onTestFinished, test } from 'vitest'
import { findDamage } from '../../src-main/engine/db/connect.ts'
import type { Connection } from '../../src-main/engine/db/connect.ts'
import { undoState } from '../../src-main/engine/db/undo.ts'
import { startTestEngine } from '../support/engine.ts'
import { dumpOf } from '../support/open-file.ts'

/** No page more than there are, and `more`. */
function fill(connection: Connection, more: number): void {
  const pages = connection.pragma('page_count', { simple: true }) as number
  connection.pragma(`max_page_count = ${pages + more}`)
}

const rows = (count: number) => ({
  sheet: 'field' as const,
  says: `Add ${count} fields`,
  added: Array.from({ length: count }, (_, key) => ({
    key,
    values: { name: `Field ${count}-${key}`, acres: 40, water: 'dryland', yieldGoalLb: 4000, note: 'x'.repeat(300) },
  })),
})

test.each([0, 1, 2, 3, 5, 8, 13, 21, 34, 55])('with %i pages left', async (more) => {
  const host = startTestEngine()
  onTestFinished(() => host.close())
  await host.must('farm.start', { name: 'Full', season: 2027 })
  const { connection, path } = host.engine.farm!
  fill(connection, more)
  let refused = 0
  for (let count = 20; count < 400 && refused === 0; count += 20) {
    const before = JSON.stringify(dumpOf(connection))
    const undo = undoState(connection)
    const reply = await host.call('sheet.change', rows(count))
    if (reply.ok) continue
    refused += 1
    expect(reply.problems[0]).toMatchObject({ code: 'bad-file', remedy: expect.stringMatching(/room/) })
    expect(JSON.stringify(dumpOf(connection))).toBe(before)
    expect(undoState(connection)).toEqual(undo)
  }
  expect(refused).toBe(1)
  expect(findDamage(connection, path)).toEqual([])
  // Room again: the same goes through, and can be taken back.
  connection.pragma('max_page_count = 1073741823')
  await host.must('sheet.change', rows(200))
  await host.must('undo.back', {})
  expect(host.bugs).toEqual([])
})
