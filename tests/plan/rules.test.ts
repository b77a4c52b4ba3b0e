/** What a broken rule is told as: the sentence of the rule, and what the plan does instead. */
import { expect, it } from 'vitest'
import { allRules } from '../../src-main/engine/plan/rules/all-rules.ts'
import type { PlanProblem, ProblemRules } from '../../src-shared/plan-problem.ts'
import type { Plan } from '../../src-shared/plan.ts'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { oneField } from './one-field.ts'

/** Variety A on field F, 20 bags of it. */
async function plan(): Promise<Plan> {
  const given = oneField()
  const problem = { ...given, rules: { ...given.rules, exclusions: [{ variety: 'B' }] } }
  const solved = await solveProblem(problem, { gap: 0, seconds: 20, wholeCents: true })
  if (!solved.ok || solved.value.plan === null) throw new Error(JSON.stringify(solved))
  return solved.value.plan
}

function told(change: Partial<Omit<PlanProblem, 'rules'>> & { rules?: Partial<ProblemRules> }, of: Plan) {
  const given = oneField()
  const problem: PlanProblem = { ...given, ...change, rules: { ...given.rules, ...change.rules } }
  return allRules(problem).map(({ id, says, broken }) => [id, says, broken(of)])
}

it('what must be planted', async () => {
  const inHand = await plan()
  const planted = [
    { variety: 'A' },
    { variety: 'B' },
    { field: 'F' },
    { field: 'F', variety: 'A' },
    { field: 'F', variety: 'B' },
  ]
  expect(told({ rules: { planted } }, inHand)).toEqual([
    ['planted//A', 'A is planted.', null],
    ['planted//B', 'B is planted.', 'B is planted. The plan has none of it there.'],
    ['planted/F/', 'F is planted, not left out.', null],
    ['planted/F/A', 'A is planted on F.', null],
    ['planted/F/B', 'B is planted on F.', 'B is planted on F. The plan has none of it there.'],
  ])
  const left = { ...inHand, blocks: [], leftOut: [{ field: 'F', acres: 10 }] }
  expect(told({ rules: { planted: [{ field: 'F' }] } }, left)).toEqual([
    ['planted/F/', 'F is planted, not left out.', 'F is planted, not left out. The plan leaves it out.'],
  ])
})

it('a window that a lock names', async () => {
  const inHand = await plan()
  expect(told({ rules: { locks: [{ field: 'F', variety: 'A', window: 'Usual' }] } }, inHand)).toEqual([
    ['lock/F/A', 'F is kept for A in the Usual window.', null],
  ])
  expect(told({ rules: { locks: [{ field: 'F', variety: 'A', window: 'Early' }] } }, inHand)).toEqual([
    ['lock/F/A', 'F is kept for A in the Early window.', 'F is kept for A but the plan has A there.'],
  ])
})

it('acres of a field that are kept in a week', async () => {
  const inHand = await plan()
  const block = inHand.blocks[0]!
  const planted = [
    { window: block.window, week: '2027-05-03', acres: 6, ripe: '', dug: [] },
    { window: block.window, week: '2027-05-10', acres: 4, ripe: '', dug: [] },
  ]
  const parted = { ...inHand, blocks: [{ ...block, planted }] }
  const lock = (acres: number) => ({ rules: { locks: [{ field: 'F', variety: 'A', week: '2027-05-03', acres }] } })
  const says = (acres: number) => `${acres} acres of F are kept for A in the week of May 3.`
  expect(told(lock(6), parted)).toEqual([['lock/F/A/2027-05-03', says(6), null]])
  expect(told(lock(7), parted)).toEqual([['lock/F/A/2027-05-03', says(7), `${says(7)} The plan has 6 there.`]])
  // As many as the field has: nothing else may be there.
  expect(told(lock(10), parted)).toEqual([
    ['lock/F/A/2027-05-03', says(10), 'F is kept for A but the plan has A there.'],
  ])
})

it('an expected loss, seed on hand, and what can be had by the pound', async () => {
  const inHand = await plan()
  const lossy = { ...inHand, totals: { ...inHand.totals, lossCents: 12_345 } }
  expect(told({ rules: { lossLimitCents: 10_000 } }, lossy)).toEqual([
    [
      'largest-total-loss',
      'Expect to lose no more than $100.00 in all.',
      'Expect to lose no more than $100.00 in all. The plan expects to lose $123.45.',
    ],
  ])
  expect(told({ carried: [{ variety: 'A', pounds: 1500, mustUse: true }] }, inHand)).toEqual([
    ['must-use/A', 'The 1,500 pounds of A on hand must be used.', '1,000 of 1,500 pounds of A on hand are used.'],
  ])
  const loose = oneField().quotes.map((quote) =>
    quote.variety === 'A' ? { ...quote, packPounds: undefined, availablePacks: 15 } : quote,
  )
  expect(told({ quotes: loose }, inHand)).toEqual([
    ['available/N A', 'N A: 15 pounds can be had.', '20 pounds of N A are ordered; 15 can be had.'],
  ])
})
