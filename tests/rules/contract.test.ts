/** The contract is whole: each call has a handler and no more, and no name reaches anything that is not a call. */
import { describe, expect, test } from 'vitest'
import type { CallName, TableName } from '../../src-shared/api.ts'
import { api, tableNames } from '../../src-shared/api.ts'
import type { Handlers } from '../../src-main/engine/handlers.ts'
import { handlers } from '../../src-main/engine/handlers.ts'
import { withServer } from '../support/engine.ts'

const names = Object.keys(api) as CallName[]

test('every call has a handler, and every handler a call', () => {
  expect(Object.keys(handlers).sort()).toEqual([...names].sort())
  expect(names.filter((name) => typeof handlers[name] !== 'function')).toEqual([])
})

test('a missing, a spare and a wrong handler do not compile', () => {
  // The compiler is the test: each of these lines is an error, or `npm run check` fails for an unused expectation.
  const { 'farm.current': _left, ...rest } = handlers
  // @ts-expect-error farm.current is missing
  const missing: Handlers = rest
  // @ts-expect-error no.such is not in the contract
  const spare: Handlers = { ...handlers, 'no.such': () => null }
  // @ts-expect-error field.list gives rows, not a number
  const wrong: Handlers = { ...handlers, 'field.list': () => 7 }
  expect([missing, spare, wrong]).toHaveLength(3)
})

describe.each(names)('%s', (name) => {
  const call = api[name] as { kind: string; tables: readonly TableName[]; undo?: string; beside?: true }
  test('names tables that exist, and says its undo words only for a change', () => {
    expect(call.tables.filter((table) => !tableNames.includes(table))).toEqual([])
    if (call.undo !== undefined) expect(call.kind).toBe('change')
    if (call.beside !== undefined) expect(call.kind).toBe('task')
    if (call.kind === 'change') expect(call.tables.length).toBeGreaterThan(0)
  })

  test('refuses input of another shape', async () => {
    for (const input of [undefined, null, 7, 'x', [], { surprise: 1 }]) {
      const reply = await withServer((server) => server.call(name, input))
      const codes = reply.ok ? ['taken'] : reply.problems.map(({ code }) => code)
      expect(new Set(codes), JSON.stringify(input)).toEqual(new Set(['bad-value']))
    }
  })
})

test.each(['', 'no.such', '__proto__', 'constructor', 'toString', 'hasOwnProperty', 'farm', 'FARM.CURRENT'])(
  'the name “%s” is refused',
  async (name) => {
    const reply = await withServer((server) => server.call(name, {}))
    expect(reply).toMatchObject({ ok: false, problems: [{ code: 'unknown-call' }] })
  },
)
