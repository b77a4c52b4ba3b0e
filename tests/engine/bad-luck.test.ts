/** A farm deleted, a folder that cannot be written or listed, names too long, other people on the computer: told, and nothing lost. */
import { execFileSync } from 'node:child_process'
import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { deskCalls } from '../../src-shared/api-desk.ts'
import { deskHandlers } from '../../src-main/engine/desk-calls.ts'
import { createServer } from '../../src-main/engine/serve.ts'
import { syncedFolder } from '../../src-main/engine/synced-folder.ts'
import { engineAt, startTestEngine } from '../support/engine.ts'
import { temporaryFolder } from '../support/open-file.ts'
import { addField, fieldsOf, ownFarm } from '../support/own-farm.ts'
import { homeOn, smallDisk } from '../support/small-disk.ts'

test('a deleted farm is listed by its backups, and is put back from one', async () => {
  const host = await ownFarm()
  await addField(host, 'North')
  const made = await host.must('backup.make', {})
  await host.must('farm.close', {})
  rmSync(join(host.engine.home, 'Creek.farm'))
  expect(await host.must('farm.list', {})).toMatchObject([
    { fileName: 'Creek.farm', isGone: true, changedAt: made.madeAt.replace(/\.\d+Z/, '.000Z') },
  ])
  const { backups } = await host.must('backup.list', { fileName: 'Creek.farm' })
  expect(backups.map(({ fileName }) => fileName)).toContain(made.fileName)
  await host.must('backup.restore', { fileName: 'Creek.farm', backup: made.fileName })
  expect(await fieldsOf(host)).toEqual(['North'])
  expect(await host.must('farm.list', {})).toMatchObject([{ fileName: 'Creek.farm', isGone: false }])
})

test('a deleted farm that lay elsewhere is listed as well', async () => {
  const host = await ownFarm()
  await host.must('backup.make', {})
  const folder = temporaryFolder()
  const desk = createServer(host.engine, { entries: deskCalls, handlers: deskHandlers })
  expect((await desk.call('desk.moveTo', { path: join(folder, 'Away.farm') })).ok).toBe(true)
  await host.must('farm.close', {})
  rmSync(join(folder, 'Away.farm'))
  expect(await host.must('farm.list', {})).toMatchObject([{ fileName: 'Away.farm', isGone: true }])
})

test('a backup of a farm that had the name before becomes a farm of its own', async () => {
  const host = await ownFarm()
  await addField(host, 'Old')
  const made = await host.must('backup.make', {})
  await host.must('farm.close', {})
  const { home } = host.engine
  // As a file manager may bring it about: another farm under the name, beside the backups of the first.
  const other = startTestEngine()
  onTestFinished(() => other.close())
  await other.must('farm.start', { name: 'Creek', season: 2027 })
  await addField(other, 'New')
  await other.must('farm.close', {})
  writeFileSync(join(home, 'Creek.farm'), readFileSync(join(other.engine.home, 'Creek.farm')))
  rmSync(join(home, 'Creek.farm.sha256'))
  await host.must('farm.open', { fileName: 'Creek.farm' })
  expect((await host.must('backup.restore', { backup: made.fileName })).fileName).toBe('Creek 2.farm')
  expect(await fieldsOf(host)).toEqual(['Old'])
  await host.must('farm.open', { fileName: 'Creek.farm' })
  expect(await fieldsOf(host)).toEqual(['New'])
})

test('a link that leads in a circle spoils neither the list of farms nor that of backups', async () => {
  const host = await ownFarm()
  await host.must('backup.make', {})
  const { home } = host.engine
  symlinkSync('Loop.farm', join(home, 'Loop.farm'))
  symlinkSync('gone', join(home, 'Nowhere.farm'))
  const loop = '2027-01-01 08.00.00 by hand.farm'
  symlinkSync(loop, join(home, 'Creek backups', loop))
  expect((await host.must('farm.list', {})).map(({ fileName }) => fileName)).toEqual(['Creek.farm'])
  expect((await host.must('backup.list', {})).backups).toHaveLength(1)
  const started = await host.must('farm.start', { name: 'Loop', season: 2027 })
  expect(started.fileName).toBe('Loop 2.farm')
})

test('a name of eighty letters that take four bytes each becomes a file; a path too long is told in words', async () => {
  const host = startTestEngine()
  onTestFinished(() => host.close())
  await host.must('farm.start', { name: '🥜'.repeat(40), season: 2027 })
  await host.must('backup.make', {})
  await host.must('farm.rename', { name: 'é'.repeat(80) })
  const desk = createServer(host.engine, { entries: deskCalls, handlers: deskHandlers })
  for (const name of ['desk.copyTo', 'desk.moveTo'])
    expect(await desk.call(name, { path: join(host.engine.home, `${'x'.repeat(300)}.farm`) })).toMatchObject({
      ok: false,
      problems: [
        { code: 'bad-file', what: expect.stringMatching(/too long/), remedy: expect.stringMatching(/shorter/) },
      ],
    })
  await addField(host, 'North')
  expect(host.bugs).toEqual([])
})

