/** The shell's own door: farms where a person put them. Its names are no names at the pages' door. */
import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { deskCalls, type DeskCallName, type DeskInput, type DeskOutput } from '../../src-shared/api-desk.ts'
import { deskHandlers } from '../../src-main/engine/desk-calls.ts'
import { createServer } from '../../src-main/engine/serve.ts'
import { startTestEngine, type TestEngine } from '../support/engine.ts'

let host: TestEngine
let folder: string
const elsewhere: string[] = []

beforeEach(() => {
  host = startTestEngine()
  folder = mkdtempSync(join(tmpdir(), 'standwell-desk-'))
})
afterEach(async () => {
  await host.close()
  for (const each of [folder, ...elsewhere.splice(0)]) rmSync(each, { recursive: true, force: true })
})

async function ask<Name extends DeskCallName>(name: Name, input: DeskInput<Name>) {
  const desk = createServer(host.engine, { entries: deskCalls, handlers: deskHandlers })
  return (await desk.call(name, input)) as unknown as
    { ok: true; value: DeskOutput<Name> } | { ok: false; problems: { code: string; what: string }[] }
}

const fieldsOf = async () => (await host.must('field.list', {})).map(({ name }) => name)

async function creek() {
  await host.must('farm.start', { name: 'Creek', season: 2027 })
  const values = { name: 'North', acres: 40, water: 'dryland', yieldGoalLb: 4000 }
  await host.must('sheet.change', { sheet: 'field', says: 'Add a field', added: [{ key: 1, values }] })
}

test.each(['desk.open', 'desk.copyTo', 'desk.moveTo', 'desk.recent', 'desk.home'])(
  'a page that calls %s calls nothing',
  async (name) => {
    await creek()
    const path = join(folder, 'Taken.farm')
    expect(await host.server.call(name, { path })).toMatchObject({ ok: false, problems: [{ code: 'unknown-call' }] })
    expect(existsSync(path)).toBe(false)
  },
)

test('a copy goes where it is wanted, in place of an older one, and opens there', async () => {
  await creek()
  const path = join(folder, 'Creek for the lender')
  const written = { path: `${path}.farm`, fileName: 'Creek for the lender.farm' }
  writeFileSync(written.path, 'an older copy')
  writeFileSync(`${written.path}.sha256`, 'its seal')
  expect(await ask('desk.copyTo', { path })).toMatchObject({ ok: true, value: written })
  expect(readdirSync(folder)).toEqual(['Creek for the lender.farm'])
  expect((await host.must('farm.current', {}))?.fileName).toBe('Creek.farm')
  expect(await ask('desk.open', { path: written.path })).toMatchObject({
    ok: true,
    value: { name: 'Creek', fields: 1 },
  })
  expect(await fieldsOf()).toEqual(['North'])
})

test('a copy of the farm onto itself is refused', async () => {
  await creek()
  const path = join(host.engine.home, 'Creek.farm')
  const before = statSync(path).size
  expect(await ask('desk.copyTo', { path })).toMatchObject({ ok: false, problems: [{ code: 'repeated-name' }] })
  expect(statSync(path).size).toBe(before)
  expect(await fieldsOf()).toEqual(['North'])
})

test('a copy into a folder that is not there is refused in words', async () => {
  await creek()
  const refused = await ask('desk.copyTo', { path: join(folder, 'stick', 'Creek.farm') })
  expect(refused).toMatchObject({ ok: false, problems: [{ code: 'bad-file' }] })
})

