/** What is found counts before what was known, each once; a field's choices stand cheapest first. */
import { expect, test } from 'vitest'
import type { CostFigure, FieldChoice, Reasons } from '../../../../src-shared/reasons.ts'
import { choicesOf, withFound } from '../../../../src-renderer/pages/plan/known-reasons.ts'

const figure = (kind: CostFigure['kind'], cents: number | null): CostFigure => ({
  kind,
  cents,
  uncertainCents: null,
  says: kind,
})
const choice = (field: string, variety: string, kind: CostFigure['kind'], cents: number | null): FieldChoice => ({
  field,
  variety,
  cost: figure(kind, cents),
  cashCents: null,
  lossCents: null,
  otherFields: null,
})
const known: Reasons = {
  choices: [
    choice('Creek', 'Amber', 'at-least', 100),
    choice('Creek', 'Bison', 'at-least', 200),
    choice('Mill', 'Amber', 'at-least', 1),
  ],
  excluded: [],
  entryPrices: [],
  ruleCosts: [{ rule: 'budget', ruleSays: 'old', cost: figure('refined', 5) }],
  isRefined: false,
}

test('the newest word on each choice, variety and rule counts', () => {
  const now = withFound(known, [
    { kind: 'field', choices: [choice('Creek', 'Amber', 'refined', 900)] },
    { kind: 'rule', ruleCost: { rule: 'budget', ruleSays: 'new', cost: figure('no-difference', 0) } },
    {
      kind: 'entry-price',
      entryPrice: { variety: 'Cedar', kind: 'comes-in', factor: 0.9, quotes: [], says: 'in at 90 %' },
    },
    { kind: 'field', choices: [choice('Creek', 'Cedar', 'impossible', null)] },
  ])
  expect(choicesOf(now, 'Creek').map(({ variety, cost }) => [variety, cost.kind])).toEqual([
    ['Bison', 'at-least'],
    ['Amber', 'refined'],
    ['Cedar', 'impossible'],
  ])
  expect(choicesOf(now, 'Mill')).toHaveLength(1)
  expect(now.ruleCosts.map(({ ruleSays }) => ruleSays)).toEqual(['new'])
  expect(now.entryPrices).toHaveLength(1)
  // What was known is not written over.
  expect(known.choices[0]?.cost.kind).toBe('at-least')
})
