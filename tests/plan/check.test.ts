/** The checker must catch a plan that was tampered with: each sum, each price, each rule. */
import { beforeAll, describe, expect, it } from 'vitest'
import { checkPlan } from '../../src-main/engine/plan/check.ts'
import { allRules } from '../../src-main/engine/plan/rules/all-rules.ts'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { sortedProblem } from '../../src-main/engine/plan/sort-problem.ts'
import type { Plan } from '../../src-shared/plan.ts'
import { readPlanProblem, type PlanProblem } from '../../src-shared/plan-problem.ts'

/** Two fields, two varieties, two dealers, and every rule that can be tampered with. */
const raw = {
  format: 'standwell-problem',
  version: 1,
  fields: [
    { id: 'Home', acres: 40 },
    { id: 'Far', acres: 60 },
    { id: 'Wide', acres: 120, split: { leastBlockAcres: 40, mostVarieties: 2 } },
  ],
  varieties: [
    { id: 'Big', oilType: 'normal' },
    { id: 'Small', oilType: 'high oleic' },
  ],
  options: ['Home', 'Far', 'Wide'].flatMap((field) => [
    { field, variety: 'Big', window: 'Usual', cashCents: 5000, lossCents: 2000, poundsPerAcre: 155, planterHours: 0.2 },
    {
      field,
      variety: 'Small',
      window: 'Usual',
      cashCents: 4000,
      lossCents: 2600,
      poundsPerAcre: 130,
      planterHours: 0.2,
    },
  ]),
  dealers: [
    { id: 'North', orderFeeCents: 10_000, leastPounds: 1000, breaks: [{ fromPounds: 10_000, offCentsPerPound: 1 }] },
    { id: 'South', mostPounds: 20_000 },
  ],
  quotes: [
    {
      id: 'North Big',
      dealer: 'North',
      variety: 'Big',
      packPounds: 50,
      packPriceCents: 4000,
      breaks: [{ fromPacks: 100, packPriceCents: 3900 }],
    },
    {
      id: 'South Small',
      dealer: 'South',
      variety: 'Small',
      packPounds: 50,
      packPriceCents: 4600,
      availablePacks: 300,
      leastPacks: 10,
    },
  ],
  rules: {
    reserve: 0.03,
    largestShare: [{ share: 0.7 }],
    fewestVarieties: 2,
    mostVarieties: 2,
    mostDealers: 2,
    budgetCents: 5_000_000,
    contracts: [{ oilType: 'high oleic', acres: 80 }],
    planterHours: [{ in: 'Usual', hours: 50 }],
    locks: [{ field: 'Far', variety: 'Big' }],
    exclusions: [{ field: 'Home', variety: 'Big' }],
  },
}

let problem: PlanProblem
let good: Plan

beforeAll(async () => {
  const read = readPlanProblem(raw, 'check')
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  problem = sortedProblem(read.value)
  const solved = await solveProblem(problem, { gap: 0, seconds: 30, wholeCents: true })
  if (!solved.ok || solved.value.plan === null) throw new Error(JSON.stringify(solved))
  good = solved.value.plan
})

function problemsWith(change: (plan: Plan) => void): string {
  const plan = structuredClone(good)
  change(plan)
  return checkPlan(problem, allRules(problem), plan)
    .map((each) => each.what)
    .join('\n')
}

it('passes the plan that was solved', () => {
  expect(problemsWith(() => undefined)).toBe('')
})

