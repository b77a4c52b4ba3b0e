/** Drafts as rows: against the plan in hand, changed since, one change taken out; every call with the right draft. */
import { render, screen, waitFor, within } from '@testing-library/svelte'
import { beforeEach, expect, test } from 'vitest'
import type { Transport } from '../../../../src-shared/api.ts'
import type { DraftRow } from '../../../../src-shared/draft.ts'
import type { PlanRecord, PlanTotals } from '../../../../src-shared/plan.ts'
import { useTransport } from '../../../../src-renderer/engine/call.ts'
import { asking } from '../../../../src-renderer/pages/plan/asking.svelte.ts'
import DraftsPart from '../../../../src-renderer/pages/plan/DraftsPart.svelte'

let asked: [name: string, input: unknown][] = []

beforeEach(() => {
  asked = []
  asking.compared = []
  useTransport({
    call: async (name: string, input: unknown) => {
      asked.push([name, input])
      const none = { fields: [], quotes: [], dealers: [], totals: [], rules: [], says: '' }
      return { ok: true, value: name === 'plan.compare' ? none : name === 'draft.list' ? [] : null }
    },
    listen: () => () => undefined,
  } as unknown as Transport)
})

const totals = (costCents: number, cashCents: number, lossCents: number) =>
  ({
    costCents,
    cashCents,
    lossCents,
    seedCents: 0,
    vineCents: 0,
    giveUpCents: 0,
    packs: 10,
    acresLeftOut: 0,
  }) as PlanTotals
const settings: DraftRow['settings'] = {
  riskWeight: 2,
  rulesOff: [{ rule: 'budget' }],
  whatIfs: [
    { kind: 'price', percent: 10 },
    { kind: 'variety-gone', variety: 'Amber' },
  ],
}
const says = ['A dollar counts two.', 'Without the budget.', 'All seed is 10 % dearer.', 'Amber cannot be had.']
const solved: DraftRow = {
  id: 3,
  name: 'Careful',
  createdAt: '',
  settings,
  says,
  plan: {
    id: 30,
    madeAt: '2026-11-26T10:00:00.000Z',
    proof: { status: 'proven', says: 'Proven.' },
    totals: totals(110_000, 60_000, 50_000),
  },
  changed: '2 prices',
  clash: null,
}
const fresh: DraftRow = {
  ...solved,
  id: 4,
  name: 'Fresh',
  settings: { rulesOff: [], whatIfs: [] },
  says: ['Fresh.'],
  plan: null,
  changed: '',
}
const latest = { id: 9, plan: { totals: totals(100_000, 60_000, 40_000) }, changed: '' } as unknown as PlanRecord

const row = (name: string) => screen.getByRole('checkbox', { name: new RegExp(name) }).closest('tr') as HTMLElement

test('a draft stands against the plan in hand and says what has changed since it was solved', () => {
  render(DraftsPart, { drafts: [solved, fresh], latest })
  const cells = within(row('Careful'))
    .getAllByRole('cell')
    .map((cell) => cell.textContent?.replace(/\s+/g, ' ').trim())
  expect(cells.slice(1, 4)).toEqual(['$1,100+$100', '$600the same', '$500+$100'])
  expect(row('Careful').textContent).toContain('Changed since: 2 prices.')
  expect(row('Fresh').textContent).toContain('Not solved yet.')
  // A name that says it all is not said twice.
  expect(within(row('Fresh')).queryByRole('listitem')).toBeNull()
  expect(screen.getByRole<HTMLInputElement>('checkbox', { name: /Fresh/ }).disabled).toBe(true)
  expect(screen.getByRole<HTMLButtonElement>('button', { name: 'Make it the plan: Fresh' }).disabled).toBe(true)
})

test('a draft in which nothing fits says which rules clash, and what settles it goes on top of the draft', async () => {
  const whatIf = { kind: 'unlock' as const, field: 'Creek' }
  const conflict = { rules: [], isMinimal: false, says: 'Two rules clash.', seconds: 0 }
  const rule = { id: 'a', says: 'Rule a.', unit: null, amount: null, settles: true, remedy: 'Enough.' }
  const clash = { conflict: { ...conflict, rules: [rule] }, settling: [{ rule: 'a', whatIf, says: 'Creek is free.' }] }
  render(DraftsPart, { drafts: [{ ...solved, clash }], latest })
  screen.getByRole('button', { name: 'Try: Creek is free.' }).click()
  await waitFor(() => expect(asked.map(([name]) => name)).toContain('draft.solve'))
  expect(asked[0]).toEqual([
    'draft.save',
    { id: 3, name: 'Careful', settings: { ...settings, whatIfs: [...settings.whatIfs, whatIf] } },
  ])
})

test.each([
  [0, { rulesOff: settings.rulesOff, whatIfs: settings.whatIfs }],
  [1, { riskWeight: 2, rulesOff: [], whatIfs: settings.whatIfs }],
  [2, { riskWeight: 2, rulesOff: settings.rulesOff, whatIfs: [settings.whatIfs[1]] }],
  [3, { riskWeight: 2, rulesOff: settings.rulesOff, whatIfs: [settings.whatIfs[0]] }],
])('change %i is taken out, the others stay, and the draft is solved again', async (at, left) => {
  render(DraftsPart, { drafts: [solved], latest })
  screen.getByRole('button', { name: `Take out of “Careful”: ${says[at]}` }).click()
  await waitFor(() => expect(asked.map(([name]) => name)).toContain('draft.solve'))
  expect(asked[0]).toEqual(['draft.save', { id: 3, name: 'Careful', settings: left }])
})

test('set beside, it is compared with the plan in hand, from that plan', async () => {
  render(DraftsPart, { drafts: [solved], latest })
  screen.getByRole('checkbox', { name: /Careful/ }).click()
  await waitFor(() => expect(asked).toContainEqual(['plan.compare', { a: 9, b: 30 }]))
  const table = within(screen.getByRole('region', { name: 'Side by side' }))
  expect(table.getAllByRole('columnheader').map((head) => head.textContent?.trim())).toEqual([
    'Plan in hand',
    'Carefulchanged since: 2 prices',
  ])
  await waitFor(() => expect(table.getByText('Every field is the same')).toBeTruthy())
  screen.getByRole('checkbox', { name: /Careful/ }).click()
  await waitFor(() => expect(screen.queryByRole('region', { name: 'Side by side' })).toBeNull())
})

test('where nothing fits, drafts stand beside one another', async () => {
  const other = { ...solved, id: 5, name: 'Bold', plan: { ...(solved.plan as NonNullable<DraftRow['plan']>), id: 50 } }
  asking.compared = [3, 5]
  render(DraftsPart, { drafts: [solved, other], latest: { ...latest, plan: null } })
  await waitFor(() => expect(asked).toEqual([['plan.compare', { a: 30, b: 50 }]]))
})
