/** Points of a curve against the plan in hand, which is on the curve, beside it, or not there. */
import { expect, test } from 'vitest'
import type { Plan, PlanTotals } from '../../../../src-shared/plan.ts'
import { curveRows, otherFields, paidOf } from '../../../../src-renderer/pages/plan/curve-rows.ts'

const totals = {
  cashCents: 70_000,
  vineCents: 20_000,
  giveUpCents: 10_000,
  leftOutCents: 0,
  lossCents: 40_000,
  costCents: 140_000,
} as PlanTotals
const points = [
  { lossCents: 30_000, paidCents: 120_000 },
  { lossCents: 40_000, paidCents: 100_000 },
]

test('what is paid and forgone is the cost without the expected loss', () => {
  expect(paidOf(totals)).toBe(totals.costCents - totals.lossCents)
})

test('a point says what it costs and saves; the one that is the plan in hand is marked', () => {
  expect(curveRows(points, totals)).toEqual([
    { point: 0, lossCents: 30_000, paidCents: 120_000, paidMore: 20_000, lossMore: -10_000, isInHand: false },
    { point: 1, lossCents: 40_000, paidCents: 100_000, paidMore: 0, lossMore: 0, isInHand: true },
  ])
  // As much paid, but not as much risked: another plan.
  expect(curveRows([{ lossCents: 39_000, paidCents: 100_000 }], totals)[0]?.isInHand).toBe(false)
})

test('without a plan nothing is against it', () => {
  expect(curveRows(points, null).map(({ paidMore, lossMore, isInHand }) => [paidMore, lossMore, isInHand])).toEqual([
    [null, null, false],
    [null, null, false],
  ])
})

test('fields that have other varieties, whatever the order of their blocks', () => {
  const plan = (...blocks: [field: string, variety: string][]) =>
    ({ blocks: blocks.map(([field, variety]) => ({ field, variety })) }) as Plan
  const a = plan(['Creek', 'Amber'], ['Creek', 'Bison'], ['Mill', 'Amber'], ['Hill', 'Cedar'])
  const b = plan(['Creek', 'Bison'], ['Creek', 'Amber'], ['Mill', 'Cedar'], ['Far', 'Amber'])
  expect(otherFields(a, b)).toEqual(['Far', 'Hill', 'Mill'])
  expect(otherFields(a, a)).toEqual([])
})