describe('catches', () => {
  const cases: [string, (plan: Plan) => void, RegExp][] = [
    ['an acre lost', (plan) => (plan.blocks[0]!.acres -= 1), /acres/],
    ['a field gone', (plan) => plan.blocks.splice(0, 1), /are placed/],
    ['a field left out without leave', (plan) => plan.leftOut.push({ field: 'Home', acres: 40 }), /left out/],
    ['a pack too few', (plan) => (plan.purchases[0]!.packs -= 8), /needs .* pounds/],
    ['half a pack', (plan) => (plan.purchases[0]!.packs += 0.5), /not whole/],
    [
      'more than is available',
      (plan) => (plan.purchases.find((line) => line.quote === 'South Small')!.packs = 301),
      /can be had/,
    ],
    ['a price not offered', (plan) => (plan.purchases[0]!.packPriceCents -= 100), /costs/],
    ['a line that does not multiply', (plan) => (plan.purchases[0]!.cents += 100), /is not/],
    ['a break not reached', (plan) => (plan.orders[0]!.offCents += 5000), /break takes off/],
    ['an order that does not add up', (plan) => (plan.orders[0]!.cents += 1000), /does not add up/],
    ['cash that does not add up', (plan) => (plan.totals.cashCents += 1000), /Cash adds up/],
    ['loss that does not add up', (plan) => (plan.totals.lossCents += 1000), /Expected loss adds up/],
    ['a cost that does not add up', (plan) => (plan.totals.costCents += 1000), /The cost adds up/],
    [
      'a lock ignored',
      (plan) => (plan.blocks.find((block) => block.field === 'Far')!.variety = 'Small'),
      /is kept for/,
    ],
    [
      'an exclusion ignored',
      (plan) => (plan.blocks.find((block) => block.field === 'Home')!.variety = 'Big'),
      /ruled out/,
    ],
    ['a variety never heard of', (plan) => (plan.blocks[0]!.variety = 'Other'), /no option/],
    ['money that no option has', (plan) => (plan.blocks[0]!.lossCents += 50_000), /money is off/],
    ['a quote never heard of', (plan) => (plan.purchases[0]!.quote = 'Other'), /no quote/],
    [
      'a block too small to work',
      (plan) => {
        const wide = plan.blocks.find((block) => block.field === 'Wide')!
        plan.blocks.push({ ...wide, acres: 10 })
      },
      /a block of 10 acres is too small/,
    ],
    [
      'more varieties in a field than it may have',
      (plan) => {
        const wide = plan.blocks.find((block) => block.field === 'Wide')!
        plan.blocks.push(...['Third', 'Fourth'].map((variety) => ({ ...wide, variety })))
      },
      /Wide has 4 varieties; 2 are allowed/,
    ],
    ['a field never heard of', (plan) => (plan.blocks[0]!.field = 'Other'), /no field Other/],
    [
      'fewer packs than the quote’s minimum',
      (plan) => (plan.purchases.find((line) => line.quote === 'South Small')!.packs = 5),
      /5 packs of South Small are fewer than its minimum 10/,
    ],
    [
      'more than a dealer delivers',
      (plan) => (plan.purchases.find((line) => line.dealer === 'South')!.packs = 2000),
      /South delivers 20000 pounds at most; 100000 are ordered/,
    ],
    [
      'ground that counts as left out',
      (plan) => (plan.totals.leftOutCents += 100),
      /Ground left out counts 0, not 100/,
    ],
    ['a move that nobody made', (plan) => (plan.totals.movedCents += 100), /Moved fields count 0, not 100/],
    ['an order without lines', (plan) => plan.purchases.splice(0, 1), /does not match its lines/],
  ]
  it.each(cases)('%s', (_, change, message) => {
    expect(problemsWith(change)).toMatch(message)
  })

  it.each([
    ['largest-share/Big', (plan: Plan) => plan.blocks.forEach((block) => (block.variety = 'Big'))],
    ['contract/high oleic', (plan: Plan) => plan.blocks.forEach((block) => (block.variety = 'Big'))],
    ['fewest-varieties', (plan: Plan) => plan.blocks.forEach((block) => (block.variety = 'Big'))],
    ['most-varieties', (plan: Plan) => plan.blocks.push({ ...plan.blocks[0]!, variety: 'Third' })],
    ['most-dealers', (plan: Plan) => plan.orders.push({ ...plan.orders[0]!, dealer: 'Third' })],
    ['budget', (plan: Plan) => (plan.totals.cashCents = 5_000_100)],
    ['delivers/South', (plan: Plan) => plan.purchases.forEach((line) => (line.pounds = 20_001))],
    ['planter-hours/Usual', (plan: Plan) => plan.blocks.forEach((block) => (block.acres *= 2))],
  ] as [string, (plan: Plan) => unknown][])('rule %s', (id, change) => {
    const plan = structuredClone(good)
    const rule = allRules(problem).find((each) => each.id === id)
    expect(rule?.broken(plan)).toBeNull()
    change(plan)
    expect(rule?.broken(plan)).not.toBeNull()
  })
})
