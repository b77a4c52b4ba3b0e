/** Trial tables as people paste them. */
import { expect, it } from 'vitest'
import { readTrialTable } from '../../../src-shared/sheet/trial-table.ts'

it('reads a table with the headings of a bulletin', () => {
  const { rows, problems } = readTrialTable([
    ['Cultivar', 'Location', 'Year', 'Yield (lb/ac)', 'LSD', 'Irrigated'],
    ['Amber', 'North Station', '2025', '5,210', '380', 'yes'],
    ['Bison', 'North Station', '2025', '4890', '', 'no'],
    ['', '', '', '', '', ''],
  ])
  expect(problems).toEqual([])
  expect(rows).toEqual([
    { variety: 'Amber', place: 'North Station', year: 2025, yieldLb: 5210, lsdLb: 380, water: 'irrigated' },
    { variety: 'Bison', place: 'North Station', year: 2025, yieldLb: 4890, water: 'dryland' },
  ])
})

it('names each row that it cannot read, and keeps the others', () => {
  const { rows, problems } = readTrialTable([
    ['variety', 'yield', 'water'],
    ['Amber', '5000', 'irrigated'],
    ['Bison', '2.4 tons', ''],
    ['', '5000', ''],
    ['Cedar', '5000', 'sometimes'],
    ['Dove', '4', ''],
  ])
  expect(rows.map(({ variety }) => variety)).toEqual(['Amber'])
  expect(problems.map(({ where }) => where?.row)).toEqual([3, 4, 5, 6])
})

it('says which column is missing', () => {
  const { rows, problems } = readTrialTable([
    ['Amber', '5000'],
    ['Bison', '4900'],
  ])
  expect(rows).toEqual([])
  expect(problems[0]!.what).toBe('The first row has no column “Variety” and “Yield, lb/ac”.')
})
