/** Backups on the disk: whole, hashed, made when due, thinned; and going back to each kind of them. */
import { existsSync, readdirSync, readFileSync, renameSync, rmSync, utimesSync, writeFileSync } from 'node:fs'
import { basename, join, resolve } from 'node:path'
import { expect, onTestFinished, test, vi } from 'vitest'
import { backupFolder, freeBackupPath } from '../../src-main/engine/backup-path.ts'
import { backupFault, backUpWhenDue, listBackups, makeBackup } from '../../src-main/engine/backups.ts'
import { createDatabase } from '../../src-main/engine/db/connect.ts'
import { copyDatabase, hashOf, isUnchanged } from '../../src-main/engine/db/copy.ts'
import { openFarm, type OpenFarm } from '../../src-main/engine/farm-file.ts'
import { dumpOf, newFarm, temporaryFolder } from '../support/open-file.ts'
import { type TestEngine } from '../support/engine.ts'
import { addField, fieldsOf, ownFarm } from '../support/own-farm.ts'
import { breakDisk } from '../safety/fault.mjs'

const backupAt = (farm: OpenFarm, name: string) => join(backupFolder(farm.path), name)
const plant = (farm: OpenFarm, acres: number) =>
  farm.connection.prepare('UPDATE field_season SET acres = ? WHERE id = 1').run(acres)

function flip(path: string): void {
  const bytes = readFileSync(path)
  bytes[bytes.length - 1] = (bytes.at(-1) ?? 0) ^ 1
  writeFileSync(path, bytes)
}

test('one taken while open is whole, hashed, opens as the same farm, and never takes the name of another', () => {
  const farm = newFarm()
  plant(farm, 77.7)
  const now = new Date()
  const [first, second] = [makeBackup(farm, 'by hand', now), makeBackup(farm, 'by hand', now)]
  expect(second.fileName).not.toBe(first.fileName)
  const path = backupAt(farm, first.fileName)
  expect(isUnchanged(path)).toBe(true)
  expect(readFileSync(`${path}.sha256`, 'utf8')).toContain(hashOf(path))
  expect(listBackups(farm.path).map(({ fileName }) => fileName)).toEqual([second.fileName, first.fileName])
  const copy = openFarm(path)
  if (!copy.ok) throw new Error(JSON.stringify(copy.problems))
  expect(dumpOf(copy.value.connection)).toEqual(dumpOf(farm.connection))
  copy.value.close()
})

test('one is due after twenty minutes in which something changed; a clock moved back starts them anew', () => {
  const farm = newFarm()
  const at = (minutes: number) => new Date(Date.UTC(2027, 0, 5, 8, minutes))
  const made = () => listBackups(farm.path).length
  backUpWhenDue(farm, at(0))
  plant(farm, 70)
  backUpWhenDue(farm, at(19))
  expect(made()).toBe(0)
  backUpWhenDue(farm, at(20))
  expect(made()).toBe(1)
  backUpWhenDue(farm, at(60))
  expect(made()).toBe(1)
  plant(farm, 71)
  backUpWhenDue(farm, at(61))
  expect(made()).toBe(2)
  plant(farm, 72)
  backUpWhenDue(farm, at(-600))
  expect(made()).toBe(2)
  backUpWhenDue(farm, at(-579))
  expect(made()).toBe(3)
})

test('a disk that refuses is told, disturbs nothing, and is asked again', () => {
  const farm = newFarm()
  const at = (minutes: number) => new Date(Date.UTC(2027, 0, 5, 8, minutes))
  backUpWhenDue(farm, at(0))
  plant(farm, 70)
  // A file where the folder should be: no disk of any kind can write there.
  writeFileSync(backupFolder(farm.path), '')
  expect(() => backUpWhenDue(farm, at(20))).not.toThrow()
  expect(backupFault(farm)).toMatchObject({ code: 'bad-file', what: expect.stringMatching(/^No backup could be made/) })
  rmSync(backupFolder(farm.path))
  backUpWhenDue(farm, at(30))
  expect(listBackups(farm.path)).toEqual([])
  backUpWhenDue(farm, at(40))
  expect(listBackups(farm.path)).toHaveLength(1)
  expect(backupFault(farm)).toBeNull()
})

