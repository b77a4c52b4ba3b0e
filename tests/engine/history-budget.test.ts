/** Undo within its limits, pictures once and outside of it, and a file that is no larger than what is in it once it is closed. */
import { createHash } from 'node:crypto'
import { statSync } from 'node:fs'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { createFarm, openFarm } from '../../src-main/engine/farm-file.ts'
import { pruneUndo } from '../../src-main/engine/db/undo.ts'
import { undoLimits } from '../../src-shared/farm.ts'
import { addField, ownFarm } from '../support/own-farm.ts'
import { startTestEngine, type TestEngine } from '../support/engine.ts'
import { smallSeason } from '../support/open-file.ts'

/** [byte] that a farm without pictures takes at most here. */
const small = 3_000_000

function smallFarm(): TestEngine {
  const host = startTestEngine()
  onTestFinished(() => host.close())
  const made = createFarm(join(host.engine.home, 'Creek.farm'), smallSeason())
  if (!made.ok) throw new Error(JSON.stringify(made.problems))
  host.engine.farm = made.value
  return host
}

function lotOf({ engine }: TestEngine, number = 'A 1'): number {
  const insert = engine.farm!.connection.prepare(
    'INSERT INTO lot (seasonId, varietyId, lotNumber, pounds) VALUES (1, 1, ?, 2000) RETURNING id',
  )
  return insert.pluck().get(number) as number
}

function picture(seed: number, size = 5_000_000): { name: string; base64: string } {
  const bytes = Buffer.alloc(size)
  for (let at = 0; at < size; at += 32) createHash('sha256').update(`${seed} ${at}`).digest().copy(bytes, at)
  Buffer.from('ffd8ffe000104a464946', 'hex').copy(bytes)
  return { name: 'tag.jpg', base64: bytes.toString('base64') }
}

test('a picture added and removed five times leaves the file as large as one picture, and none once undo forgets', async () => {
  const farm = smallFarm()
  const lotId = lotOf(farm)
  const { path } = farm.engine.farm!
  for (let n = 0; n < 5; n += 1) {
    const id = await farm.must('tag.addPhoto', { lotId, file: picture(1) })
    await farm.must('tag.removePhoto', { id })
  }
  await farm.must('undo.back', {})
  const [photo] = farm.engine.farm!.connection.prepare('SELECT id FROM tag_photo').pluck().all() as number[]
  expect((await farm.must('tag.photo', { id: photo! })).base64).toBe(picture(1).base64)
  await farm.must('undo.forward', {})
  await farm.must('farm.close', {})
  // Undo still brings it back.
  expect(statSync(path).size).toBeLessThan(5_000_000 + small)
  const opened = openFarm(path)
  if (!opened.ok) throw new Error(JSON.stringify(opened.problems))
  opened.value.connection.exec('DELETE FROM undo_step')
  opened.value.close()
  await farm.must('farm.open', { fileName: 'Creek.farm' })
  await farm.must('farm.close', {})
  expect(statSync(path).size).toBeLessThan(small)
})

test('the same picture on two lots is kept once, and stays while one of them has it', async () => {
  const farm = smallFarm()
  const lots = [lotOf(farm), lotOf(farm, 'A 2')]
  const ids = []
  for (const lotId of lots) ids.push(await farm.must('tag.addPhoto', { lotId, file: picture(2) }))
  const { connection } = farm.engine.farm!
  expect(connection.prepare('SELECT count(*) FROM photo_content').pluck().get()).toBe(1)
  await farm.must('tag.removePhoto', { id: ids[0]! })
  connection.exec('DELETE FROM undo_step')
  await farm.must('farm.close', {})
  await farm.must('farm.open', { fileName: 'Creek.farm' })
  expect((await farm.must('tag.photo', { id: ids[1]! })).base64).toBe(picture(2).base64)
})

test('a picture whose bytes are not in the file is told, and is no bug', async () => {
  const farm = smallFarm()
  const id = await farm.must('tag.addPhoto', { lotId: lotOf(farm), file: picture(3, 2000) })
  farm.engine.farm!.connection.exec('DELETE FROM photo_content')
  expect(await farm.call('tag.photo', { id })).toMatchObject({ ok: false, problems: [{ code: 'missing' }] })
  expect(farm.bugs).toEqual([])
})

test('undo keeps within its bytes, keeps the last step whatever its size, and the file shrinks on closing', async () => {
  const farm = await ownFarm()
  for (let n = 0; n < 40; n += 1) await addField(farm, `Field ${n}`)
  const ids = (await farm.must('field.list', {})).map(({ id }) => id)
  const { connection, path } = farm.engine.farm!
  // Notes of 2,000 letters over 40 fields: 160 kB of undo a paste, as wide rows of a large farm are.
  const paste = (n: number) =>
    farm.must('sheet.change', {
      sheet: 'field',
      says: `Paste ${n}`,
      cells: ids.map((id) => ({ id, path: 'note', value: `${n} ${'x'.repeat(1980)}` })),
    })
  for (let n = 0; n < 300; n += 1) await paste(n)
  const kept = connection.prepare('SELECT count(*), sum(size) FROM undo_step').raw().get() as [number, number]
  expect(kept[1]).toBeLessThanOrEqual(undoLimits.bytes)
  expect(kept[1]).toBeGreaterThan(undoLimits.bytes * 0.9)
  expect(kept[0]).toBeLessThan(300)
  await farm.must('undo.back', {})
  expect((await farm.must('field.list', {}))[0]?.note).toMatch(/^298 /)
  await farm.must('undo.forward', {})
  connection
    .prepare('UPDATE undo_step SET size = ? WHERE id = (SELECT max(id) FROM undo_step)')
    .run(undoLimits.bytes * 2)
  await paste(301)
  connection
    .prepare('UPDATE undo_step SET size = ? WHERE id = (SELECT max(id) FROM undo_step)')
    .run(undoLimits.bytes * 2)
  pruneUndo(connection, new Date())
  expect((await farm.must('undo.state', {})).back).toBe('Paste 301')
  expect(connection.prepare('SELECT count(*) FROM undo_step').pluck().get()).toBe(1)
  await farm.must('farm.close', {})
  expect(statSync(path).size).toBeLessThan(small)
})

test('undo forgets what is older than a year when the farm is closed', async () => {
  const farm = await ownFarm()
  await addField(farm, 'Old')
  await addField(farm, 'New')
  const old = new Date(Date.now() - (undoLimits.days + 1) * 86_400_000).toISOString()
  farm.engine.farm!.connection.prepare('UPDATE undo_step SET madeAt = ? WHERE id = 1').run(old)
  await farm.must('farm.close', {})
  await farm.must('farm.open', { fileName: 'Creek.farm' })
  expect(await farm.must('undo.back', {})).toEqual({ back: null, forward: 'Add a field' })
})

test('undo of one column notes that column alone', async () => {
  const farm = await ownFarm()
  await addField(farm, 'Hill')
  const [field] = await farm.must('field.list', {})
  await farm.must('sheet.change', {
    sheet: 'field',
    says: 'Type',
    cells: [{ id: field!.id, path: 'acres', value: 41.25 }],
  })
  const { connection } = farm.engine.farm!
  const noted = connection.prepare('SELECT before, after FROM undo_change ORDER BY id DESC LIMIT 1').raw().get()
  expect(noted).toEqual(['{"acres":40.0}', '{"acres":41.25}'])
})
