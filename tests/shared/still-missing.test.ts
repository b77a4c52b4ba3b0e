/** What a farm lacks, in the order of what matters, and nothing where nothing is missing. */
import { expect, test } from 'vitest'
import { stillMissing, type FarmSoFar } from '../../src-shared/region/still-missing.ts'

const empty: FarmSoFar = {
  fields: [],
  varieties: [],
  quotes: [],
  machines: [],
  measures: [],
  threats: ['spotted wilt'],
  hasOwnPrice: false,
}
const whole: FarmSoFar = {
  fields: [{ name: 'Hill', history: [{ season: 2026, crop: 'cotton' }], pressure: { 'spotted wilt': 'low' } }],
  varieties: [{ name: 'Brindle', ratings: { 'spotted wilt': 3 } }],
  quotes: [{ variety: 'brindle' }],
  machines: [{ kind: 'planter' }, { kind: 'digger' }, { kind: 'combine' }],
  measures: [{}],
  threats: ['spotted wilt'],
  hasOwnPrice: true,
}

test('an empty farm: what no plan can be without comes first', () => {
  const missing = stillMissing(empty)
  expect(missing.slice(0, 3).map(({ stage, isNeeded }) => [stage, isNeeded])).toEqual([
    ['fields', true],
    ['varieties', true],
    ['quotes', true],
  ])
  expect(missing.slice(3).every(({ isNeeded }) => !isNeeded)).toBe(true)
})

test('a whole farm lacks nothing; each thing taken away is named alone', () => {
  expect(stillMissing(whole)).toEqual([])
  const without: [Partial<FarmSoFar>, RegExp][] = [
    [{ fields: [{ ...whole.fields[0]!, history: [] }] }, /1 field has no crop history/],
    [{ fields: [{ ...whole.fields[0]!, pressure: {} }] }, /1 field shows no disease history/],
    [{ varieties: [{ name: 'Brindle', ratings: {} }] }, /1 variety lacks disease ratings/],
    [{ quotes: [{ variety: 'Other' }] }, /1 variety has no quote/],
    [{ machines: whole.machines.slice(1) }, /Add a planter/],
    [{ measures: [] }, /spray program/],
    [{ hasOwnPrice: false }, /price of your peanuts/],
  ]
  for (const [change, says] of without) {
    const missing = stillMissing({ ...whole, ...change })
    expect(missing.map(({ what }) => what)).toEqual([expect.stringMatching(says)])
  }
})