test.each(['EMFILE', 'ESTALE', 'UNKNOWN', 'ESOMETHINGNEW'])(
  'a backup that is due and meets %s is told, and the window hears of it',
  async (code) => {
    const host = await ownFarm()
    await addField(host, 'North')
    vi.useFakeTimers({ now: Date.now() + 21 * 60_000, toFake: ['Date'] })
    onTestFinished(() => void vi.useRealTimers())
    const disk = breakDisk({ at: 1, how: code, forever: true, below: join(host.engine.home, 'Creek backups') })
    try {
      await addField(host, 'South')
      await vi.waitFor(() => expect(host.news).toContainEqual({ kind: 'changed', tables: ['backup'] }))
    } finally {
      disk.undo()
    }
    expect((await host.must('backup.list', {})).fault?.what).toMatch(/^No backup could be made/)
    expect(host.bugs).toEqual([])
    await host.must('backup.make', {})
    expect((await host.must('backup.list', {})).fault).toBeNull()
  },
)

test('those that have had their time go, with their hashes', () => {
  const farm = newFarm()
  // Twelve within four hours, four days before the one by hand: of the day the newest ten stay.
  for (let n = 0; n < 12; n += 1) {
    const at = new Date(Date.UTC(2027, 0, 1, 8, 20 * n))
    copyDatabase(farm.connection, freeBackupPath(farm.path, at, 'while working'))
  }
  writeFileSync(join(backupFolder(farm.path), 'a note of mine.txt'), 'kept')
  makeBackup(farm, 'by hand', new Date('2027-01-05T08:00:00Z'))
  const names = readdirSync(backupFolder(farm.path)).sort()
  expect(names).toContain('2027-01-05 08.00.00 by hand.farm')
  expect(names).toContain('2027-01-05 08.00.00 by hand.farm.sha256')
  expect(names).toContain('a note of mine.txt')
  const byThemselves = names.filter((name) => name.includes('while working'))
  expect(byThemselves).toHaveLength(20)
  expect(byThemselves[0]).toBe('2027-01-01 08.40.00 while working.farm')
})

test('one start with the clock thirteen months ahead, and a farm left alone for 366 days, lose no backup', async () => {
  const host = await ownFarm()
  const farm = host.engine.farm!
  for (let n = 0; n < 25; n += 1)
    copyDatabase(farm.connection, freeBackupPath(farm.path, new Date(Date.now() - n * 24 * 3600_000), 'on closing'))
  const before = listBackups(farm.path).map(({ fileName }) => fileName)
  await addField(host, 'North')
  vi.useFakeTimers({ now: Date.now() + 400 * 24 * 3600_000, toFake: ['Date'] })
  onTestFinished(() => void vi.useRealTimers())
  await host.must('farm.close', {})
  const after = listBackups(farm.path).map(({ fileName }) => fileName)
  expect(after).toEqual(expect.arrayContaining(before))
})

test('a backup of another farm in the folder is never thinned', () => {
  const farm = newFarm()
  const other = newFarm()
  for (let n = 0; n < 14; n += 1) {
    const at = new Date(Date.UTC(2027, 0, 1, 8, 20 * n))
    copyDatabase(other.connection, freeBackupPath(farm.path, at, 'while working'))
  }
  makeBackup(farm, 'by hand', new Date('2027-01-05T08:00:00Z'))
  expect(readdirSync(backupFolder(farm.path)).filter((name) => /working\.farm$/.test(name))).toHaveLength(14)
})

/** A farm of one's own, opened through the engine's door. */
const reasonsOf = async (host: TestEngine) =>
  (await host.must('backup.list', {})).backups.map(({ reason }) => reason).sort()