test('a farm moves with its backups, stays open, and is listed with the folder it went to', async () => {
  await creek()
  await host.must('backup.make', {})
  const path = join(folder, 'Creek at home.farm')
  expect(await ask('desk.moveTo', { path })).toMatchObject({ ok: true, value: { path } })
  expect(await fieldsOf()).toEqual(['North'])
  expect((await host.must('backup.list', {})).backups.length).toBeGreaterThan(0)
  expect(readdirSync(host.engine.home).filter((name) => name.startsWith('Creek'))).toEqual([])
  await host.must('farm.close', {})
  const listed = await host.must('farm.list', {})
  expect(listed).toMatchObject([{ fileName: 'Creek at home.farm', folder: folder.split('/').at(-1) }])
  expect(await host.must('farm.open', { fileName: 'Creek at home.farm' })).toMatchObject({ name: 'Creek' })
})

test('never in place of a farm that is there', async () => {
  await creek()
  const path = join(folder, 'Other.farm')
  writeFileSync(path, 'somebody’s')
  expect(await ask('desk.moveTo', { path })).toMatchObject({ ok: false, problems: [{ code: 'repeated-name' }] })
  expect(await fieldsOf()).toEqual(['North'])
})

test('backups join those that are in the folder it goes to', async () => {
  await creek()
  await host.must('backup.make', {})
  mkdirSync(join(folder, 'Creek backups'))
  writeFileSync(join(folder, 'Creek backups', 'kept by hand'), '')
  await ask('desk.moveTo', { path: join(folder, 'Creek.farm') })
  const names = readdirSync(join(folder, 'Creek backups'))
  expect(names).toContain('kept by hand')
  expect(names.filter((name) => name.endsWith('by hand.farm'))).toHaveLength(1)
  expect(existsSync(join(host.engine.home, 'Creek backups'))).toBe(false)
})

/** A folder that is not on the disk of the test's own farms, which may be in memory (`tests/tools/test.mjs`). */
const otherDisk = ['/dev/shm', '/var/tmp'].find(
  (path) => existsSync(path) && statSync(path).dev !== statSync(tmpdir()).dev,
)
test.skipIf(otherDisk === undefined)('onto another disk it is copied, and only then taken from here', async () => {
  await creek()
  await host.must('backup.make', {})
  const other = mkdtempSync(join(otherDisk!, 'standwell-desk-'))
  elsewhere.push(other)
  const path = join(other, 'Creek.farm')
  expect(await ask('desk.moveTo', { path })).toMatchObject({ ok: true, value: { path } })
  expect(await fieldsOf()).toEqual(['North'])
  expect((await host.must('backup.list', {})).backups.length).toBeGreaterThan(0)
  expect(readdirSync(host.engine.home).filter((name) => name.startsWith('Creek'))).toEqual([])
})

test('farms that were opened are remembered, the last first, and those that are gone are not told', async () => {
  await creek()
  await host.must('farm.start', { name: 'Hill', season: 2027 })
  const names = async () => {
    const reply = await ask('desk.recent', {})
    return reply.ok ? reply.value.map(({ fileName }) => fileName) : reply.problems
  }
  expect(await names()).toEqual(['Hill.farm', 'Creek.farm'])
  await host.must('farm.open', { fileName: 'Creek.farm' })
  expect(await names()).toEqual(['Creek.farm', 'Hill.farm'])
  rmSync(join(host.engine.home, 'Hill.farm'))
  expect(await names()).toEqual(['Creek.farm'])
})

test('a file that is no farm is refused by its name, and the farm in hand stays open', async () => {
  await creek()
  const path = join(folder, 'letter.farm')
  writeFileSync(path, 'Dear grower')
  const refused = await ask('desk.open', { path })
  expect(refused.ok).toBe(false)
  if (!refused.ok) expect(refused.problems[0]?.what).toContain('letter.farm')
  expect(await fieldsOf()).toEqual(['North'])
})

test('two of one name: the one in the folder of the farms is listed', async () => {
  await creek()
  await ask('desk.copyTo', { path: join(folder, 'Creek.farm') })
  await ask('desk.open', { path: join(folder, 'Creek.farm') })
  await host.must('farm.close', {})
  expect(await host.must('farm.list', {})).toMatchObject([{ fileName: 'Creek.farm', folder: null }])
})
