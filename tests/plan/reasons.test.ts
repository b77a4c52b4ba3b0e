/**
 * Reasons on small farms against every plan there is: forced choices, next-best choices, rules taken away, entry prices. The whole
 * sets are 40 to 180 farms (`npm run test:all`); each commit takes one in five of them. Long because each kind of reason
 * has a check of its own against the same farms.
 */
import { afterAll, describe, expect, it } from 'vitest'
import { entryPrice, varietiesLeftOut } from '../../src-main/engine/plan/entry-price.ts'
import { withoutRules } from '../../src-main/engine/plan/loosen.ts'
import { forcedChoice, nextBest, quickChoices, varietiesOn } from '../../src-main/engine/plan/next-best.ts'
import { ruleCosts } from '../../src-main/engine/plan/rule-cost.ts'
import { allRules } from '../../src-main/engine/plan/rules/all-rules.ts'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import type { PlanProblem, ProblemRules } from '../../src-shared/plan-problem.ts'
import type { Plan, SolvedPlan } from '../../src-shared/plan.ts'
import type { Result } from '../../src-shared/problem.ts'
import { sampled, takesAll, upTo } from '../support/sampled.ts'
import { leastCost } from './brute-force.ts'
import { oneField } from './one-field.ts'
import { smallFarm } from './small-farm.ts'

const solver = new Solver()
afterAll(() => solver.close())

const again = { gap: 0, seconds: 60, wholeCents: false }

function must<Value>(result: Result<Value>): Value {
  if (!result.ok) throw new Error(JSON.stringify(result.problems))
  return result.value
}

function withRules(problem: PlanProblem, rules: Partial<ProblemRules>): PlanProblem {
  return { ...problem, rules: { ...problem.rules, ...rules } }
}

/** One in five of the farms, and always these. */
function part(from: number, to: number, always: readonly number[] = []): number[] {
  const all = upTo(to).slice(from - 1)
  return sampled(`reasons from ${from}`, all, Math.ceil(all.length / 5) + always.length, always)
}

/** How often something must be seen in the whole set. A part may lack what is rare: it would fail by its draw alone. */
const often = (count: number) => (takesAll ? count : -1)

/** Small farms that have a plan, with it. */
async function* farms(
  from: number,
  to: number,
  always: readonly number[] = [],
): AsyncGenerator<[number, PlanProblem, SolvedPlan & { plan: Plan }]> {
  for (const seed of part(from, to, always)) {
    const problem = smallFarm(seed)
    const { plan, proof } = must(await solveProblem(problem, again, solver))
    if (plan !== null) yield [seed, problem, { plan, proof }]
  }
}

it('solves again from a plan in hand to the same least cost', { timeout: 300_000 }, async () => {
  let seen = 0
  for (const seed of part(1, 150)) {
    const problem = smallFarm(seed)
    const other = must(await solveProblem(smallFarm(seed), again, solver)).plan
    const solved = must(await solveProblem(problem, { ...again, near: seed % 3 === 0 ? null : other }, solver))
    const best = leastCost(problem)
    if (best === null) expect(solved.proof.status, `farm ${seed}`).toBe('nothing-fits')
    else {
      seen++
      expect(Math.abs((solved.plan?.totals.costCents ?? Number.NaN) - best), `farm ${seed}`).toBeLessThan(0.5)
      expect(solved.proof.boundCents, `farm ${seed}`).toBeLessThanOrEqual(best + 1)
    }
  }
  expect(seen).toBeGreaterThan(often(60))
})

it(
  'a forced choice costs what every plan with it says, and the quick bound is never more',
  { timeout: 300_000 },
  async () => {
    const seen = { refined: 0, impossible: 0, none: 0, bounds: 0 }
    for await (const [seed, problem, inHand] of farms(1, 60)) {
      const quick = await quickChoices(problem, inHand.plan, solver)
      for (const field of problem.fields) {
        for (const { id: variety } of problem.varieties) {
          if (varietiesOn(inHand.plan, field.id).has(variety)) continue
          const choice = must(await forcedChoice(problem, inHand, field.id, variety, again, solver))
          // All of the field in this variety: of one that may be split no half in another.
          const forced = withRules(problem, {
            locks: [...problem.rules.locks, { field: field.id, variety }],
            planted: [...(problem.rules.planted ?? []), { field: field.id }],
          })
          const best = leastCost(forced)
          const name = `farm ${seed}: ${variety} on ${field.id}`
          const bound = quick.find((each) => each.field === field.id && each.variety === variety)
          if (best === null) {
            expect(choice.cost.kind, name).toBe('impossible')
            seen.impossible++
            continue
          }
          const regret = best - inHand.plan.totals.costCents
          expect(Math.abs((choice.cost.cents ?? Number.NaN) - regret), name).toBeLessThan(0.5)
          if (choice.cost.kind === 'no-difference') seen.none++
          else {
            expect(choice.cost.kind, name).toBe('refined')
            seen.refined++
          }
          // The parts that its line shows add up to the price beside them.
          const parts = [choice.cashCents, choice.lossCents, choice.vineCents, choice.giveUpCents]
          expect(Math.abs(parts.reduce<number>((sum, part) => sum + (part ?? NaN), -regret)), name).toBeLessThan(0.5)
          if (bound) {
            expect(bound.cost.kind).toBe('at-least')
            expect(bound.cost.cents, name).toBeLessThanOrEqual(Math.max(0, regret) + 0.5)
            if ((bound.cost.cents ?? 0) > 0) seen.bounds++
          }
        }
      }
    }
    expect(seen.refined).toBeGreaterThan(often(50))
    expect(seen.impossible).toBeGreaterThan(often(5))
    expect(seen.bounds).toBeGreaterThan(often(20))
  },
)

