/** What is usual is said beside a value that lies beyond it; the value is taken. */
import { expect, it } from 'vitest'
import { typedColumn } from '../../../src-renderer/grid/columns.ts'
import { columnsOf } from '../../../src-shared/sheet/columns.ts'

const column = (sheet: 'field' | 'variety', id: string) => {
  const found = columnsOf(sheet, { threats: [] }).find((each) => each.id === id)
  if (found === undefined) throw new Error(`${sheet} has no ${id}`)
  return typedColumn<Record<string, unknown>>(found)
}

it.each([
  ['field', 'yieldGoalLb', 400, 'usually 1,500 to 7,500'],
  ['field', 'yieldGoalLb', 4000, null],
  ['field', 'yieldGoalLb', 12_000, 'usually 1,500 to 7,500'],
  ['variety', 'germination', 0.4, 'usually 65 to 98'],
  ['variety', 'germination', 0.85, null],
  ['variety', 'seedsPerPound', 1400, 'usually 450 to 1,000'],
] as const)('%s %s of %s', (sheet, id, value, says) => {
  expect(column(sheet, id).unusual?.({ id: 1, [id]: value })).toBe(says)
})

it('says nothing of an empty cell, nor where nothing is known to be usual', () => {
  expect(column('field', 'yieldGoalLb').unusual?.({ id: 1 })).toBeNull()
  expect(column('field', 'acres').unusual).toBeUndefined()
})
