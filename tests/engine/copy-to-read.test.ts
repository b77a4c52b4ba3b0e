/** A farm that is open elsewhere, looked at: what can be done in a copy of it, and what would be lost with the copy. */
import { symlinkSync } from 'node:fs'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { startTestEngine } from '../support/engine.ts'
import { addField, fieldsOf, ownFarm } from '../support/own-farm.ts'

test('a farm that another Standwell has open is offered as a copy to look at: its newest backup, not to be changed', async () => {
  const host = await ownFarm()
  await addField(host, 'North')
  const second = startTestEngine()
  onTestFinished(() => second.close())
  symlinkSync(host.engine.farm!.path, join(second.engine.home, 'Creek.farm'))
  const refused = await second.call('farm.open', { fileName: 'Creek.farm' })
  expect(refused).toMatchObject({ ok: false, problems: [{ code: 'in-use', where: { file: 'Creek.farm' } }] })
  const none = await second.call('farm.openToRead', { fileName: 'Creek.farm' })
  expect(none).toMatchObject({ ok: false, problems: [{ code: 'in-use', what: expect.stringMatching(/no backup/) }] })
  const made = await host.must('backup.make', {})
  await addField(host, 'South')
  symlinkSync(join(host.engine.home, 'Creek backups'), join(second.engine.home, 'Creek backups'))
  const copy = await second.must('farm.openToRead', { fileName: 'Creek.farm' })
  expect(copy).toMatchObject({ isReadOnly: true, copyOf: made.madeAt.replace(/\.\d+Z$/, '.000Z') })
  expect(await fieldsOf(second)).toEqual(['North'])
  const change = await second.call('sheet.change', {
    sheet: 'field',
    says: 'x',
    cells: [{ id: 1, path: 'acres', value: 9 }],
  })
  const copyOnly = { ok: false, problems: [{ what: expect.stringMatching(/copy to look at/) }] }
  expect(change).toMatchObject(copyOnly)
  // What may be done while an earlier season is read would be lost with the copy.
  const seasonId = copy.seasons[0]?.id ?? 0
  expect(await second.call('lesson.setAside', { seasonId, key: 'x', isAside: true })).toMatchObject(copyOnly)
  expect(await second.call('lesson.take', { seasonId, key: 'x' })).toMatchObject(copyOnly)
  expect(await second.call('farm.rename', { name: 'Other' })).toMatchObject(copyOnly)
  expect(await second.call('backup.make', {})).toMatchObject(copyOnly)
  await second.must('setting.set', { key: 'width', value: 3 })
  await second.must('farm.close', {})
  expect(await fieldsOf(host)).toEqual(['North', 'South'])
  expect(second.bugs).toEqual([])
})
