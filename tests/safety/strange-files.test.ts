/**
 * What other programs do to a farm's file while it is open, and what lies under its name when it comes: a journal, a seal or
 * backups of another farm. No farm is mixed with another; what was acknowledged is in the farm or in a copy that is named.
 * Long because each case needs its own files beside the farm.
 */
import {
  copyFileSync,
  existsSync,
  linkSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { afterAll, expect, onTestFinished, test } from 'vitest'
import { deskCalls } from '../../src-shared/api-desk.ts'
import type { Reply } from '../../src-shared/api.ts'
import { deskHandlers } from '../../src-main/engine/desk-calls.ts'
import { createServer } from '../../src-main/engine/serve.ts'
import { engineAt, type TestEngine } from '../support/engine.ts'
import { addField, fieldsOf } from '../support/own-farm.ts'
import { startChild } from './engine-child.ts'

const scratch = mkdtempSync(join(tmpdir(), 'standwell-strange-'))
afterAll(() => rmSync(scratch, { recursive: true, force: true }))

let homes = 0
function newHome(): string {
  const home = join(scratch, `home-${(homes += 1)}`)
  mkdirSync(home)
  return home
}

/** An engine in a home of its own, closed when the test ends. */
function started(home = newHome()): TestEngine {
  const host = engineAt(home)
  onTestFinished(() => host.close())
  return host
}

const desk = (host: TestEngine, name: string, path: string) =>
  createServer(host.engine, { entries: deskCalls, handlers: deskHandlers }).call(name, { path }) as Promise<Reply>

async function withFields(host: TestEngine, farm: string, fields: readonly string[]): Promise<void> {
  await host.must('farm.start', { name: farm, season: 2027 })
  for (const field of fields) await addField(host, field)
}

/** The fields of a farm's file, read by an engine that opens a copy of it. */
async function fieldsIn(path: string, asItIs = true): Promise<string[]> {
  const reader = engineAt(newHome())
  try {
    copyFileSync(path, join(reader.engine.home, 'Read.farm'))
    await reader.must('farm.open', { fileName: 'Read.farm', asItIs })
    return await fieldsOf(reader)
  } finally {
    await reader.close()
  }
}

/** A journal of a killed engine beside its farm, under another folder. */
async function killedFarm(fields: readonly string[]): Promise<string> {
  const home = newHome()
  const child = await startChild(home)
  await child.must('farm.start', { name: 'Creek', season: 2027 })
  for (const name of fields) {
    const values = { name, acres: 40, water: 'dryland', yieldGoalLb: 4000, rowSpacingIn: 36, rowPattern: 'single' }
    await child.must('sheet.change', { sheet: 'field', says: 'Add a field', added: [{ key: 1, values }] })
  }
  child.kill()
  await child.gone
  return join(home, 'Creek.farm')
}

test('a new farm under a name where a journal lies begins empty, and the journal is kept', async () => {
  const killed = await killedFarm(['Strange 1', 'Strange 2'])
  const host = started()
  const journal = readFileSync(`${killed}-wal`)
  writeFileSync(join(host.engine.home, 'Creek.farm-wal'), journal)
  await host.must('farm.start', { name: 'Creek', season: 2027 })
  expect(await fieldsOf(host)).toEqual([])
  await addField(host, 'Mine')
  await host.must('farm.close', {})
  const kept = readdirSync(host.engine.home).filter((name) => /journal/.test(name))
  expect(kept.map((name) => readFileSync(join(host.engine.home, name)).equals(journal))).toEqual([true])
})

test('the open farm renamed by another program, then closed: a new farm of the old name holds nothing of it', async () => {
  const host = started()
  await withFields(host, 'Creek', ['One', 'Two'])
  renameSync(join(host.engine.home, 'Creek.farm'), join(host.engine.home, 'Hill.farm'))
  await host.call('farm.close', {})
  await host.must('farm.start', { name: 'Creek', season: 2027 })
  expect(await fieldsOf(host)).toEqual([])
  await host.must('farm.close', {})
  const held = await Promise.all(
    readdirSync(host.engine.home)
      .filter((name) => name.endsWith('.farm'))
      .map((name) => fieldsIn(join(host.engine.home, name))),
  )
  expect(held).toContainEqual(['One', 'Two'])
})

test('a farm renamed to a name where another farm left its journal opens with its own fields', async () => {
  const killed = await killedFarm(['Strange 1', 'Strange 2'])
  const host = started()
  await withFields(host, 'Hill', ['Mine'])
  await host.must('farm.close', {})
  const { home } = host.engine
  renameSync(join(home, 'Hill.farm'), join(home, 'Creek.farm'))
  copyFileSync(`${killed}-wal`, join(home, 'Creek.farm-wal'))
  await host.must('farm.open', { fileName: 'Creek.farm' })
  expect(await fieldsOf(host)).toEqual(['Mine'])
  expect(readdirSync(home).some((name) => /journal/.test(name))).toBe(true)
})

test('a journal of an earlier state of the same farm is not played into a later one', async () => {
  const host = started()
  await withFields(host, 'Creek', ['One'])
  const { home } = host.engine
  copyFileSync(join(home, 'Creek.farm-wal'), join(home, 'old-journal'))
  for (let n = 2; n < 6; n += 1) await addField(host, `F${n}`)
  await host.must('farm.close', {})
  await host.must('farm.open', { fileName: 'Creek.farm' })
  await addField(host, 'Last')
  await host.must('farm.close', {})
  rmSync(join(home, 'Creek.farm.sha256'))
  renameSync(join(home, 'old-journal'), join(home, 'Creek.farm-wal'))
  await host.must('farm.open', { fileName: 'Creek.farm' })
  expect(await fieldsOf(host)).toHaveLength(6)
})

test('a new farm under a name where a seal lies opens the next time', async () => {
  const host = started()
  writeFileSync(join(host.engine.home, 'Creek.farm.sha256'), `${'ab'.repeat(32)}\n`)
  await withFields(host, 'Creek', ['One'])
  await host.must('farm.close', {})
  await host.must('farm.open', { fileName: 'Creek.farm' })
  expect(await fieldsOf(host)).toEqual(['One'])
})

test('a farm under a name where the seal of another farm lies opens, and the seal is kept', async () => {
  const host = started()
  const { home } = host.engine
  await withFields(host, 'Creek', ['One'])
  await host.must('farm.start', { name: 'Hill', season: 2027 })
  await host.must('farm.close', {})
  renameSync(join(home, 'Hill.farm'), join(home, 'Creek.farm'))
  await host.must('farm.open', { fileName: 'Creek.farm' })
  expect(await fieldsOf(host)).toEqual([])
  expect(readdirSync(home).some((name) => /seal/.test(name))).toBe(true)
})

test('a name with backups of a deleted farm is not free, neither for a new farm nor to rename to', async () => {
  const host = started()
  const { home } = host.engine
  await withFields(host, 'Creek', ['One'])
  await host.must('backup.make', {})
  await host.must('farm.close', {})
  rmSync(join(home, 'Creek.farm'))
  expect((await host.must('farm.start', { name: 'Creek', season: 2027 })).fileName).toBe('Creek 2.farm')
  expect((await host.must('backup.list', {})).backups).toEqual([])
  const refused = await host.call('farm.rename', { name: 'Creek' })
  expect(refused).toMatchObject({
    ok: false,
    problems: [{ code: 'repeated-name', what: expect.stringMatching(/backups/) }],
  })
  expect((await host.must('farm.current', {}))?.fileName).toBe('Creek 2.farm')
})

/** What another program can do to the file of an open farm. */
const deeds: [string, (home: string, older: string) => void][] = [
  ['renamed', (home) => renameSync(join(home, 'Creek.farm'), join(home, 'Renamed.farm'))],
  ['deleted', (home) => rmSync(join(home, 'Creek.farm'))],
  [
    'replaced by an older version',
    (home, older) => {
      copyFileSync(older, join(home, 'synced'))
      renameSync(join(home, 'synced'), join(home, 'Creek.farm'))
    },
  ],
  ['overwritten by an older version', (home, older) => copyFileSync(older, join(home, 'Creek.farm'))],
  [
    'overwritten with its journal taken away',
    (home, older) => {
      rmSync(join(home, 'Creek.farm-wal'))
      copyFileSync(older, join(home, 'Creek.farm'))
    },
  ],
  ['left without its journal', (home) => rmSync(join(home, 'Creek.farm-wal'))],
  [
    'given another journal',
    (home) => {
      writeFileSync(join(home, 'synced'), readFileSync(join(home, 'Creek.farm-wal')).subarray(0, 5000))
      renameSync(join(home, 'synced'), join(home, 'Creek.farm-wal'))
    },
  ],
]

test.each(deeds)('the open farm is %s by another program: nothing is acknowledged into nowhere', async (_, deed) => {
  const host = started()
  const { home } = host.engine
  await withFields(host, 'Creek', ['One'])
  await host.must('farm.close', {})
  const older = join(scratch, `older-${homes}`)
  copyFileSync(join(home, 'Creek.farm'), older)
  await host.must('farm.open', { fileName: 'Creek.farm' })
  await addField(host, 'Two')
  await addField(host, 'Three')
  deed(home, older)
  const values = { name: 'Four', acres: 40, water: 'dryland', yieldGoalLb: 4000 }
  const reply = await host.call('sheet.change', { sheet: 'field', says: 'Add', added: [{ key: 1, values }] })
  expect(reply).toMatchObject({ ok: false, problems: [{ code: 'moved-away' }] })
  const kept = reply.ok ? '' : (reply.problems[0]?.where?.file ?? '')
  expect(kept).toMatch(/\.farm$/)
  expect(await host.must('farm.taken', {})).toEqual([
    { fileName: 'Creek.farm', problem: reply.ok ? null : reply.problems[0] },
  ])
  expect(reply.ok ? '' : reply.problems[0]?.what).toContain(kept.replace(/\.farm$/, ''))
  // The copy opens, and holds all that was acknowledged.
  await host.must('farm.open', { fileName: kept })
  expect(await fieldsOf(host)).toEqual(['One', 'Three', 'Two'])
  await host.must('farm.close', {})
  // What the other program put there is as it put it.
  if (existsSync(join(home, 'Creek.farm'))) {
    const now = await fieldsIn(join(home, 'Creek.farm'))
    expect([['One'], ['One', 'Three', 'Two']]).toContainEqual(now)
  }
  expect(host.bugs).toEqual([])
})

test.each(deeds)('the open farm is %s by another program, then closed: a copy has all of it', async (_, deed) => {
  const host = started()
  const { home } = host.engine
  await withFields(host, 'Creek', ['One'])
  await host.must('farm.close', {})
  const older = join(scratch, `older-${homes}`)
  copyFileSync(join(home, 'Creek.farm'), older)
  await host.must('farm.open', { fileName: 'Creek.farm' })
  await addField(host, 'Two')
  deed(home, older)
  const reply = await host.call('farm.close', {})
  expect(reply).toMatchObject({ ok: false, problems: [{ code: 'moved-away' }] })
  expect(host.engine.farm).toBeNull()
  const held = await Promise.all(
    readdirSync(home)
      .filter((name) => name.endsWith('.farm'))
      .map((name) => fieldsIn(join(home, name))),
  )
  expect(held).toContainEqual(['One', 'Two'])
  expect(host.bugs).toEqual([])
})

test('a version put in place while the farm was closed is told by the seal', async () => {
  const host = started()
  const { home } = host.engine
  await withFields(host, 'Creek', ['One'])
  await host.must('farm.close', {})
  const older = readFileSync(join(home, 'Creek.farm'))
  await host.must('farm.open', { fileName: 'Creek.farm' })
  await addField(host, 'Two')
  await host.must('farm.close', {})
  writeFileSync(join(home, 'Creek.farm'), older)
  expect(await host.call('farm.open', { fileName: 'Creek.farm' })).toMatchObject({
    ok: false,
    problems: [{ code: 'damaged' }],
  })
})

test('a copy is not saved over a farm that another Standwell has open', async () => {
  const other = await startChild(newHome())
  onTestFinished(() => other.kill())
  const home = newHome()
  const child = await startChild(home)
  onTestFinished(() => child.kill())
  await child.must('farm.start', { name: 'Taken', season: 2027 })
  const host = started()
  await withFields(host, 'Creek', ['One'])
  const before = readFileSync(join(home, 'Taken.farm'))
  expect(await desk(host, 'desk.copyTo', join(home, 'Taken.farm'))).toMatchObject({
    ok: false,
    problems: [{ code: 'in-use', where: { file: 'Taken.farm' } }],
  })
  expect(readFileSync(join(home, 'Taken.farm')).equals(before)).toBe(true)
  expect((await child.must('farm.current', {}))?.name).toBe('Taken')
})

test('a hard link of the open farm is the farm itself: neither opened nor copied over', async () => {
  const host = started()
  await withFields(host, 'Creek', ['One'])
  const link = join(host.engine.home, 'Link.farm')
  linkSync(join(host.engine.home, 'Creek.farm'), link)
  expect(await host.call('farm.open', { fileName: 'Link.farm' })).toMatchObject({
    ok: false,
    problems: [{ code: 'in-use' }],
  })
  expect(await desk(host, 'desk.copyTo', link)).toMatchObject({ ok: false, problems: [{ code: 'repeated-name' }] })
  // The lock is held still: another process is refused.
  const child = await startChild(host.engine.home)
  onTestFinished(() => child.kill())
  expect(await child.call('farm.open', { fileName: 'Creek.farm' })).toMatchObject({
    ok: false,
    problems: [{ code: 'in-use' }],
  })
  await addField(host, 'Two')
  expect(await fieldsOf(host)).toEqual(['One', 'Two'])
})

test('what cannot be brought in leaves alone what it did not make', async () => {
  const host = started()
  await withFields(host, 'Creek', ['One'])
  const { home } = host.engine
  const junk = { name: 'Creek.farm', base64: Buffer.from('no farm at all').toString('base64') }
  writeFileSync(join(home, 'Creek 2.farm-wal'), 'somebody’s journal')
  expect((await host.call('farm.bringIn', { file: junk })).ok).toBe(false)
  const kept = readdirSync(home).filter((name) => name.startsWith('Creek 2'))
  expect(kept.map((name) => readFileSync(join(home, name), 'utf8'))).toEqual(['somebody’s journal'])
  expect(await fieldsOf(host)).toEqual(['One'])
})

/** As it lies on the disk when a process is killed that writes into the file without a write-ahead log. */
function rollbackJournal(path: string): Buffer {
  const connection = new Database(path)
  try {
    connection.pragma('journal_mode = DELETE')
    connection.pragma('cache_size = 1')
    connection.exec(`BEGIN; UPDATE field_season SET acres = 1; CREATE TABLE more (x)`)
    const insert = connection.prepare('INSERT INTO more VALUES (randomblob(4000))')
    for (let n = 0; n < 50; n += 1) insert.run()
    return readFileSync(`${path}-journal`)
  } finally {
    connection.close()
  }
}

test('a rollback journal and bytes that are no journal, beside a farm that was closed, are put aside unread', async () => {
  const home = newHome()
  const first = started(home)
  await withFields(first, 'Creek', ['A', 'B'])
  await first.must('farm.close', {})
  const path = join(home, 'Creek.farm')
  // Of the same farm at another time: by its id it cannot be told.
  const copy = join(newHome(), 'Copy.farm')
  copyFileSync(path, copy)
  writeFileSync(`${path}-journal`, rollbackJournal(copy))
  await first.must('farm.open', { fileName: 'Creek.farm' })
  expect(await fieldsOf(first)).toEqual(['A', 'B'])
  expect((await first.must('backup.list', {})).aside).toHaveLength(1)
  await first.must('farm.close', {})
  writeFileSync(`${path}-wal`, 'what somebody wrote here')
  await first.must('farm.open', { fileName: 'Creek.farm' })
  expect(await fieldsOf(first)).toEqual(['A', 'B'])
  const { aside } = await first.must('backup.list', {})
  expect(aside).toHaveLength(2)
  expect(aside.map((name) => readFileSync(join(home, name)).toString('latin1')).join()).toContain(
    'what somebody wrote here',
  )
})

test('folders, and a file of gigabytes, under the names of a journal and a seal are put aside', async () => {
  const home = newHome()
  const host = started(home)
  await withFields(host, 'Creek', ['A'])
  await host.must('farm.close', {})
  const path = join(home, 'Creek.farm')
  rmSync(`${path}.sha256`)
  writeFileSync(`${path}.sha256`, '')
  truncateSync(`${path}.sha256`, 3 * 1024 ** 3)
  await host.must('farm.open', { fileName: 'Creek.farm' })
  await host.must('farm.close', {})
  for (const ending of ['-wal', '-journal', '.sha256']) {
    rmSync(path + ending, { force: true })
    mkdirSync(path + ending)
    await host.must('farm.open', { fileName: 'Creek.farm' })
    expect(await fieldsOf(host)).toEqual(['A'])
    await host.must('farm.close', {})
  }
  await host.must('farm.open', { fileName: 'Creek.farm' })
  expect((await host.must('backup.list', {})).aside).toHaveLength(4)
  expect(host.bugs).toEqual([])
})