test('the farm, its backups and its seal are for their owner only', async () => {
  const host = await ownFarm()
  await addField(host, 'North')
  await host.must('backup.make', {})
  await host.must('farm.copyOut', {})
  const { home } = host.engine
  const desk = createServer(host.engine, { entries: deskCalls, handlers: deskHandlers })
  await desk.call('desk.copyTo', { path: join(home, 'Copy.farm') })
  const open = readdirSync(home)
  await host.must('farm.close', {})
  const mode = (path: string) => (statSync(path).mode & 0o777).toString(8)
  expect(mode(join(home, 'Creek backups'))).toBe('700')
  const files = readdirSync(home, { recursive: true, withFileTypes: true }).filter((each) => each.isFile())
  expect(files.length).toBeGreaterThan(4)
  expect(open).toContain('Creek.farm-wal')
  for (const { parentPath, name } of files) expect(`${name} ${mode(join(parentPath, name))}`).toBe(`${name} 600`)
})

test('the data folder is for its owner only, also one that was there before', () => {
  const folder = join(temporaryFolder(), 'data')
  mkdirSync(folder)
  chmodSync(folder, 0o755)
  const script = `import('./src-main/engine/home.ts').then(({ ensureDataHome }) => ensureDataHome())`
  const env = { ...process.env, STANDWELL_HOME: folder }
  execFileSync(process.execPath, ['--experimental-strip-types', '-e', script], { env, stdio: 'ignore' })
  expect((statSync(folder).mode & 0o777).toString(8)).toBe('700')
})

test('a folder that is synchronised is told by what lies in it', () => {
  const folder = join(temporaryFolder(), 'Papers', 'Farms')
  mkdirSync(folder, { recursive: true })
  expect(syncedFolder(folder)).toBeNull()
  mkdirSync(join(folder, '..', '.syncing'))
  expect(syncedFolder(folder)).toContain('“Papers”')
  rmSync(join(folder, '..', '.syncing'), { recursive: true })
  writeFileSync(join(folder, 'Creek.sync-conflict-20270105.farm'), '')
  expect(syncedFolder(folder)).toContain('“Farms”')
})

test('a backup that fails for a reason nobody foresaw is told, and the farm closes', async () => {
  const host = await ownFarm()
  await addField(host, 'North')
  // A folder under a backup's own name: the system has a code for it that no list had.
  writeFileSync(join(host.engine.home, 'Creek backups'), '')
  await host.must('farm.close', {})
  const again = engineAt(host.engine.home)
  onTestFinished(() => again.close())
  await again.must('farm.open', { fileName: 'Creek.farm' })
  expect(await fieldsOf(again)).toEqual(['North'])
})

const disk = smallDisk(4 * 1024 * 1024)
test.skipIf(disk === null)(
  'a farm on a disk that takes no writing is opened to look at, with what its journal holds',
  async () => {
    onTestFinished(() => disk?.remove())
    const home = homeOn(disk!)
    const host = engineAt(home)
    await host.must('farm.start', { name: 'Creek', season: 2027 })
    await addField(host, 'North')
    const journal = readFileSync(join(home, 'Creek.farm-wal'))
    const file = readFileSync(join(home, 'Creek.farm'))
    await host.must('farm.close', {})
    // As a killed engine leaves it: what was entered is in the journal only.
    rmSync(join(home, 'Creek.farm.sha256'))
    writeFileSync(join(home, 'Creek.farm'), file)
    writeFileSync(join(home, 'Creek.farm-wal'), journal)
    execFileSync('mount', ['-o', 'remount,ro', disk!.folder])
    const again = engineAt(home)
    const farm = await again.must('farm.open', { fileName: 'Creek.farm' })
    expect(farm).toMatchObject({
      isReadOnly: true,
      refusal: expect.stringMatching(/cannot be/),
      fileName: 'Creek.farm',
    })
    expect(await fieldsOf(again)).toEqual(['North'])
    for (const [name, input] of [
      ['sheet.change', { sheet: 'field', says: 'x', cells: [{ id: 1, path: 'acres', value: 9 }] }],
      ['farm.rename', { name: 'Other' }],
      ['backup.make', {}],
    ] as const)
      expect(await again.call(name, input as never)).toMatchObject({
        ok: false,
        problems: [{ what: expect.stringMatching(/only be looked at/) }],
      })
    await again.must('farm.close', {})
    await again.close()
    execFileSync('mount', ['-o', 'remount,rw', disk!.folder])
    expect(existsSync(join(home, 'Creek.farm-wal'))).toBe(true)
    const last = engineAt(home)
    await last.must('farm.open', { fileName: 'Creek.farm' })
    expect(await fieldsOf(last)).toEqual(['North'])
    await last.close()
    expect([...again.bugs, ...last.bugs]).toEqual([])
  },
)
