/**
 * Every action on a disk that is really full, from its first byte to its last: closing, checkpoint, rename, move, roll, backup
 * and all the others. What fails is told; the farm is whole, holds all that was acknowledged, and is open as before. Each commit
 * takes five of twelve rooms that are left; `npm run test:all` takes all.
 */
import { existsSync, mkdirSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { limit } from '../support/limit.ts'
import { deskCalls } from '../../src-shared/api-desk.ts'
import type { Reply } from '../../src-shared/api.ts'
import { deskHandlers } from '../../src-main/engine/desk-calls.ts'
import { isUnchanged } from '../../src-main/engine/db/copy.ts'
import { createServer } from '../../src-main/engine/serve.ts'
import { engineAt, type TestEngine } from '../support/engine.ts'
import { makeOldFarm } from '../support/old-farm.ts'
import { addField, fieldsOf } from '../support/own-farm.ts'
import { sampled } from '../support/sampled.ts'
import { homeOn, smallDisk, type SmallDisk } from '../support/small-disk.ts'

const isLong = process.env.STANDWELL_SAFETY === 'long'

/** Where no disk can be mounted, the tests are skipped by name. */
const first = smallDisk(1024 * 1024)
first?.remove()
const canMount = first !== null

let disk: SmallDisk
let filled = 0
beforeAll(() => {
  if (canMount) disk = smallDisk(24 * 1024 * 1024)!
})
afterAll(() => {
  if (canMount) disk.remove()
  process.stdout.write(`full disks: ${filled}\n`)
})

const desk = (host: TestEngine, name: string, path: string) =>
  createServer(host.engine, { entries: deskCalls, handlers: deskHandlers }).call(name, { path }) as Promise<Reply>

interface Action {
  name: string
  /** The farm is closed when it begins. */
  isClosed?: boolean
  before?: (home: string) => void
  work: (host: TestEngine, home: string) => Promise<Reply>
  /** Acknowledged or not, the farm may be empty of the last change. */
  adds?: string
}

/** So much that the file must grow when its journal is written into it. */
const many = Array.from({ length: 150 }, (_, key) => ({
  key,
  values: { name: `Many ${key}`, acres: 40, water: 'dryland', yieldGoalLb: 4000, note: 'x'.repeat(900) },
}))
const addMany = (host: TestEngine) =>
  host.must('sheet.change', { sheet: 'field', says: 'Add many fields', added: many })

/** All but those many, which must all be there. */
async function namesOf(host: TestEngine): Promise<string[]> {
  const names = await fieldsOf(host)
  const rest = names.filter((name) => !name.startsWith('Many '))
  expect(names.length - rest.length).toBe(many.length)
  return rest
}

const backupIn = (home: string) =>
  readdirSync(join(home, 'Creek backups')).find((name) => name.endsWith('by hand.farm')) as string

const actions: Action[] = [
  {
    name: 'edit',
    work: (host) =>
      host.call('sheet.change', {
        sheet: 'field',
        says: 'Add a field',
        added: [{ key: 1, values: { name: 'New', acres: 40, water: 'dryland', yieldGoalLb: 4000 } }],
      }),
    adds: 'New',
  },
  { name: 'undo', work: (host) => host.call('undo.back', {}), adds: 'undo' },
  { name: 'close', work: (host) => host.call('farm.close', {}) },
  { name: 'rename', work: (host) => host.call('farm.rename', { name: 'Long Creek' }) },
  { name: 'move', work: (host, home) => desk(host, 'desk.moveTo', join(home, 'other', 'Creek.farm')) },
  { name: 'back up', work: (host) => host.call('backup.make', {}) },
  { name: 'go back', work: (host, home) => host.call('backup.restore', { backup: backupIn(home) }), adds: 'back' },
  { name: 'save a copy', work: (host, home) => desk(host, 'desk.copyTo', join(home, 'other', 'Copy.farm')) },
  { name: 'copy out', work: (host) => host.call('farm.copyOut', {}) },
  { name: 'roll', work: (host) => host.call('season.roll', { crops: [] }), adds: 'roll' },
  { name: 'start', work: (host) => host.call('farm.start', { name: 'Hill', season: 2027 }), adds: 'other' },
  {
    name: 'bring in',
    work: (host, home) =>
      host.call('farm.bringIn', {
        file: {
          name: 'Hill.farm',
          base64: readFileSync(join(home, 'Creek backups', backupIn(home))).toString('base64'),
        },
      }),
    adds: 'other',
  },
  { name: 'open', isClosed: true, work: (host) => host.call('farm.open', { fileName: 'Creek.farm' }) },
  {
    name: 'open a file of an earlier version',
    isClosed: true,
    before: makeOldFarm,
    work: (host) => host.call('farm.open', { fileName: 'Old.farm' }),
    adds: 'other',
  },
]

/** [byte] left on the disk when the action begins. */
const rooms = isLong
  ? [...Array(64).keys()]
      .map((n) => n * 4096)
      .concat(
        [...Array(60).keys()].map((n) => 262_144 + n * 65_536),
        6_291_456,
      )
  : [0, 4096, 8192, 16_384, 40_960, 98_304, 262_144, 524_288, 786_432, 1_048_576, 1_572_864, 6_291_456]
const [none, most] = [0, 6_291_456]

/** Fields as they are in whichever file of the farm there is, opened when there is room again. */
async function fieldsLater(home: string): Promise<{ names: string[]; file: string; years: number }> {
  const host = engineAt(home)
  try {
    const all = (await host.must('farm.list', {})).map(({ fileName }) => fileName)
    const file = all.find((name) => /^(Long )?Creek\.farm$/.test(name))
    if (file === undefined) {
      expect(await desk(host, 'desk.open', join(home, 'other', 'Creek.farm'))).toMatchObject({ ok: true })
    } else await host.must('farm.open', { fileName: file })
    const years = (await host.must('farm.current', {}))?.seasons.length ?? 0
    return { names: await namesOf(host), file: file ?? 'other', years }
  } finally {
    await host.close()
  }
}

test.skipIf(!canMount).each(actions)('$name, on a disk that is full', limit(300), async (action) => {
  let refused = 0
  let done = 0
  for (const room of sampled(`full ${action.name}`, rooms, 5, [none, most])) {
    const home = homeOn(disk)
    mkdirSync(join(home, 'other'))
    const host = engineAt(home)
    await host.must('farm.start', { name: 'Creek', season: 2027 })
    await addMany(host)
    await addField(host, 'One')
    await host.must('backup.make', {})
    await addField(host, 'Two')
    if (action.isClosed) await host.must('farm.close', {})
    action.before?.(home)
    disk.fill(room)
    filled += 1
    const reply = await action.work(host, home)
    if (reply.ok) done += 1
    else {
      refused += 1
      expect(
        reply.problems.map(({ code }) => code),
        `${room}`,
      ).not.toContain('bug')
      expect(reply.problems[0]?.what, `${room}`).toMatch(/full|room|cannot be/)
    }
    expect(host.bugs.filter(({ call }) => call !== 'seal')).toEqual([])
    // Open as before, or as it was meant to be: never with nothing in hand.
    if (!action.isClosed && action.name !== 'close') {
      expect(host.engine.farm, `${room}`).not.toBeNull()
      if (action.adds === undefined) expect(await namesOf(host), `${room}`).toEqual(['One', 'Two'])
    }
    // With the disk full still, it can be closed.
    await host.call('farm.close', {})
    await host.close()
    disk.clear()
    const { names, years } = await fieldsLater(home)
    if (action.adds === 'New') expect(names).toEqual(reply.ok ? ['New', 'One', 'Two'] : ['One', 'Two'])
    else if (action.adds === 'undo' || action.adds === 'back')
      expect(names).toEqual(reply.ok ? ['One'] : ['One', 'Two'])
    else expect(names, `${room}`).toEqual(['One', 'Two'])
    if (action.adds === 'roll') expect(years).toBe(reply.ok ? 2 : 1)
    for (const folder of readdirSync(home).filter((name) => name.endsWith(' backups')))
      for (const name of readdirSync(join(home, folder)).filter((each) => each.endsWith('.farm')))
        expect(isUnchanged(join(home, folder, name))).toBe(true)
    expect(existsSync(join(home, 'Creek.farm')) && existsSync(join(home, 'Long Creek.farm'))).toBe(false)
  }
  expect(done, 'with the most room it goes through').toBeGreaterThan(0)
  if (!['rename', 'move', 'close', 'open', 'open a file of an earlier version'].includes(action.name))
    expect(refused).toBeGreaterThan(0)
})

test.skipIf(!canMount)('a farm on a full disk can be opened to look at, with all that was acknowledged', async () => {
  const home = homeOn(disk)
  const host = engineAt(home)
  await host.must('farm.start', { name: 'Creek', season: 2027 })
  await addMany(host)
  await addField(host, 'One')
  await host.must('farm.close', {})
  disk.fill(0)
  const again = engineAt(home)
  const opened = await again.must('farm.open', { fileName: 'Creek.farm' })
  expect(await namesOf(again)).toEqual(['One'])
  if (opened.isReadOnly) {
    const reply = await again.call('sheet.change', {
      sheet: 'field',
      says: 'x',
      cells: [{ id: 1, path: 'acres', value: 9 }],
    })
    expect(reply).toMatchObject({ ok: false, problems: [{ what: expect.stringMatching(/full|disk/) }] })
  }
  await again.close()
  disk.clear()
  expect((await fieldsLater(home)).names).toEqual(['One'])
  await host.close()
})
