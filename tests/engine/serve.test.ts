/**
 * The door by itself: small calls of our own on a real database, so that faults can be planted. The undo hooks are
 * listened to here, not exercised: what they record is tested with the real tables in tests/engine/db.
 */
import Database from 'better-sqlite3'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import * as v from 'valibot'
import type { Reply, TableName } from '../../src-shared/api.ts'
import { ProblemError } from '../../src-shared/problem.ts'
import { inTransaction } from '../../src-main/engine/db/transaction.ts'
import type { Engine } from '../../src-main/engine/engine.ts'
import { farmOf } from '../../src-main/engine/engine.ts'
import type { OpenFarm } from '../../src-main/engine/farm-file.ts'
import type { Calls } from '../../src-main/engine/serve.ts'
import type { TestEngine } from '../support/engine.ts'
import { startTestEngine } from '../support/engine.ts'

const heard = vi.hoisted(() => [] as string[])
vi.mock('../../src-main/engine/db/undo.ts', () => ({
  beginUndoStep: (connection: Database.Database, label: string) =>
    heard.push(`begin ${label} ${connection.inTransaction}`),
  endUndoStep: (connection: Database.Database) => heard.push(`end ${connection.inTransaction}`),
}))

const tables: readonly TableName[] = ['field']
const field = v.strictObject({ acres: v.pipe(v.number(), v.minValue(0, 'Acres are not negative')) })
const nothing = v.strictObject({})

/** What runs now, so that an overlap of two writers shows. */
let running: string[] = []
let overlaps: string[] = []
async function slowly(name: string) {
  if (running.length > 0) overlaps.push(`${name} during ${running.join()}`)
  running.push(name)
  await new Promise((resolve) => setTimeout(resolve, 15))
  running = running.filter((other) => other !== name)
}

const insert = (engine: Engine, acres: number) =>
  farmOf(engine).connection.prepare('INSERT INTO field VALUES (?)').run(acres)
const count = (engine: Engine) => farmOf(engine).connection.prepare('SELECT count(*) FROM field').pluck().get()

const calls: Calls = {
  entries: {
    count: { kind: 'read', input: nothing, tables },
    add: { kind: 'change', input: field, tables, undo: 'Add a field' },
    addSlowly: { kind: 'change', input: field, tables },
    addThenBreak: { kind: 'change', input: field, tables },
    addThenRefuse: { kind: 'change', input: field, tables },
    swap: { kind: 'task', input: nothing, tables },
    addInTask: { kind: 'task', input: nothing, tables },
    countTwice: { kind: 'read', input: nothing, tables },
    swapThenRefuse: { kind: 'task', input: nothing, tables },
    solve: { kind: 'task', input: nothing, tables: [], beside: true },
    noHandler: { kind: 'read', input: nothing, tables },
  },
  handlers: {
    count,
    add: (engine, { acres }: { acres: number }) => insert(engine, acres).changes,
    async addSlowly(engine, { acres }: { acres: number }) {
      insert(engine, acres)
      await slowly(`change ${acres}`)
    },
    addThenBreak(engine, { acres }: { acres: number }) {
      insert(engine, acres)
      throw new TypeError('secret particulars')
    },
    addThenRefuse(engine, { acres }: { acres: number }) {
      insert(engine, acres)
      throw new ProblemError([{ code: 'repeated-name', what: 'Two.', remedy: 'Rename one.' }])
    },
    swap: () => slowly('task'),
    addInTask: (engine) =>
      inTransaction(farmOf(engine).connection, null, async () => {
        insert(engine, 7)
        await slowly('task')
        throw new ProblemError([{ code: 'missing', what: 'No.', remedy: 'None.' }])
      }),
    async countTwice(engine) {
      const before = count(engine)
      await new Promise((resolve) => setTimeout(resolve, 15))
      return [before, count(engine)]
    },
    swapThenRefuse() {
      throw new ProblemError([{ code: 'bad-file', what: 'No.', remedy: 'Choose another.' }])
    },
    solve: () => new Promise((resolve) => setTimeout(() => resolve('solved'), 60)),
    spare: () => 'never',
  },
}

