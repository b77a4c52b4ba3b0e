/** A question: a draft with a name that says it, the same draft when it is asked again, its problems kept. */
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { DraftRow } from '../../../../src-shared/draft.ts'
import type { Transport } from '../../../../src-shared/api.ts'
import { useTransport } from '../../../../src-renderer/engine/call.ts'
import { asking, freeName, mostCompared, withQuestion } from '../../../../src-renderer/pages/plan/asking.svelte.ts'

let asked: [name: string, input: unknown][] = []
let refuse: string | null = null

const today = '2027-01-20'
afterEach(() => vi.useRealTimers())
beforeEach(() => {
  vi.useFakeTimers({ now: new Date(`${today}T10:00:00`), toFake: ['Date'] })
  asked = []
  refuse = null
  asking.compared = []
  asking.problems = []
  useTransport({
    call: async (name: string, input: unknown) => {
      asked.push([name, input])
      if (name === refuse) return { ok: false, problems: [{ code: 'bad-value', what: 'No.', remedy: 'Mend it.' }] }
      return { ok: true, value: name === 'draft.list' ? [] : 7 }
    },
    listen: () => () => undefined,
  } as unknown as Transport)
})

const names = () => asked.map(([name]) => name)
const draft = (id: number, name: string, settings: DraftRow['settings']): DraftRow => ({
  id,
  name,
  createdAt: '',
  settings,
  says: [],
  plan: null,
  changed: '',
  clash: null,
})

test.each([
  ['Linden is gone', [], 'Linden is gone'],
  ['Linden is gone', ['linden is gone'], 'Linden is gone (2)'],
  ['Linden is gone', ['Linden is gone', 'Linden is gone (2)'], 'Linden is gone (3)'],
  ['x'.repeat(80), [], 'x'.repeat(80)],
  ['x'.repeat(81), [], `${'x'.repeat(79)}…`],
  ['x'.repeat(90), [`${'x'.repeat(79)}…`], `${'x'.repeat(75)}… (2)`],
])('a free name for %s beside %j', (wanted, taken, free) => {
  expect(freeName(wanted, taken)).toBe(free)
  expect(free.length).toBeLessThanOrEqual(80)
})

test('a rule that is off is kept by itself, so that it outlives a renamed variety', () => {
  const none = { rulesOff: [], whatIfs: [] }
  expect(withQuestion(none, { kind: 'rule-off', rule: 'contract', subject: 'high oleic' })).toEqual({
    rulesOff: [{ rule: 'contract', subject: 'high oleic' }],
    whatIfs: [],
  })
  const price = { kind: 'price' as const, percent: 10 }
  expect(withQuestion({ ...none, whatIfs: [price] }, { kind: 'variety-gone', variety: 'Amber' }).whatIfs).toHaveLength(
    2,
  )
})

test('asking makes a draft, solves it and sets it beside the plan', async () => {
  await asking.ask({ kind: 'rule-off', rule: 'budget' }, [], [{ rule: 'budget', amount: 500_000, isOn: true }])
  expect(names()).toEqual(['draft.save', 'draft.solve', 'draft.list'])
  expect(asked[0]?.[1]).toEqual({
    name: 'Without the rule: Spend no more than $5,000.00 on seed and measures',
    settings: { rulesOff: [{ rule: 'budget' }], whatIfs: [] },
  })
  expect(asked[1]?.[1]).toEqual({ id: 7, today })
  expect(asking.compared).toEqual([7])
})

test('the same question is solved again in the draft that asks it', async () => {
  const own = draft(3, 'Dear', { rulesOff: [], whatIfs: [{ kind: 'price', percent: 10 }] })
  await asking.ask({ kind: 'price', percent: 10 }, [own], [])
  expect(names()).toEqual(['draft.solve', 'draft.list'])
  await asking.ask({ kind: 'price', percent: 11 }, [own], [])
  expect(names().slice(2)).toEqual(['draft.save', 'draft.solve', 'draft.list'])
  await asking.weigh(2, [draft(4, 'Careful', { riskWeight: 2, rulesOff: [], whatIfs: [] })])
  expect(asked.at(-2)).toEqual(['draft.solve', { id: 4, today }])
})

test('a draft that is refused is not solved, and says why', async () => {
  refuse = 'draft.save'
  await asking.ask({ kind: 'price', percent: 10 }, [], [])
  expect(names()).toEqual(['draft.save'])
  expect(asking.problems).toHaveLength(1)
})

test('no more stand beside the plan than can be read; the one looked at longest makes room', () => {
  for (const id of [1, 2, 3, 2]) asking.compare(id)
  expect(asking.compared).toEqual([2, 3].slice(0, mostCompared))
  asking.leave(2)
  expect(asking.compared).toEqual([3])
})