test('closing a farm that has changed makes one; one that has not, none; the demo never', async () => {
  const host = await ownFarm()
  await addField(host, 'North')
  await host.must('farm.close', {})
  await host.must('farm.open', { fileName: 'Creek.farm' })
  expect(await reasonsOf(host)).toEqual(['on closing'])
  await host.must('farm.close', {})
  await host.must('farm.open', { fileName: 'Creek.farm' })
  expect(await reasonsOf(host)).toEqual(['on closing'])
  const demo = await host.must('farm.openDemo', {})
  await host.must('farm.close', {})
  expect(existsSync(join(host.engine.home, `${basename(demo.fileName, '.farm')} backups`))).toBe(false)
})

test('going back: the farm is as it was, what there was is kept and can be gone back to in turn', async () => {
  const host = await ownFarm()
  await addField(host, 'North')
  const backup = await host.must('backup.make', {})
  await addField(host, 'South')
  await host.must('backup.restore', { backup: backup.fileName })
  expect(await fieldsOf(host)).toEqual(['North'])
  // Its undo is its own: the step that it was made after.
  expect((await host.must('undo.state', {})).back).toBe('Add a field')
  expect(await reasonsOf(host)).toEqual(['before going back', 'by hand'])
  const kept = (await host.must('backup.list', {})).backups.find(({ reason }) => reason === 'before going back')
  await host.must('backup.restore', { backup: kept!.fileName })
  expect(await fieldsOf(host)).toEqual(['North', 'South'])
  expect(host.bugs).toEqual([])
})

test('a backup that is not what was written is refused, and the farm stays open as it is', async () => {
  const host = await ownFarm()
  const backup = await host.must('backup.make', {})
  await addField(host, 'South')
  flip(join(host.engine.home, 'Creek backups', backup.fileName))
  const reply = await host.call('backup.restore', { backup: backup.fileName })
  expect(reply).toMatchObject({ ok: false, problems: [{ code: 'damaged', remedy: expect.stringMatching(/another/) }] })
  expect(await fieldsOf(host)).toEqual(['South'])
  const missing = await host.call('backup.restore', { backup: '../Creek.farm' })
  expect(missing).toMatchObject({ ok: false, problems: [{ code: 'bad-file' }] })
})

test('a flipped byte in a closed farm is found on opening, by the seal; it opens as it is, or from a backup', async () => {
  const host = await ownFarm()
  await addField(host, 'North')
  await host.must('farm.close', {})
  const path = join(host.engine.home, 'Creek.farm')
  expect(existsSync(`${path}.sha256`)).toBe(true)
  flip(path)
  const refused = await host.call('farm.open', { fileName: 'Creek.farm' })
  expect(refused).toMatchObject({ ok: false, problems: [{ code: 'damaged' }] })
  const { backups } = await host.must('backup.list', { fileName: 'Creek.farm' })
  await host.must('backup.restore', { fileName: 'Creek.farm', backup: backups[0]!.fileName })
  expect(await fieldsOf(host)).toEqual(['North'])
  // What was damaged is kept: here SQLite itself finds no fault, so it is a backup like any other.
  expect(await reasonsOf(host)).toContain('before going back')
  await host.must('farm.close', {})
  const elsewhere = createDatabase(path)
  elsewhere.exec(`UPDATE field SET name = 'Far north'`)
  elsewhere.close()
  expect((await host.call('farm.open', { fileName: 'Creek.farm' })).ok).toBe(false)
  await host.must('farm.open', { fileName: 'Creek.farm', asItIs: true })
  expect(await fieldsOf(host)).toEqual(['Far north'])
})

test('a farm that no longer opens at all is kept byte for byte, and replaced', async () => {
  const host = await ownFarm()
  await addField(host, 'North')
  await host.must('farm.close', {})
  const path = join(host.engine.home, 'Creek.farm')
  const spoilt = Buffer.concat([readFileSync(path).subarray(0, 100), Buffer.alloc(9000, 7)])
  writeFileSync(path, spoilt)
  rmSync(`${path}.sha256`)
  expect((await host.call('farm.open', { fileName: 'Creek.farm' })).ok).toBe(false)
  const { backups } = await host.must('backup.list', { fileName: 'Creek.farm' })
  await host.must('backup.restore', { fileName: 'Creek.farm', backup: backups[0]!.fileName })
  expect(await fieldsOf(host)).toEqual(['North'])
  const folder = join(host.engine.home, 'Creek backups')
  const kept = readdirSync(folder).find((name) => name.endsWith('before going back.farm'))
  expect(readFileSync(join(folder, kept!)).equals(spoilt)).toBe(true)
})