let host: TestEngine
const call = (name: string, input: unknown = {}) => host.server.call(name, input)

function memoryFarm(): OpenFarm {
  const connection = new Database(':memory:')
  connection.exec('CREATE TABLE field (acres REAL) STRICT')
  return { path: ':memory:', connection, isDemo: true, close: () => connection.close() } as unknown as OpenFarm
}

beforeEach(() => {
  host = startTestEngine(calls)
  host.engine.farm = memoryFarm()
  heard.length = 0
  running = []
  overlaps = []
})
afterEach(() => host.close())

describe('looking up', () => {
  test.each(['nope', '__proto__', 'constructor', 'toString', 'spare', 'noHandler'])('%s is refused', async (name) => {
    expect(await call(name)).toMatchObject({ ok: false, problems: [{ code: 'unknown-call' }] })
  })

  test('input is checked, with the place and the reason', async () => {
    const reply = await call('add', { acres: -3 })
    expect(reply).toMatchObject({ ok: false, problems: [{ code: 'bad-value', where: { path: 'acres' } }] })
    expect(JSON.stringify(reply)).toContain('Acres are not negative')
    expect(count(host.engine)).toBe(0)
  })

  test('input of the wrong shape is refused', async () => {
    for (const input of [null, undefined, 'x', 3, {}, { acres: '3' }, { acres: 3, more: 1 }, { acres: Number.NaN }])
      expect(await call('add', input)).toMatchObject({ ok: false, problems: [{ code: 'bad-value' }] })
    expect(host.news).toEqual([])
  })
})

describe('a change', () => {
  test('is one transaction and one undo step, announced with the undo list', async () => {
    expect(await call('add', { acres: 3 })).toMatchObject({ ok: true, value: 1 })
    expect(heard).toEqual(['begin Add a field true', 'end true'])
    expect(host.engine.farm?.connection.inTransaction).toBe(false)
    expect(host.news).toMatchObject([{ kind: 'changed', tables: ['field', 'undo'] }])
  })

  test('without undo words is no undo step', async () => {
    await call('addSlowly', { acres: 3 })
    expect(heard).toEqual([])
    expect(host.news).toMatchObject([{ kind: 'changed', tables: ['field'] }])
  })

  test('says its revision in its reply and in the news, and a read says the one that it was read at', async () => {
    const revisionOf = (reply: Reply) => (reply.ok ? reply.revision : undefined)
    const before = revisionOf(await call('count'))!
    const added = revisionOf(await call('add', { acres: 3 }))
    expect(added).toBe(before + 1)
    expect(host.news.at(-1)).toMatchObject({ kind: 'changed', revision: added })
    expect(revisionOf(await call('count'))).toBe(added)
    await call('addThenRefuse', { acres: 3 })
    expect(revisionOf(await call('count'))).toBe(added)
  })

  test('a read holds all that its revision says, in whatever order calls come', async () => {
    const asked = ['count', 'add', 'addSlowly', 'count', 'countTwice', 'add', 'count', 'addSlowly', 'add', 'count']
    const replies = await Promise.all(asked.map((name) => call(name, name.startsWith('add') ? { acres: 1 } : {})))
    const done = replies.map(
      (reply) => (reply.ok ? { value: reply.value as unknown, revision: reply.revision! } : null)!,
    )
    const made = done.filter((_, at) => asked[at]!.startsWith('add')).map(({ revision }) => revision)
    expect(new Set(made).size).toBe(made.length)
    for (const [at, { value, revision }] of done.entries()) {
      if (!asked[at]!.startsWith('count')) continue
      const atLeast = made.filter((each) => each <= revision).length
      for (const rows of [value].flat()) expect(rows).toBeGreaterThanOrEqual(atLeast)
    }
    expect(host.news.map((news) => (news.kind === 'changed' ? news.revision : null))).toEqual(
      made.sort((a, b) => a - b),
    )
  })

  test('that refuses leaves nothing behind and announces nothing', async () => {
    const reply = await call('addThenRefuse', { acres: 3 })
    expect(reply).toEqual({ ok: false, problems: [{ code: 'repeated-name', what: 'Two.', remedy: 'Rename one.' }] })
    expect(count(host.engine)).toBe(0)
    expect(host.engine.farm?.connection.inTransaction).toBe(false)
    expect(host.news).toEqual([])
    expect(host.bugs).toEqual([])
  })

  test('that breaks leaves nothing behind; the words carry no particulars, the log does', async () => {
    const reply = await call('addThenBreak', { acres: 3 })
    expect(reply).toMatchObject({ ok: false, problems: [{ code: 'bug' }] })
    expect(JSON.stringify(reply)).not.toMatch(/secret|TypeError|serve\.test|at /)
    expect(host.bugs).toMatchObject([{ call: 'addThenBreak', error: { message: 'secret particulars' } }])
    expect(count(host.engine)).toBe(0)
  })

  test('needs an open farm', async () => {
    host.engine.farm?.close()
    host.engine.farm = null
    expect(await call('add', { acres: 3 })).toMatchObject({ ok: false, problems: [{ code: 'no-farm' }] })
    expect(await call('count')).toMatchObject({ ok: false, problems: [{ code: 'no-farm' }] })
  })

  test('after a broken one still works', async () => {
    await call('addThenBreak', { acres: 3 })
    expect(await call('add', { acres: 4 })).toMatchObject({ ok: true, value: 1 })
  })
})

