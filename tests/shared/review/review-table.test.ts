/** Whether varieties are told apart, in the words of the table. */
import { expect, it } from 'vitest'
import { differenceOf, spreadOf } from '../../../src-shared/agronomy/mean-interval.ts'
import type { MarginPair } from '../../../src-shared/review/margins.ts'
import { reckon, reviewOf } from '../../../src-shared/review/review.ts'
import { reviewTable } from '../../../src-shared/review/review-table.ts'
import { randomRecord } from '../../support/review-input.ts'

/** [cent/acre] of fields, and what the table says of them. */
const cases: [number[], number[], unknown[]][] = [
  [
    [61_000, 59_000, 64_000, 60_000, 62_000],
    [52_000, 56_000, 54_000, 50_000],
    [82, 'yes'],
  ],
  [
    [61_000, 40_000],
    [52_000, 45_000],
    [20, 'no'],
  ],
  [[61_000], [52_000, 45_000], [null, 'one field tells nothing']],
]

it.each(cases)('%j against %j', (better, other, [dollars, told]) => {
  const difference = differenceOf(spreadOf(better), spreadOf(other))
  const pairs: MarginPair[] = [{ better: 'Amber', other: 'Bison', difference }]
  const review = reviewOf(reckon(randomRecord(3)))
  const { headers, rows } = reviewTable({ ...review, margins: { ...review.margins, pairs } }, 'pairs')
  const [row] = rows
  expect(row?.slice(0, 2)).toEqual(['Amber', 'Bison'])
  expect(row?.[headers.indexOf('Difference $/acre')]).toEqual(
    dollars === null ? null : expect.closeTo(Number(dollars), 6),
  )
  expect(row?.[headers.indexOf('Told apart')]).toBe(told)
})
