/** Opening the demo farm: fresh each time, and never in place of what a person has entered. */
import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { startTestEngine, type TestEngine } from '../support/engine.ts'

function host(): TestEngine {
  const engine = startTestEngine()
  onTestFinished(() => engine.close())
  return engine
}

test('the demo is fresh each time, and spares a farm that only bears its name', async () => {
  const { must, engine } = host()
  const mine = await must('farm.start', { name: 'Demo farm', season: 2027 })
  expect(mine.fileName).toBe('Demo farm.farm')
  const demo = await must('farm.openDemo', {})
  expect(demo).toMatchObject({ fileName: 'Demo farm 2.farm', isDemo: true })
  await must('farm.close', {})
  expect(await must('farm.openDemo', {})).toEqual(demo)
  // Of the season that is planned on the day it is opened.
  expect(await must('farm.openDemo', { today: '2031-11-02' })).toMatchObject({
    season: 2032,
    seasons: [{ year: 2032 }],
  })
  expect((await must('quote.list', {})).map(({ orderBy }) => orderBy?.slice(0, 4))).not.toContain('2027')
  expect(existsSync(join(engine.home, 'Demo farm.farm'))).toBe(true)
})

test('a demo with own entries is kept, with its backups, when the demo is opened again', async () => {
  const { must, engine } = host()
  await must('farm.openDemo', {})
  const [first] = await must('field.list', {})
  const cells = [{ id: first!.id, path: 'acres', value: 1.5 }]
  await must('sheet.change', { sheet: 'field', says: 'Change Planted', cells })
  const fresh = await must('farm.openDemo', {})
  expect(fresh.fileName).toBe('Demo farm 2.farm')
  expect(await must('undo.state', {})).toEqual({ back: null, forward: null })
  expect(existsSync(join(engine.home, 'Demo farm backups'))).toBe(true)
  // Closed or open, changed or not: only the unchanged one is made anew.
  await must('farm.close', {})
  expect((await must('farm.openDemo', { today: '2027-11-20', harvested: true })).fileName).toBe('Demo farm 2.farm')
  expect((await must('farm.openDemo', {})).fileName).toBe('Demo farm 2.farm')
  await must('farm.open', { fileName: 'Demo farm.farm' })
  expect((await must('field.list', {})).find(({ id }) => id === first!.id)?.acres).toBe(1.5)
})