describe('at the same time', () => {
  test('changes and tasks run one after another', async () => {
    const all = [call('addSlowly', { acres: 1 }), call('swap'), call('addSlowly', { acres: 2 }), call('swap')]
    expect((await Promise.all(all)).every((reply) => reply.ok)).toBe(true)
    expect(overlaps).toEqual([])
    expect(count(host.engine)).toBe(2)
  })

  test('a read never sees a change that is not committed', async () => {
    const change = call('addSlowly', { acres: 1 })
    await new Promise((resolve) => setTimeout(resolve, 5))
    expect(host.engine.farm?.connection.inTransaction).toBe(true)
    expect(await call('count')).toMatchObject({ ok: true, value: 1 })
    expect(host.engine.farm?.connection.inTransaction).toBe(false)
    await change
  })

  test('a read never sees rows that a task has not committed', async () => {
    const task = call('addInTask')
    await new Promise((resolve) => setTimeout(resolve, 5))
    expect(host.engine.farm?.connection.inTransaction).toBe(true)
    expect(await call('count')).toMatchObject({ ok: true, value: 0 })
    await task
  })

  test('a change waits for a read that has begun, so that the read sees one state', async () => {
    const read = call('countTwice')
    await new Promise((resolve) => setTimeout(resolve, 5))
    const change = call('add', { acres: 1 })
    expect(await read).toMatchObject({ ok: true, value: [0, 0] })
    expect((await change).ok).toBe(true)
    expect(await call('count')).toMatchObject({ ok: true, value: 1 })
  })

  test('a read does not wait for a task', async () => {
    const task = call('swap')
    await call('count')
    expect(running).toEqual(['task'])
    await task
  })

  test('changes go on beside a solve', async () => {
    let solved = false
    const solve = call('solve').then((reply) => {
      solved = true
      return reply
    })
    expect(await call('add', { acres: 1 })).toMatchObject({ ok: true, value: 1 })
    expect(solved).toBe(false)
    expect(await solve).toMatchObject({ ok: true, value: 'solved' })
  })

  test('a failed task is announced too, since it may have closed a file', async () => {
    expect(await call('swapThenRefuse')).toMatchObject({ ok: false, problems: [{ code: 'bad-file' }] })
    expect(host.news).toMatchObject([{ kind: 'changed', tables: ['field'] }])
  })
})

test('closing waits for the writer, closes the farm and refuses what follows', async () => {
  const change = call('addSlowly', { acres: 1 })
  const farm = host.engine.farm
  await host.server.close()
  expect(await change).toMatchObject({ ok: true })
  expect(farm?.connection.open).toBe(false)
  expect(await call('count')).toMatchObject({ ok: false, problems: [{ code: 'engine-stopped' }] })
})
