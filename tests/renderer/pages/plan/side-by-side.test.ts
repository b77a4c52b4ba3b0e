/** Plans side by side: a plan that does not differ from the first on a row has what the first has, told by the others. */
import { expect, test } from 'vitest'
import type { Comparison } from '../../../../src-shared/comparison.ts'
import type { PlanTotals } from '../../../../src-shared/plan.ts'
import { sideBySide } from '../../../../src-renderer/pages/plan/side-by-side.ts'

const totals = {} as PlanTotals
const none: Comparison = { fields: [], quotes: [], dealers: [], totals: [], rules: [], says: '' }
const field = (name: string, a: string, b: string) => ({ field: name, a: [a], b: [b], cashCents: 5, lossCents: -7 })
const quote = (name: string, aPacks: number, bPacks: number) => ({
  quote: name,
  dealer: 'D',
  variety: 'V',
  aPacks,
  bPacks,
  cents: 100,
})

test('rows of either comparison, sorted, the first plan first', () => {
  const rows = sideBySide([
    { totals, comparison: { ...none, fields: [field('Mill', 'Amber', 'Bison'), field('Creek', 'Amber', 'Cedar')] } },
    {
      totals,
      comparison: {
        ...none,
        fields: [field('Mill', 'Amber', 'Cedar')],
        dealers: [{ dealer: 'North', aCents: 500, bCents: 0 }],
      },
    },
  ])
  expect(rows.fields).toEqual([
    { field: 'Creek', cells: [['Amber'], ['Cedar'], ['Amber']], money: [null, { cashCents: 5, lossCents: -7 }, null] },
    {
      field: 'Mill',
      cells: [['Amber'], ['Bison'], ['Cedar']],
      money: [null, { cashCents: 5, lossCents: -7 }, { cashCents: 5, lossCents: -7 }],
    },
  ])
  expect(rows.dealers).toEqual([{ dealer: 'North', cents: [500, 500, 0] }])
  expect(rows.quotes).toEqual([])
  expect(rows.isPricedOtherwise).toBe(false)
})

test('as many packs at another price are not packs that differ, and that is said', () => {
  const rows = sideBySide([
    { totals, comparison: { ...none, quotes: [quote('Q1', 10, 10), quote('Q2', 0, 3)] } },
    { totals, comparison: none },
  ])
  expect(rows.quotes).toEqual([{ quote: 'Q2', packs: [0, 3, 0] }])
  expect(rows.isPricedOtherwise).toBe(true)
})

test('nothing differs', () => {
  expect(sideBySide([{ totals, comparison: none }])).toEqual({
    fields: [],
    quotes: [],
    dealers: [],
    isPricedOtherwise: false,
  })
})
