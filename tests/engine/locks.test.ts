/** What is held fixed: a field for a variety, acres of it in a planting week. */
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { createFarm } from '../../src-main/engine/farm-file.ts'
import { readLocks } from '../../src-main/engine/locks.ts'
import { startTestEngine, type TestEngine } from '../support/engine.ts'
import { smallSeason } from '../support/open-file.ts'

function smallFarm(): TestEngine {
  const host = startTestEngine()
  onTestFinished(() => host.close())
  const made = createFarm(join(host.engine.home, 'Small.farm'), smallSeason())
  if (!made.ok) throw new Error(JSON.stringify(made.problems))
  host.engine.farm = made.value
  return host
}

test('a lock is set, replaced and released', async () => {
  const { must } = smallFarm()
  const held = async () => (await must('field.list', {})).map((row) => row.lockedTo)
  await must('lock.set', { fieldId: 1, variety: 'Cedar' })
  await must('lock.set', { fieldId: 2, variety: 'Bison' })
  expect(await held()).toEqual(['Cedar', 'Bison', null])
  await must('lock.set', { fieldId: 1, variety: null })
  expect(await held()).toEqual([null, 'Bison', null])
})

test('acres are kept in a week, kept in another, and let go, each taken back', async () => {
  const { must, engine } = smallFarm()
  const held = async () => (await readLocks(engine.farm!.db, engine.farm!.seasonId)).filter(({ week }) => week)
  const block = { fieldId: 1, variety: 'Cedar', from: '2027-05-03' }
  await must('calendar.keep', { ...block, week: '2027-05-10', acres: 40 })
  const first = await held()
  expect(first).toEqual([{ field: 'Creek Bottom', variety: 'Cedar', week: '2027-05-10', acres: 40 }])
  // A field of which acres are kept in a week is not locked whole.
  expect((await must('field.list', {}))[0]?.lockedTo).toBeNull()
  // The same part once more, from the week in which the plan in hand still has it; and another part beside it.
  await must('calendar.keep', { ...block, week: '2027-05-17', acres: 40 })
  await must('calendar.keep', { ...block, from: '2027-05-24', week: '2027-05-31', acres: 8 })
  expect((await held()).map(({ week, acres }) => [week, acres])).toEqual([
    ['2027-05-17', 40],
    ['2027-05-31', 8],
  ])
  await must('calendar.letGo', { fieldId: 1, variety: 'Cedar', week: '2027-05-17' })
  expect((await held()).map(({ week }) => week)).toEqual(['2027-05-31'])
  for (let step = 0; step < 3; step += 1) await must('undo.back', {})
  expect(await held()).toEqual(first)
  // A variety that the whole field was kept for gives way to acres of another; a lock of the field to both.
  await must('lock.set', { fieldId: 1, variety: 'Amber' })
  expect(await held()).toEqual([])
  await must('calendar.keep', { ...block, week: '2027-05-10', acres: 40 })
  expect(await readLocks(engine.farm!.db, engine.farm!.seasonId)).toContainEqual(first[0])
  expect((await must('field.list', {}))[0]?.lockedTo).toBeNull()
})
