/** Rules in force: dearest first, those without a difference folded away where they are many, tried without by one click. */
import { render, screen, waitFor, within } from '@testing-library/svelte'
import { beforeEach, expect, test, vi } from 'vitest'
import type { Transport } from '../../../../src-shared/api.ts'
import type { Plan } from '../../../../src-shared/plan.ts'
import type { CostFigure, Reasons, RuleInForce } from '../../../../src-shared/reasons.ts'
import { useTransport } from '../../../../src-renderer/engine/call.ts'
import RulesPart from '../../../../src-renderer/pages/plan/RulesPart.svelte'

const rule = (id: string, without: RuleInForce['without'] = { kind: 'rule-off', rule: 'budget' }): RuleInForce => ({
  rule: id,
  says: `Rule ${id}.`,
  without,
  withoutSays: without === null ? '' : `Without rule ${id}.`,
})
const inForce = [
  rule('most-varieties'),
  rule('budget'),
  rule('contract/high oleic', null),
  ...[1, 2, 3, 4].map((n) => rule(`available/Q${n}`)),
  rule('lock/Creek/Amber', { kind: 'unlock', field: 'Creek' }),
]
const cost = (id: string, kind: CostFigure['kind'], cents: number, says: string) => ({
  rule: id,
  ruleSays: '',
  cost: { kind, cents, uncertainCents: 60_000, says },
})
const none = 'no measurable difference'
const reasons: Reasons = {
  choices: [],
  excluded: [],
  entryPrices: [
    {
      variety: 'Cedar',
      kind: 'comes-in',
      factor: 0.9,
      quotes: [{ quote: 'North · Cedar', packPriceCents: 5200, entryCents: 4680 }],
      says: 'Cedar comes in when it is 10 % cheaper.',
    },
  ],
  ruleCosts: [
    cost('most-varieties', 'refined', 100_000, '$1,000'),
    cost('budget', 'refined', 300_000, '$3,000'),
    ...[1, 2, 3, 4].map((n) => cost(`available/Q${n}`, 'no-difference', 0, none)),
  ],
  isRefined: false,
}

let asked: [name: string, input: unknown][] = []
beforeEach(() => {
  asked = []
  useTransport({
    call: async (name: string, input: unknown) => {
      asked.push([name, input])
      return { ok: true, value: name === 'plan.rules' ? inForce : name === 'draft.list' ? [] : 1 }
    },
    listen: () => () => undefined,
  } as unknown as Transport)
})

async function show() {
  const shown = vi.fn()
  render(RulesPart, {
    plan: { blocks: [{ variety: 'Amber' }] } as Plan,
    reasons,
    refine: vi.fn(),
    drafts: [],
    houseRules: [],
    varieties: ['Amber', 'Bison', 'Cedar'],
    hatchOf: () => 0,
    asked: shown,
  })
  await screen.findByText('Rule budget.')
  return shown
}

const words = () => screen.getAllByRole('row').map((row) => row.textContent?.replace(/\s+/g, ' ').trim())

test('by kind, dearest first, with how well each is known; what is not known says so', async () => {
  await show()
  const rows = words()
  const at = (start: string) => rows.findIndex((row) => row?.startsWith(start))
  expect(rows[at('Rule budget.')]).toContain('$3,000 within $600')
  expect(at('Rule budget.')).toBeLessThan(at('Rule most-varieties.'))
  expect(rows[at('Rule contract/high oleic.')]).toContain('not worked out')
  expect(at('Fields held fixed')).toBeLessThan(at('Rule lock/Creek/Amber.'))
  expect(at('Fields held fixed')).toBeGreaterThan(at('Rule contract/high oleic.'))
})

test('many rules without a difference are one line until they are asked for', async () => {
  await show()
  expect(screen.queryByText('Rule available/Q1.')).toBeNull()
  expect(words().some((row) => row?.startsWith('4 make no measurable difference'))).toBe(true)
  screen.getByRole('button', { name: 'Show them too: Seed to be had' }).click()
  await screen.findByText('Rule available/Q1.')
  expect(screen.getAllByText(none)).toHaveLength(4)
})

test('tried without: the draft is asked and shown; what nothing of the season loosens is not offered', async () => {
  const shown = await show()
  const lock = screen.getByText('Rule lock/Creek/Amber.').closest('tr') as HTMLElement
  within(lock)
    .getByRole('button', { name: /^Try without it/ })
    .click()
  expect(shown).toHaveBeenCalledOnce()
  await waitFor(() => expect(asked.map(([name]) => name)).toContain('draft.solve'))
  expect(asked.find(([name]) => name === 'draft.save')?.[1]).toMatchObject({
    settings: { rulesOff: [], whatIfs: [{ kind: 'unlock', field: 'Creek' }] },
  })
  const fixed = screen.getByText('Rule contract/high oleic.').closest('tr') as HTMLElement
  expect(within(fixed).queryByRole('button')).toBeNull()
})

test('a variety left out says at which price it would come in, or that nobody knows yet', async () => {
  await show()
  const line = (variety: string) => words().find((row) => row?.startsWith(variety))
  expect(line('Cedar')).toContain('North · Cedar: $52.00 now, in at $46.80 a pack.')
  expect(line('Bison')).toContain('not worked out')
  expect(line('Amber')).toBeUndefined()
})