it('the next-best choices are the cheapest of all forced ones, in order', { timeout: 300_000 }, async () => {
  let seen = 0
  for await (const [seed, problem, inHand] of farms(61, 100)) {
    // The next best of a field that may be split can be two halves, which no single forced choice is.
    for (const field of problem.fields.filter(({ split }) => split === undefined)) {
      const planted = varietiesOn(inHand.plan, field.id)
      const wanted = problem.varieties
        .filter(({ id }) => !planted.has(id))
        .flatMap(({ id }) => {
          const planted = [...(problem.rules.planted ?? []), { field: field.id, variety: id }]
          return leastCost(withRules(problem, { planted })) ?? []
        })
        .map((cost) => cost - inHand.plan.totals.costCents)
        .sort((a, b) => a - b)
      const found = must(await nextBest(problem, inHand, field.id, 2, again, solver))
      expect(found.length, `farm ${seed}: ${field.id}`).toBe(Math.min(2, wanted.length))
      found.forEach((choice, index) => {
        seen++
        expect(Math.abs((choice.cost.cents ?? Number.NaN) - (wanted[index] ?? 0)), `farm ${seed}`).toBeLessThan(0.5)
      })
    }
  }
  expect(seen).toBeGreaterThan(often(30))
})

it('a problem without a rule has every other rule and not this one', () => {
  const kinds = new Set<string>()
  for (let seed = 1; seed <= 100; seed++) {
    const problem = smallFarm(seed)
    const ids = allRules(problem).map((rule) => rule.id)
    for (const id of ids) {
      kinds.add(id.split('/')[0] ?? '')
      const left = allRules(withoutRules(problem, new Set([id]))).map((rule) => rule.id)
      expect(left, `farm ${seed} without ${id}`).toEqual(ids.filter((other) => other !== id))
    }
  }
  // Every kind of rule there is.
  expect([...kinds].sort()).toEqual(
    [
      ...['available', 'budget', 'combine-hours', 'contract', 'delivers', 'digger-hours', 'exclusion'],
      ...[
        'fewest-varieties',
        'largest-share',
        'largest-total-loss',
        'lock',
        'most-dealers',
        'most-varieties',
        'must-use',
        'planted',
        'planter-hours',
      ],
    ].sort(),
  )
})

it('a rule costs what every plan without it saves', { timeout: 300_000 }, async () => {
  let costly = 0
  let free = 0
  for await (const [seed, problem, inHand] of farms(101, 200)) {
    const told: string[] = []
    for await (const found of ruleCosts(problem, inHand, again, solver)) {
      const { rule, cost } = must(found)
      told.push(rule)
      const best = leastCost(withoutRules(problem, new Set([rule])))
      const saved = inHand.plan.totals.costCents - (best ?? Number.NaN)
      if (cost.kind === 'refined') {
        costly++
        expect(Math.abs((cost.cents ?? Number.NaN) - saved), `farm ${seed}: ${rule}`).toBeLessThan(0.5)
      } else {
        free++
        expect(cost.kind, `farm ${seed}: ${rule}`).toBe('no-difference')
        expect(saved, `farm ${seed}: ${rule}`).toBeLessThan(0.6)
      }
    }
    expect(told).toHaveLength(allRules(problem).length)
  }
  expect(costly).toBeGreaterThan(often(20))
  expect(free).toBeGreaterThan(often(20))
})

it(
  'at a cent less than its entry price a variety is in a best plan, at a cent more in none',
  { timeout: 300_000 },
  async () => {
    const seen = {
      'comes-in': 0,
      'no-difference': 0,
      'not-at-any-price': 0,
      impossible: 0,
      'not-offered': 0,
      unknown: 0,
    }
    for await (const [seed, problem, inHand] of farms(151, 330)) {
      for (const variety of varietiesLeftOut(problem, inHand.plan)) {
        const name = `farm ${seed}: ${variety}`
        const entry = must(await entryPrice(problem, inHand, variety, { ...again, leastFactor: 0.2 }, solver))
        seen[entry.kind]++
        const without = leastCost(withRules(problem, { exclusions: [...problem.rules.exclusions, { variety }] }))
        const withIt = (factor: number) => leastCost(at(problem, variety, factor))
        const isIn = (factor: number) => (withIt(factor) ?? Infinity) < (without ?? Infinity) - 1e-6
        if (entry.kind === 'comes-in') {
          const dearest = Math.max(...entry.quotes.map((quote) => quote.packPriceCents))
          const cent = 1 / dearest
          expect(isIn((entry.factor ?? 0) - 2 * cent), name).toBe(true)
          expect(isIn((entry.factor ?? 0) + 2 * cent), name).toBe(false)
        }
        if (entry.kind === 'not-at-any-price') expect(isIn(0.2 + 1e-4), name).toBe(false)
        if (entry.kind === 'impossible' || entry.kind === 'not-offered') expect(withIt(1), name).toBeNull()
        if (entry.kind === 'no-difference') expect(withIt(1), name).toBeLessThan((without ?? 0) + 1)
      }
    }
    expect(seen.unknown).toBe(0)
    expect(seen['comes-in']).toBeGreaterThan(often(15))
    expect(seen['not-at-any-price']).toBeGreaterThan(often(5))
  },
)

