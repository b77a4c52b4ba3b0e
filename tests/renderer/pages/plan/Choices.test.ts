/** What a field could have been, as it is read: bounds marked as bounds, figures within the gap as no difference, why not. */
import { render, screen, within } from '@testing-library/svelte'
import { expect, test, vi } from 'vitest'
import type { FieldRow } from '../../../../src-shared/field.ts'
import type { CostFigure, FieldChoice, Reasons } from '../../../../src-shared/reasons.ts'
import Choices from '../../../../src-renderer/pages/plan/Choices.svelte'

const choice = (variety: string, cost: CostFigure, more: Partial<FieldChoice> = {}): FieldChoice => ({
  field: 'Creek',
  variety,
  cost,
  cashCents: null,
  lossCents: null,
  otherFields: null,
  ...more,
})

const reasons: Reasons = {
  choices: [
    choice('Amber', { kind: 'at-least', cents: 32_400, uncertainCents: null, says: 'at least $324' }),
    choice(
      'Bison',
      { kind: 'refined', cents: 231_800, uncertainCents: 50_900, says: '$2,318' },
      { cashCents: 84_500, lossCents: -413_700, vineCents: 61_000, giveUpCents: 500_000, otherFields: ['Mill'] },
    ),
    choice(
      'Cedar',
      { kind: 'no-difference', cents: 10, uncertainCents: 100, says: 'no measurable difference' },
      { otherFields: [] },
    ),
    choice('Dune', {
      kind: 'impossible',
      cents: null,
      uncertainCents: 0,
      says: 'not possible: no plan keeps every rule',
    }),
    choice('Amber and Bison', { kind: 'refined', cents: 500_000, uncertainCents: 0, says: '$5,000' }),
  ],
  excluded: [
    {
      field: 'Creek',
      variety: 'Elm',
      windows: ['Early', 'Usual'],
      isEverywhere: true,
      reasons: ['The house says no.'],
    },
    { field: 'Creek', variety: 'Amber', windows: ['Early'], isEverywhere: false, reasons: ['Twin rows only.'] },
    { field: 'Mill', variety: 'Oak', windows: ['Usual'], isEverywhere: true, reasons: ['Elsewhere.'] },
  ],
  entryPrices: [
    { variety: 'Bison', kind: 'comes-in', factor: 0.9, quotes: [], says: 'Comes in at 90 % of its price.' },
  ],
  ruleCosts: [],
  isRefined: false,
}

function show(known: Reasons | null = reasons) {
  const take = vi.fn()
  const keepOff = vi.fn()
  render(Choices, {
    field: { id: 1, name: 'Creek', keptOff: ['Fir'] } as unknown as FieldRow,
    reasons: known,
    refine: vi.fn(),
    planted: ['Gale'],
    varieties: ['Amber', 'Bison', 'Cedar', 'Dune', 'Elm', 'Fir', 'Gale'],
    hatchOf: () => 0,
    take,
    keepOff,
  })
  const item = (variety: string) => {
    const found = screen.getAllByRole('listitem').find((each) => each.textContent?.trim().startsWith(variety))
    if (!found) throw new Error(`No line about ${variety}.`)
    return found
  }
  return { take, keepOff, item }
}

test('a bound is marked as one; what was worked out says how well it is known and what comes with it', () => {
  const { item } = show()
  expect(item('Amber').textContent).toMatch(/at least \$324.*quick bound/s)
  const worked = item('Bison').textContent?.replace(/\s+/g, ' ')
  expect(worked).toContain('$2,318 more')
  expect(worked).toContain(
    'worked out to within $509: cash +$845, expected loss −$4,137, vine +$610, yield given up +$5,000, Mill would change too',
  )
  expect(worked).toContain('Comes in at 90 % of its price.')
  expect(item('Cedar').textContent).toMatch(/no measurable difference/)
  expect(item('Cedar').textContent).not.toMatch(/more|quick bound/)
})

test('a choice is taken or kept off by its own button; what cannot be is not offered', () => {
  const { take, keepOff, item } = show()
  within(item('Bison')).getByRole('button', { name: 'Take this: lock Creek to Bison and work the plan out' }).click()
  expect(take).toHaveBeenCalledExactlyOnceWith('Bison')
  within(item('Bison')).getByRole('button', { name: 'Leave it off this field: Bison' }).click()
  screen.getByRole('button', { name: 'Leave Gale off this field' }).click()
  screen.getByRole('button', { name: 'Let Fir back' }).click()
  expect(keepOff.mock.calls).toEqual([
    ['Bison', true],
    ['Gale', true],
    ['Fir', false],
  ])
  expect(within(item('Dune')).queryByRole('button')).toBeNull()
  // Two varieties on one field are no lock.
  expect(within(item('Amber and Bison')).queryByRole('button')).toBeNull()
})

test('what may not be planted says why, of this field only', () => {
  const { item } = show()
  expect(item('Elm').textContent).toContain('The house says no.')
  expect(screen.getByText(/Early window only: Twin rows only\./)).toBeTruthy()
  expect(screen.queryByText(/Elsewhere/)).toBeNull()
})

test('with every choice worked out there is nothing left to work out', () => {
  show({ ...reasons, choices: reasons.choices.filter(({ cost }) => cost.kind !== 'at-least') })
  expect(screen.queryByRole('button', { name: 'Work it out' })).toBeNull()
  expect(screen.queryByText(/quick bound/)).toBeNull()
})
