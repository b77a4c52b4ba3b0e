/**
 * Reasons, the curve, the hard year and conflicts while the solver dies, runs out of time or is stopped, at every one of
 * its runs: what is told is what a sound solver tells, or that it is not known; a fault has a remedy. The whole set is every kind of
 * fault at every run (`npm run test:all`); each commit takes one in five.
 */
import { afterAll, expect, it } from 'vitest'
import { findConflict } from '../../src-main/engine/plan/conflict.ts'
import { drawCurve } from '../../src-main/engine/plan/curve.ts'
import { hardYear } from '../../src-main/engine/plan/hard-year.ts'
import { houseRuleCosts } from '../../src-main/engine/plan/house-rule-cost.ts'
import { withoutRules } from '../../src-main/engine/plan/loosen.ts'
import { quickChoices } from '../../src-main/engine/plan/next-best.ts'
import { priceSeason } from '../../src-main/engine/plan/price.ts'
import { refine } from '../../src-main/engine/plan/reasons.ts'
import { allRules } from '../../src-main/engine/plan/rules/all-rules.ts'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import { sortedProblem } from '../../src-main/engine/plan/sort-problem.ts'
import type { PlanProblem } from '../../src-shared/plan-problem.ts'
import type { Plan, SolvedPlan } from '../../src-shared/plan.ts'
import type { Problem, Result } from '../../src-shared/problem.ts'
import type { CostFigure, Reason } from '../../src-shared/reasons.ts'
import type { Season } from '../../src-shared/season.ts'
import { aSeason } from '../support/a-season.ts'
import { sampled, upTo } from '../support/sampled.ts'
import { leastCost } from './brute-force.ts'
import { FaultySolver, type Fault } from './faulty-solver.ts'
import { smallFarm } from './small-farm.ts'

const real = new Solver()
afterAll(() => real.close())

const exact = { gap: 0, seconds: 60, wholeCents: false }
const kinds: Omit<Fault, 'at'>[] = [
  { status: 'failed' },
  { status: 'time' },
  { status: 'failed', onwards: true },
  { status: 'time', onwards: true },
]

async function planOf(problem: PlanProblem): Promise<SolvedPlan & { plan: Plan }> {
  const solved = await solveProblem(problem, exact, real)
  if (!solved.ok || solved.value.plan === null) throw new Error(JSON.stringify(solved))
  return { ...solved.value, plan: solved.value.plan }
}

/** The work once with a sound solver, then with every fault at every run; `judge` compares the two. */
async function atEveryRun<Told>(
  work: (solver: Solver, signal?: AbortSignal) => Promise<Told>,
  judge: (told: Told, sound: Told, name: string, status: Fault['status']) => void,
): Promise<void> {
  const counted = new FaultySolver(real, null)
  const sound = await work(counted)
  expect(counted.runs).toBeGreaterThan(0)
  const runs = upTo(counted.runs)
  const { currentTestName = '' } = expect.getState()
  const all = runs.flatMap((at) => kinds.map((kind) => ({ kind, at })))
  const part = sampled(`${currentTestName} faults`, all, Math.max(kinds.length, Math.ceil(all.length / 5)))
  for (const { kind, at } of part) {
    const told = await work(new FaultySolver(real, { ...kind, at }))
    judge(told, sound, JSON.stringify({ ...kind, at }), kind.status)
  }
  for (const at of sampled(`${currentTestName} stops`, runs, Math.ceil(runs.length / 5))) {
    const stop = new AbortController()
    const stopping = new FaultySolver(real, { at, status: 'interrupted', onwards: true, stop })
    judge(await work(stopping, stop.signal), sound, `stopped at ${at}`, 'interrupted')
  }
}

function expectFault(problems: readonly Problem[], name: string, status: Fault['status']): void {
  expect(status, name).toBe('failed')
  expect(problems, name).toMatchObject([{ code: 'engine-stopped', remedy: expect.stringMatching(/\w/) }])
}

async function listOf<Told>(found: AsyncIterable<Told>): Promise<Told[]> {
  const told: Told[] = []
  for await (const each of found) told.push(each)
  return told
}

function expectSame(cost: CostFigure, sound: CostFigure | undefined, name: string): void {
  if (cost.kind === 'unknown') return expect(cost.says, name).toMatch(/not known/)
  expect(cost.kind, name).toBe(sound?.kind)
  expect(Math.abs((cost.cents ?? 0) - (sound?.cents ?? 0)), name).toBeLessThan(0.5)
}

function expectReason(reason: Reason, sound: readonly Reason[], name: string): void {
  if (reason.kind === 'field') {
    const known = sound.flatMap((each) => (each.kind === 'field' ? each.choices : []))
    for (const { field, variety, cost } of reason.choices) {
      const same = known.find((each) => each.field === field && each.variety === variety)
      expectSame(cost, same?.cost, name)
    }
  } else if (reason.kind === 'rule') {
    const known = sound.flatMap((each) => (each.kind === 'rule' ? each.ruleCost : []))
    expectSame(reason.ruleCost.cost, known.find(({ rule }) => rule === reason.ruleCost.rule)?.cost, name)
  } else {
    const known = sound.flatMap((each) => (each.kind === 'entry-price' ? each.entryPrice : []))
    const { kind, variety, factor, says } = reason.entryPrice
    const same = known.find((each) => each.variety === variety)
    if (kind === 'unknown') return expect(says, name).toMatch(/not found out in time/)
    expect(kind, name).toBe(same?.kind)
    // Broken off between: the variety is in at this price, only perhaps at a little more as well.
    expect(factor ?? 0, name).toBeLessThanOrEqual((same?.factor ?? 0) + 1e-3)
  }
}

