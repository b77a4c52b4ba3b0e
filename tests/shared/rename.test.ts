/** Names inside sentences and titles: whole ones only, and none where two things bear it. */
import { expect, test } from 'vitest'
import { renaming, type Names } from '../../src-shared/rename.ts'

const none = { dealer: {}, window: {}, measure: {} }
const before: Names = {
  field: { 1: 'North', 2: 'North 40', 3: 'Amber' },
  variety: { 7: 'Amber', 8: 'Bison (new)' },
  ...none,
}

test('renames whole names only, the longest that fits', () => {
  const renamed = renaming(before, { ...before, field: { ...before.field, 1: 'South' } })!
  expect(renamed.inWords('North, North 40 and Northern: “North”.')).toBe('South, North 40 and Northern: “South”.')
  expect(renamed.of('field', 'North')).toBe('South')
  expect(renamed.of('variety', 'North')).toBe('North')
})

test('takes signs in a name as they are, in the old one and in the new one', () => {
  const renamed = renaming(before, { ...before, variety: { 7: 'Amber', 8: '$& new' } })!
  expect(renamed.inWords('North Seed · Bison (new) · early order')).toBe('North Seed · $& new · early order')
})

test('leaves a word that a field and a variety both bear, where it does not say which is meant', () => {
  const renamed = renaming(before, { ...before, variety: { 7: 'Topaz', 8: 'Bison (new)' } })!
  expect(renamed.inWords('Amber on Amber')).toBe('Amber on Amber')
  expect([renamed.of('field', 'Amber'), renamed.of('variety', 'Amber')]).toEqual(['Amber', 'Topaz'])
})

test('nothing is renamed where rows only came or went', () => {
  expect(renaming(before, { ...before, field: { 1: 'North', 9: 'New' } })).toBeNull()
  expect(renaming({}, before)).toBeNull()
})
