/** Parts of an answer that did not change stay the same objects; nothing given is changed. */
import { expect, test } from 'vitest'
import { keepSame } from '../../../src-renderer/engine/same.ts'

const rows = () => [
  { id: 1, name: 'Home', history: [{ season: 2026, crop: 'corn' }] },
  { id: 2, name: 'Creek', history: [] },
]

test('an answer that says the same is the one known', () => {
  const before = { rows: rows(), count: 2, none: null }
  expect(keepSame(before, structuredClone(before))).toBe(before)
})

test('one changed row leaves the others as they are', () => {
  const before = rows()
  const after = structuredClone(before)
  Object.assign(after[1] ?? {}, { name: 'Creek Bottom' })
  const kept = keepSame(before, after)
  expect(kept).not.toBe(before)
  expect(kept).toEqual(after)
  expect(kept[0]).toBe(before[0])
  expect(kept[1]?.history).toBe(before[1]?.history)
})

test('rows are known by their id, wherever they stand', () => {
  const before = rows()
  const after = [{ id: 3, name: 'New', history: [] }, ...structuredClone(before).reverse()]
  const kept = keepSame(before, after)
  expect(kept).toEqual(after)
  expect(kept[1]).toBe(before[1])
  expect(kept[2]).toBe(before[0])
})

test.each([
  [{ a: 1, b: 2 }, { a: 1 }],
  [{ a: 1 }, { a: 1, b: undefined }],
  [[1, 2], [1]],
  [[1], { 0: 1 }],
  [null, { a: 1 }],
  [{ a: 1 }, null],
  ['1', 1],
])('%j becomes %j', (before, after) => {
  const frozen = structuredClone(before)
  expect(keepSame(before, after)).toEqual(after)
  expect(keepSame(before, after)).not.toBe(before)
  expect(before).toEqual(frozen)
})
