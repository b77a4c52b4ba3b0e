/** A pasted block that brings its own headings is told from one that begins with a row. */
import { expect, test } from 'vitest'
import { columnsOf } from '../../../src-shared/sheet/columns.ts'
import { isHeaded } from '../../../src-shared/sheet/match-columns.ts'

const columns = columnsOf('field', { threats: ['spotted wilt'] })
const row = ['Bell Corner', '40', 'irrigated', '4800']

test.each([
  ['in an order of one’s own', [['Name', 'Irrigation', 'Yield goal', 'Ac.'], row], true],
  ['with units, as the table goes out', [['Field', 'Planted (acres)', 'Water'], row], true],
  ['with as many of its own', [['Name', 'Acres', 'Landlord', 'Farm no.', ''], row], true],
  ['with more of its own', [['Name', 'Acres', 'Pump', 'Meter no.', 'Well'], row], false],
  ['a row of the farm', [row, row], false],
  ['a field called as a column is', [['Water', '40', '', '36'], row], false],
  ['headings and nothing else', [['Name', 'Acres', 'Water']], false],
])('%s', (_, block, is) => {
  expect(isHeaded(block, columns)).toBe(is)
})
