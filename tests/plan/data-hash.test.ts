/** The fingerprint of data: of their JSON with the keys in order, whatever order they came in. */
import fc from 'fast-check'
import { createHash } from 'node:crypto'
import { expect, test } from 'vitest'
import { dataHash } from '../../src-main/engine/plan/data-hash.ts'

/** Keys in order all the way down; JSON itself leaves out what has no value. */
function inOrder(data: unknown): unknown {
  if (Array.isArray(data)) return data.map(inOrder)
  if (typeof data !== 'object' || data === null) return data
  // Made from a list, so that a key such as __proto__ stays a key; numbers as keys would come first, so none is one.
  return Object.fromEntries(
    Object.entries(data)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, value]) => [key, inOrder(value)]),
  )
}

const key = fc.string().map((text) => `k${text}`)
const { data } = fc.letrec<{ data: unknown }>((tie) => ({
  data: fc.oneof(
    { maxDepth: 4 },
    fc.constantFrom(null, undefined, true, false, Number.NaN, Infinity, -0),
    fc.double(),
    fc.string(),
    fc.array(tie('data')),
    fc.dictionary(key, tie('data')),
  ),
}))

test('is that of its JSON, keys in order', () => {
  fc.assert(
    fc.property(data, (given) => {
      const json = JSON.stringify(inOrder(given)) ?? 'null'
      expect(dataHash(given)).toBe(createHash('sha256').update(json).digest('hex'))
    }),
    { numRuns: 1000 },
  )
})

test('is the same in whatever order the keys came', () => {
  expect(dataHash([{ a: 1, b: ['x'] }])).toBe(dataHash([{ b: ['x'], a: 1 }]))
  expect(dataHash([{ a: 1 }])).not.toBe(dataHash([{ a: 2 }]))
})
