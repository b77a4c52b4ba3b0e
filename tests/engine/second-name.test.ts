/** A farm's file with a second name: a link that a syncing program put in its place, or a hard link. Its journal is found. */
import { copyFileSync, linkSync, mkdirSync, readdirSync, renameSync, symlinkSync } from 'node:fs'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { engineAt, type TestEngine } from '../support/engine.ts'
import { temporaryFolder } from '../support/open-file.ts'
import { addField, fieldsOf, ownFarm } from '../support/own-farm.ts'

/** As a syncing program does it: the file in its own folder, a link in its place. */
function moveAndLink(home: string): void {
  mkdirSync(join(home, 'cloud'))
  renameSync(join(home, 'Creek.farm'), join(home, 'cloud', 'Creek.farm'))
  symlinkSync(join('cloud', 'Creek.farm'), join(home, 'Creek.farm'))
}

/** What is on the disk when the process is killed. */
function killed(host: TestEngine): string {
  const home = temporaryFolder()
  for (const ending of ['', '-wal']) {
    copyFileSync(join(host.engine.home, `Creek.farm${ending}`), join(home, `Creek.farm${ending}`))
  }
  return home
}

function engineIn(home: string): TestEngine {
  const host = engineAt(home)
  onTestFinished(host.close)
  return host
}

test('keeps what is in hand when the open file is moved and a link is put in its place', async () => {
  const host = await ownFarm()
  await addField(host, 'A1')
  const { home } = host.engine
  moveAndLink(home)
  const reply = await host.call('sheet.change', { sheet: 'field', says: 'Add a field', added: [] })
  expect(reply).toMatchObject({ ok: false, problems: [{ code: 'moved-away' }] })
  const kept = readdirSync(home).find((name) => /^Creek, kept .*\.farm$/.test(name))
  const other = engineIn(home)
  await other.must('farm.open', { fileName: kept! })
  expect(await fieldsOf(other)).toEqual(['A1'])
  // The link leads to the file that the other program has, which opens as well.
  await other.must('farm.open', { fileName: 'Creek.farm' })
  expect(other.bugs).toEqual([])
})

test('finds the journal that a kill left beside a link to the moved file', async () => {
  const host = await ownFarm()
  await addField(host, 'A1')
  const home = killed(host)
  moveAndLink(home)
  const again = engineIn(home)
  await again.must('farm.open', { fileName: 'Creek.farm' })
  expect(await fieldsOf(again)).toEqual(['A1'])
})

test('finds the journal that a kill left under the first name of a file with two', async () => {
  const host = await ownFarm()
  await addField(host, 'A1')
  const home = killed(host)
  linkSync(join(home, 'Creek.farm'), join(home, 'Alink.farm'))
  const again = engineIn(home)
  await again.must('farm.open', { fileName: 'Alink.farm' })
  expect(await fieldsOf(again)).toEqual(['A1'])
  await addField(again, 'A2')
  await again.must('farm.close', {})
  await again.must('farm.open', { fileName: 'Creek.farm' })
  expect(await fieldsOf(again)).toEqual(['A1', 'A2'])
  expect((await again.must('backup.list', {})).aside).toEqual([])
})

test('takes no journal of another farm for that of a second name', async () => {
  const [host, stranger] = [await ownFarm(), await ownFarm()]
  await addField(host, 'A1')
  await addField(stranger, 'Strange')
  const [home, strange] = [killed(host), killed(stranger)]
  copyFileSync(join(strange, 'Creek.farm-wal'), join(home, 'Creek.farm-wal'))
  linkSync(join(home, 'Creek.farm'), join(home, 'Alink.farm'))
  const again = engineIn(home)
  await again.must('farm.open', { fileName: 'Alink.farm' })
  expect(await fieldsOf(again)).toEqual([])
})
