/**
 * Every call of the contract with a thousand arguments that no window sends: wrong kinds, huge, deep, SQL, prototypes. Each is
 * answered with a Problem or does what it says; none is a bug of ours, none that is refused changes a byte.
 */
import fc from 'fast-check'
import * as v from 'valibot'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { limit } from '../support/limit.ts'
import { api, type CallName } from '../../src-shared/api.ts'
import { createFarm } from '../../src-main/engine/farm-file.ts'
import { join } from 'node:path'
import { startTestEngine, type TestEngine } from '../support/engine.ts'
import { dumpOf, smallSeason } from '../support/open-file.ts'
import { seedFor, takesAll } from '../support/sampled.ts'

/** The whole set is a thousand a call (`npm run test:all`); each commit takes 80 others. */
const tries = process.env.STANDWELL_SAFETY === 'long' ? 5000 : takesAll ? 1000 : 80

let host: TestEngine
beforeAll(() => {
  host = startTestEngine()
  const created = createFarm(join(host.engine.home, 'Creek.farm'), smallSeason())
  if (!created.ok) throw new Error(JSON.stringify(created.problems))
  host.engine.farm = created.value
})
afterAll(() => host.close())

let deep: unknown = 'bottom'
for (let level = 0; level < 500; level += 1) deep = level % 2 ? [deep] : { deeper: deep }

const values = fc.oneof(
  { arbitrary: fc.anything({ withBigInt: false, withNullPrototype: true }), weight: 3 },
  fc.constantFrom<unknown>(
    null,
    undefined,
    NaN,
    Infinity,
    -0,
    1e308,
    -1,
    1.5,
    0,
    1,
    2,
    Number.MAX_SAFE_INTEGER + 2,
    '',
    ' ',
    '\u0000',
    'x'.repeat(100_000),
    "'; DROP TABLE farm; --",
    '" OR 1=1 --',
    '../../etc/passwd',
    'C:\\Windows\\system32',
    'con.farm',
    '__proto__',
    'constructor',
    '=1+1',
    '2027-02-30',
    '2027-04-28',
    'Creek Bottom',
    'acres',
    true,
    [],
    {},
    [[]],
    [{}],
    deep,
    JSON.parse('{"__proto__":{"isAdmin":true},"constructor":{"prototype":{"x":1}}}') as unknown,
  ),
)

/** The keys that a call takes, each with anything in it, some left out, one too many. */
function argumentsOf(schema: v.GenericSchema): fc.Arbitrary<unknown> {
  const entries = (schema as { entries?: Record<string, v.GenericSchema> }).entries ?? {}
  const keys = Object.fromEntries(
    Object.entries(entries).map(([key, entry]) => [
      key,
      fc.oneof({ arbitrary: values, weight: 3 }, argumentsOf(entry)),
    ]),
  )
  return fc.oneof(
    { arbitrary: fc.record(keys, { requiredKeys: [] }), weight: 6 },
    fc.tuple(fc.record(keys), fc.dictionary(fc.string(), values)).map(([own, more]) => ({ ...more, ...own })),
    values,
  )
}

const names = Object.keys(api) as CallName[]

test.each(names)('%s', limit(300), async (name) => {
  const { kind, input } = api[name] as { kind: string; input: v.GenericSchema }
  const { connection } = host.engine.farm!
  host.bugs.length = 0
  let before = JSON.stringify(dumpOf(connection))
  await fc.assert(
    fc.asyncProperty(argumentsOf(input), async (given) => {
      const isTaken = v.is(input, given)
      // What opens another farm, or works for seconds, is what it is for; here only what is refused is of interest.
      if (isTaken && kind === 'task') return
      const reply = await host.server.call(name, given)
      if (!isTaken) expect(reply.ok).toBe(false)
      if (!reply.ok) {
        expect(reply.problems.length).toBeGreaterThan(0)
        expect(reply.problems.map(({ code }) => code)).not.toContain('bug')
      }
      if (kind !== 'change' || !isTaken) return
      const after = JSON.stringify(dumpOf(connection))
      if (!reply.ok) expect(after).toBe(before)
      before = after
    }),
    { numRuns: tries, seed: takesAll ? 2027 : seedFor(name) | 0 },
  )
  expect(JSON.stringify(dumpOf(connection))).toBe(before)
  expect(host.bugs).toEqual([])
  expect(({} as Record<string, unknown>)['isAdmin']).toBeUndefined()
})

test('names that no contract has', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.oneof(fc.string(), fc.constantFrom('__proto__', 'toString', 'valueOf', 'hasOwnProperty')),
      async (name) => {
        fc.pre(!Object.hasOwn(api, name))
        const reply = await host.server.call(name, {})
        expect(reply).toMatchObject({ ok: false, problems: [{ code: 'unknown-call' }] })
      },
    ),
    { numRuns: tries },
  )
})