// Between them: next-best choices, a price to come in at, a variety that cannot, one that nobody offers, rules that cost.
it.each([75, 102, 136])('the reasons of farm %i', { timeout: 300_000 }, async (seed) => {
  const problem = smallFarm(seed)
  const inHand = await planOf(problem)
  await atEveryRun<Result<Reason>[]>(
    (solver, signal) => listOf(refine(problem, inHand, { ...exact, choicesPerField: 2, signal }, solver)),
    (told, sound, name, status) => {
      const known = sound.flatMap((each) => (each.ok ? each.value : []))
      expect(told.length, name).toBeLessThanOrEqual(sound.length)
      if (status !== 'interrupted') expect(told.length, name).toBeGreaterThanOrEqual(problem.fields.length)
      for (const each of told) {
        if (each.ok) expectReason(each.value, known, name)
        else expectFault(each.problems, name, status)
      }
    },
  )
})

it('the quick choices are left away where they are not known', async () => {
  const problem = smallFarm(75)
  const { plan } = await planOf(problem)
  await atEveryRun(
    (solver, signal) => quickChoices(problem, plan, solver, signal),
    (told, sound, name) => {
      expect(sound.length, name).toBeGreaterThan(0)
      expect(told, name).toEqual([])
    },
  )
})

it('the curve of farm 8', { timeout: 300_000 }, async () => {
  const problem = smallFarm(8)
  const { plan } = await planOf(problem)
  await atEveryRun(
    (solver, signal) => drawCurve(problem, { ...exact, counts: 'cash', between: 2, near: plan, signal }, solver),
    (told, sound, name, status) => {
      if (!told.ok) return expectFault(told.problems, name, status)
      if (!sound.ok) throw new Error('The curve can be drawn.')
      const { points, isPartial, says } = told.value
      expect(isPartial || points.length > 1, name).toBe(true)
      if (points.length === 0) expect(says, name).toBe('No point of the curve was found yet.')
      // Each point of the whole curve is the least there is for its loss: none of a broken one lies below it.
      for (const point of points) {
        for (const { lossCents, paidCents } of sound.value.points) {
          if (point.lossCents <= lossCents) expect(point.paidCents, name).toBeGreaterThan(paidCents - 0.5)
        }
      }
    },
  )
})

/** Leaf spot is high on Creek, and the variety that stands it is dear. */
function season(): Season {
  const plain = aSeason()
  return {
    ...plain,
    rules: [
      { rule: 'largest-loss', subject: 'late leaf spot', amount: 0.4, isOn: true },
      { rule: 'largest-loss', subject: 'late leaf spot', amount: 0.2, isOn: false },
      { rule: 'most-varieties', amount: 2, isOn: true },
    ],
  }
}

function priced(given: Season): PlanProblem {
  const result = priceSeason(given)
  if (!result.ok) throw new Error(JSON.stringify(result.problems))
  return result.value.problem
}

it('the hard year', { timeout: 300_000 }, async () => {
  const inHand = await planOf(priced(season()))
  await atEveryRun(
    (solver, signal) => hardYear(season(), inHand, { ...exact, signal }, solver),
    (told, sound, name, status) => {
      if (!told.ok) return expectFault(told.problems, name, status)
      if (!sound.ok) throw new Error('The hard year can be solved.')
      expect(told.value.years, name).toEqual(sound.value.years)
      const { planInHardYear, says } = told.value.regret
      if (planInHardYear === null) expect(says, name).toBe('A plan for the hard year was not found in time.')
      else expect(planInHardYear, name).toBeCloseTo(sound.value.regret.planInHardYear ?? Number.NaN, 0)
    },
  )
})

it('what the house’s rules cost', { timeout: 300_000 }, async () => {
  const inHand = await planOf(priced(season()))
  await atEveryRun(
    (solver, signal) => listOf(houseRuleCosts(season(), inHand, { ...exact, signal }, solver)),
    (told, sound, name, status) => {
      if (status !== 'interrupted') expect(told.length, name).toBe(sound.length)
      told.forEach((each, index) => {
        const same = sound[index]
        if (!each.ok) return expectFault(each.problems, name, status)
        expectSame(each.value.cost, same?.ok ? same.value.cost : undefined, name)
      })
    },
  )
})

it(
  'conflicts: what is said to settle one does, and no rule is said to be needed that is not',
  { timeout: 300_000 },
  async () => {
    let seen = 0
    for (let seed = 1; seen < 4; seed++) {
      const problem = sortedProblem(smallFarm(seed))
      const rules = allRules(problem)
      if (rules.length === 0 || leastCost(problem) !== null) continue
      seen++
      const without = (ids: string[]) => leastCost(withoutRules(problem, new Set(ids)))
      await atEveryRun(
        (solver, signal) => findConflict(problem, rules, solver, { seconds: 60, signal }),
        (told, sound, name) => {
          const farm = `farm ${seed}: ${name}`
          const ids = told.rules.map(({ id }) => id)
          for (const { id, settles, remedy } of told.rules) {
            if (settles === null) expect(remedy, farm).toMatch(/not found out in time/)
            else expect(without([id]) !== null, `${farm}, ${id}`).toBe(settles)
          }
          if (!told.isMinimal) return
          const others = rules.map(({ id }) => id).filter((id) => !ids.includes(id))
          expect(without(others), farm).toBeNull()
          for (const id of ids) expect(without([...others, id]), `${farm}, ${id}`).not.toBeNull()
          expect(sound.isMinimal, farm).toBe(true)
        },
      )
    }
  },
)
