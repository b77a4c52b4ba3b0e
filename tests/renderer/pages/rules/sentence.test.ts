/** House rules as a screen reader says them: every amount with its unit, one of a thing in the singular. */
import { expect, test } from 'vitest'
import { spokenRule } from '../../../../src-renderer/pages/rules/sentence.ts'

test.each([
  ['largest-share', '40', 'Alder', 'No more than 40% of the acres in Alder.'],
  ['budget', '1200', '', 'Spend no more than $1200 on seed and measures.'],
  ['contract', '50', 'high oleic', 'Plant at least 50 acres of high oleic.'],
  ['most-varieties', '1', '', 'Plant no more than 1 variety.'],
  ['most-dealers', '1', '', 'Order from no more than 1 dealer.'],
  ['most-varieties', '3', '', 'Plant no more than 3 varieties.'],
  ['fewest-varieties', '', '', 'Plant at least so much varieties.'],
] as const)('%s of %s', (rule, amount, subject, says) => {
  expect(spokenRule(rule, amount, subject)).toBe(says)
})
