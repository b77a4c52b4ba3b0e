/** What is said of a proof: never more than was proven. */
import { expect, it, test } from 'vitest'
import { gapOf, saysOf, statusOf } from '../../src-main/engine/plan/proof.ts'

it.each([
  [100, 90, 0.1],
  [100, 100, 0],
  // A bound may pass a cost by the arithmetic's own error.
  [100, 101, 0],
  [0, 0, 0],
  [null, 90, null],
  [100, null, null],
  [100, -Infinity, null],
])('of a cost of %s and a bound of %s the gap is %s', (cost, bound, gap) => {
  expect(gapOf(cost, bound)).toBe(gap)
})

test.each([
  ['nothing-fits', false, null, 'nothing-fits', 'No plan keeps every rule.'],
  ['time', false, null, 'nothing-found', 'No plan was found yet; none was ruled out either.'],
  ['proof', true, 0, 'proven', 'Proven least cost.'],
  ['gap', true, 0.001, 'proven', 'Proven least cost to within 0.10 %. No plan can be more than $100 cheaper.'],
  ['time', true, 0.05, 'within', 'Within 5.00 % of least cost. No plan can be more than $5,000 cheaper.'],
  ['time', true, 0.00002, 'proven', 'Proven least cost to within 0.002 %. No plan can be more than $2 cheaper.'],
  [
    'you',
    true,
    0.05,
    'stopped',
    'Stopped at your request, within 5.00 % of least cost. No plan can be more than $5,000 cheaper.',
  ],
  [
    'you',
    true,
    null,
    'stopped',
    'Stopped at your request, within an unknown share of least cost. How much cheaper a plan could be is not known.',
  ],
] as const)('ended by %s, plan %s, gap %s: %s', (endedBy, hasPlan, gap, status, says) => {
  expect(statusOf(endedBy, hasPlan, gap, 0.001)).toBe(status)
  const costCents = hasPlan ? 10_000_000 : null
  expect(saysOf(status, gap, costCents, gap === null ? null : 10_000_000 * (1 - gap))).toBe(says)
})