function at(problem: PlanProblem, variety: string, factor: number): PlanProblem {
  const quotes = problem.quotes.map((quote) =>
    quote.variety !== variety
      ? quote
      : {
          ...quote,
          packPriceCents: quote.packPriceCents * factor,
          breaks: quote.breaks.map((each) => ({ ...each, packPriceCents: each.packPriceCents * factor })),
        },
  )
  const planted = [...(problem.rules.planted ?? []), { variety }]
  return withRules({ ...problem, quotes }, { planted })
}

describe('one field, worked by hand: 20 bags at $50 and $10 an acre are $1,100', () => {
  /** Field F costs `dearer` cents an acre more with B. */
  async function entryOfB(dearer: number, change: (problem: PlanProblem) => PlanProblem = (given) => given) {
    const given = oneField()
    const options = given.options.map((option) =>
      option.variety === 'B' ? { ...option, cashCents: option.cashCents + dearer } : option,
    )
    const problem = change({ ...given, options })
    const { plan, proof } = must(
      await solveProblem(withRules(problem, { exclusions: [{ variety: 'B' }] }), again, solver),
    )
    if (plan === null) throw new Error('A can be planted.')
    return must(await entryPrice(problem, { plan, proof }, 'B', again, solver))
  }

  it('a variety that costs the same is told as no difference', async () => {
    expect(await entryOfB(0)).toMatchObject({ kind: 'no-difference', factor: 1 })
  })

  it('one that costs $250 more comes in when its $1,000 of seed are a quarter cheaper', async () => {
    expect(await entryOfB(2500)).toMatchObject({
      kind: 'comes-in',
      factor: expect.closeTo(0.75, 6),
      quotes: [{ quote: 'N B', packPriceCents: 5000, entryCents: 3750 }],
      says: 'B comes in when it is 25 % cheaper: N B at $37.50 a pack.',
    })
  })

  it('the cheapest quote by the pound is the one that is told', async () => {
    const entry = await entryOfB(2500, (problem) => ({
      ...problem,
      quotes: [
        ...problem.quotes,
        ...problem.quotes
          .filter(({ variety }) => variety === 'B')
          .map((quote) => ({ ...quote, id: 'N B, loose', packPounds: undefined, packPriceCents: 110 })),
      ],
    }))
    expect(entry.quotes.map(({ quote }) => quote)).toEqual(['N B', 'N B, loose'])
  })

  it('seed that is on hand has no price that could fall', async () => {
    const entry = await entryOfB(20_000, (problem) => ({
      ...problem,
      quotes: problem.quotes.filter(({ variety }) => variety === 'A'),
      carried: [{ variety: 'B', pounds: 5000, mustUse: false }],
    }))
    expect(entry).toMatchObject({ kind: 'not-at-any-price', factor: null, quotes: [] })
  })

  it('a budget that cheaper seed loosens bends the line: the price is found between', async () => {
    // A: $1,000 of cash and $200 lost. B sprayed: its seed and $100, over the budget of $1,050 until the seed is $950;
    // B not sprayed: its seed and $400 lost. So B costs $1,400 today, and $1,050 from 5 % off on.
    const entry = await entryOfB(0, (problem) => {
      const [a, b] = problem.options
      if (a === undefined || b === undefined) throw new Error('There are two options.')
      const options = [
        { ...a, cashCents: 0, lossCents: 2000 },
        { ...b, programme: ['spray'], cashCents: 1000 },
        { ...b, cashCents: 0, lossCents: 4000 },
      ]
      return { ...problem, options, rules: { ...problem.rules, riskWeight: 1, budgetCents: 105_000 } }
    })
    expect(entry.kind).toBe('comes-in')
    expect(entry.factor).toBeGreaterThan(0.95 - 1 / 2500)
    expect(entry.factor).toBeLessThanOrEqual(0.95)
  })

  it('no price is told for a variety that no plan can have', async () => {
    const entry = await entryOfB(0, (problem) => ({
      ...problem,
      quotes: problem.quotes.map((quote) => (quote.variety === 'B' ? { ...quote, packPriceCents: 6000 } : quote)),
      rules: { ...problem.rules, budgetCents: 115_000 },
    }))
    expect(entry).toMatchObject({ factor: null, quotes: [], says: 'No plan that keeps every rule can have B.' })
    expect(entry.kind).toBe('impossible')
  })
})