test('what a seal cannot know is no fault: a file that was never closed in order, or came from elsewhere', async () => {
  const host = await ownFarm()
  await host.must('farm.close', {})
  const path = join(host.engine.home, 'Creek.farm')
  rmSync(`${path}.sha256`)
  await host.must('farm.open', { fileName: 'Creek.farm' })
  expect(existsSync(`${path}.sha256`)).toBe(false)
  await host.must('farm.close', {})
  utimesSync(path, new Date(0), new Date(0))
  await host.must('farm.open', { fileName: 'Creek.farm' })
})

test('renamed, a farm takes its backups along', async () => {
  const host = await ownFarm()
  const backup = await host.must('backup.make', {})
  const renamed = await host.must('farm.rename', { name: 'Long Creek' })
  expect(renamed.fileName).toBe('Long Creek.farm')
  expect((await host.must('backup.list', {})).backups.map(({ fileName }) => fileName)).toEqual([backup.fileName])
  expect(readdirSync(host.engine.home).filter((name) => name.startsWith('Creek'))).toEqual([])
  writeFileSync(join(host.engine.home, 'Taken.farm'), '')
  expect(await host.call('farm.rename', { name: 'Taken' })).toMatchObject({
    ok: false,
    problems: [{ code: 'repeated-name' }],
  })
  expect((await host.must('farm.current', {}))?.fileName).toBe('Long Creek.farm')
})

test('copied out and brought in again it is the same farm under a free name; what is no farm leaves nothing', async () => {
  const host = await ownFarm()
  await addField(host, 'North')
  const copy = await host.must('farm.copyOut', {})
  expect(readdirSync(host.engine.home).filter((name) => name.includes('copy'))).toEqual([])
  const before = dumpOf(host.engine.farm!.connection)
  const brought = await host.must('farm.bringIn', { file: { name: copy.name, base64: copy.base64 } })
  expect(brought.fileName).toBe('Creek 2.farm')
  expect(dumpOf(host.engine.farm!.connection)).toEqual(before)
  const junk = { name: 'Junk.farm', base64: Buffer.from('no farm at all').toString('base64') }
  expect(await host.call('farm.bringIn', { file: junk })).toMatchObject({
    ok: false,
    problems: [{ code: 'bad-file', where: { file: 'Junk.farm' } }],
  })
  expect(readdirSync(host.engine.home).filter((name) => name.startsWith('Junk'))).toEqual([])
  expect((await host.must('farm.current', {}))?.fileName).toBe('Creek 2.farm')
})

test('a backup is made beside the work when one is due, and the window is told', async () => {
  const host = await ownFarm()
  await addField(host, 'North')
  vi.useFakeTimers({ now: Date.now() + 21 * 60_000, toFake: ['Date'] })
  onTestFinished(() => void vi.useRealTimers())
  await addField(host, 'South')
  await vi.waitFor(() => expect(host.news).toContainEqual({ kind: 'changed', tables: ['backup'] }))
  expect(await reasonsOf(host)).toEqual(['while working'])
})

test('a farm in a folder that others copy is warned of', async () => {
  const host = await ownFarm()
  expect((await host.must('backup.list', {})).warning).toBeNull()
  const folder = join(temporaryFolder(), 'SyncedStuff')
  renameSync(host.engine.home, folder)
  const { syncedFolder } = await import('../../src-main/engine/synced-folder.ts')
  expect(syncedFolder(folder)).toContain('SyncedStuff')
  expect(syncedFolder(resolve('/', 'farms'))).toBeNull()
  renameSync(folder, host.engine.home)
})
