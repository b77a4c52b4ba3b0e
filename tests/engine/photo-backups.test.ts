/** Pictures in backups: each once, none in the backup's own file, all of them back when a farm goes back to it. */
import { mkdirSync, readFileSync, readdirSync, rmSync, statSync, utimesSync, writeFileSync, existsSync } from 'node:fs'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { createFarm } from '../../src-main/engine/farm-file.ts'
import { hasOwnSchema } from '../../src-main/engine/db/schema.ts'
import { openDatabase } from '../../src-main/engine/db/connect.ts'
import { clearLeftovers } from '../../src-main/engine/leftovers.ts'
import { startTestEngine } from '../support/engine.ts'
import { dumpOf, smallSeason, temporaryFolder } from '../support/open-file.ts'

function withPicture(size = 2_000_000) {
  const host = startTestEngine()
  onTestFinished(() => host.close())
  const made = createFarm(join(host.engine.home, 'Creek.farm'), smallSeason())
  if (!made.ok) throw new Error(JSON.stringify(made.problems))
  host.engine.farm = made.value
  made.value.connection.exec(`INSERT INTO lot (id, seasonId, varietyId, lotNumber, pounds) VALUES (1, 1, 1, 'A-1', 9)`)
  const bytes = Buffer.alloc(size, 7)
  Buffer.from('ffd8ffe000104a464946', 'hex').copy(bytes)
  const file = { name: 'tag.jpg', base64: bytes.toString('base64') }
  const folder = join(host.engine.home, 'Creek backups')
  return { ...host, file, folder, add: () => host.must('tag.addPhoto', { lotId: 1, file }) }
}

test('keeps a picture once for ten backups, and none of them holds it', async () => {
  const { must, add, folder } = withPicture()
  await add()
  for (let n = 0; n < 10; n += 1) await must('backup.make', {})
  const { backups } = await must('backup.list', {})
  expect(backups).toHaveLength(10)
  for (const { size } of backups) expect(size).toBeLessThan(1_000_000)
  expect(readdirSync(join(folder, 'pictures'))).toHaveLength(1)
})

test('brings the pictures back with a backup, row by row the farm as it was', async () => {
  const { must, add, file, engine } = withPicture()
  const id = await add()
  const before = dumpOf(engine.farm!.connection)
  const { fileName } = await must('backup.make', {})
  await must('tag.removePhoto', { id })
  engine.farm!.connection.exec('DELETE FROM undo_step')
  await must('farm.close', {})
  await must('farm.open', { fileName: 'Creek.farm' })
  await must('backup.restore', { backup: fileName })
  expect(dumpOf(engine.farm!.connection)).toEqual(before)
  expect((await must('tag.photo', { id })).base64).toBe(file.base64)
  // Undo of what was done before the backup goes on.
  await must('undo.back', {})
  await must('undo.forward', {})
  expect((await must('tag.photo', { id })).base64).toBe(file.base64)
})

test('goes back to a backup whose picture is gone, and says so of that picture', async () => {
  const { must, call, add, folder, engine, bugs } = withPicture()
  const id = await add()
  const { fileName } = await must('backup.make', {})
  await must('tag.removePhoto', { id })
  engine.farm!.connection.exec('DELETE FROM undo_step')
  await must('farm.close', {})
  rmSync(join(folder, 'pictures'), { recursive: true })
  await must('backup.restore', { fileName: 'Creek.farm', backup: fileName })
  expect(await call('tag.photo', { id })).toMatchObject({ ok: false, problems: [{ code: 'missing' }] })
  expect((await must('field.list', {})).length).toBeGreaterThan(0)
  expect(bugs).toEqual([])
})

test('a backup has the very schema of the farm, and a saved copy has its pictures inside', async () => {
  const { must, add, file, folder } = withPicture()
  const id = await add()
  const { fileName } = await must('backup.make', {})
  const opened = openDatabase(join(folder, fileName))
  if (!opened.ok) throw new Error(JSON.stringify(opened.problems))
  expect(hasOwnSchema(opened.value)).toBe(true)
  opened.value.close()
  const copy = await must('farm.copyOut', {})
  await must('farm.bringIn', { file: { name: 'Copy.farm', base64: copy.base64 } })
  expect((await must('tag.photo', { id })).base64).toBe(file.base64)
})

test('clears what a killed Standwell left half-built, and nothing else', () => {
  const home = temporaryFolder()
  const folder = join(home, 'Creek backups')
  mkdirSync(folder)
  const ours = ['Creek.farm.part', 'Creek.farm.copy', 'Creek.farm.copy.part', 'Creek backups/2027-01-02.farm.part']
  const others = [
    'Creek.farm',
    'notes.part',
    'Creek.farm.sha256',
    'Creek.farm-wal',
    'Creek backups/x.farm',
    'a.farm.party',
  ]
  const long = new Date(Date.now() - 3_600_000)
  for (const name of [...ours, ...others]) {
    writeFileSync(join(home, name), 'x')
    utimesSync(join(home, name), long, long)
  }
  // Being written by another Standwell.
  writeFileSync(join(home, 'Oak.farm.part'), 'x')
  clearLeftovers(home, Date.now())
  expect(ours.filter((name) => existsSync(join(home, name)))).toEqual([])
  expect([...others, 'Oak.farm.part'].filter((name) => !existsSync(join(home, name)))).toEqual([])
  expect(statSync(folder).isDirectory()).toBe(true)
})

test('says how many pictures a backup that is opened by itself does not hold', async () => {
  const { must, add, folder } = withPicture()
  await add()
  expect((await must('backup.list', {})).missingPictures).toBe(0)
  const { fileName } = await must('backup.make', {})
  const base64 = readFileSync(join(folder, fileName)).toString('base64')
  await must('farm.bringIn', { file: { name: 'By itself.farm', base64 } })
  expect((await must('backup.list', {})).missingPictures).toBe(1)
})
