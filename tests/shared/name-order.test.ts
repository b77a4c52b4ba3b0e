/** Names in the order in which people look for them. */
import { expect, test } from 'vitest'
import { byName, compareNames } from '../../src-shared/name-order.ts'

test('figures in a name count as figures, and great letters stand among small ones', () => {
  const fields = ['Home 10', 'home 2', 'Creek', 'Home 1', 'éclair', 'East', '10', '9']
  expect(fields.sort(compareNames)).toEqual(['9', '10', 'Creek', 'East', 'éclair', 'Home 1', 'home 2', 'Home 10'])
})

test('two names that read alike have one order all the same', () => {
  expect(['1', '01', '001'].sort(compareNames)).toEqual(['001', '01', '1'])
  expect(['1', '001', '01'].sort(compareNames)).toEqual(['001', '01', '1'])
})

test('things go by the first name that differs, a missing one first', () => {
  const rows = [
    { dealer: 'B', lot: 'L10' },
    { dealer: 'B', lot: 'L2' },
    { dealer: 'A', lot: 'L3' },
    { dealer: null, lot: 'L4' },
  ]
  const sorted = rows.toSorted(
    byName(
      ({ dealer }) => dealer,
      ({ lot }) => lot,
    ),
  )
  expect(sorted.map(({ lot }) => lot)).toEqual(['L4', 'L3', 'L2', 'L10'])
})
