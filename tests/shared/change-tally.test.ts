/** The short word beside a plan that is out of date: what changed, counted once each under the name a manager gives it. */
import { expect, test } from 'vitest'
import { changeTally } from '../../src-shared/change-tally.ts'
import { changesBetween } from '../../src-main/engine/plan/changes.ts'
import type { Season } from '../../src-shared/season.ts'
import { smallSeason } from '../support/open-file.ts'

const season = smallSeason()
const [first, ...others] = season.fields
if (first === undefined) throw new Error('The season has fields.')
const dearer = (from: number, to: number) =>
  season.quotes.map((quote, at) =>
    at >= from && at < to ? { ...quote, packPriceCents: quote.packPriceCents + 1 } : quote,
  )

test.each<[string, Partial<Season>, string]>([
  ['nothing', {}, ''],
  ['a note', { fields: [{ ...first, note: 'other' }, ...others] }, ''],
  ['two prices', { quotes: dearer(0, 2) }, '2 prices'],
  ['one field’s acres', { fields: [{ ...first, acres: 90 }, ...others] }, '1 field’s acres'],
  [
    'acres and two other things of a field',
    { fields: [{ ...first, acres: 90, growth: 'slow', tillage: 'strip' }, ...others] },
    '1 field’s acres, 1 field',
  ],
  ['a field gone', { fields: others }, '1 field'],
  [
    'a lock moved and one more',
    {
      locks: [
        { field: 'Hill', variety: 'Bison' },
        { field: 'Long Field', variety: 'Amber' },
      ],
    },
    '2 locks',
  ],
  [
    'kept off',
    { exclusions: [...season.exclusions, { field: 'Hill', variety: 'Bison' }] },
    '1 variety kept off a field',
  ],
  ['several', { quotes: dearer(0, 3), rules: [], carried: [] }, '3 prices, 1 lot on hand, 4 house rules'],
])('%s', (_name, changes, says) => {
  const after = { ...season, ...changes }
  expect(changeTally(season, after)).toBe(says)
  // It says something where the sentences do, and only there.
  expect(changesBetween(season, after).length > 0).toBe(says !== '')
})
