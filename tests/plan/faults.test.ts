/**
 * The solver dying, stopping or running out of time at every run of a search: what is told is true all the same. A farm
 * that has a plan is never said to have none, no bound passes a plan that there is, and a fault has a remedy. The whole set is
 * every kind of fault at every run (`npm run test:all`); each commit takes one in six, and always those at the first run.
 */
import { afterAll, expect, it } from 'vitest'
import type { SolveAnswer } from '../../src-main/engine/plan/run-model.ts'
import { solveProblem, type SolveOptions } from '../../src-main/engine/plan/solve-problem.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import type { PlanProblem } from '../../src-shared/plan-problem.ts'
import type { Plan } from '../../src-shared/plan.ts'
import { sampled, upTo } from '../support/sampled.ts'
import { syntheticFarm } from '../speed/synthetic-farm.ts'
import { FaultySolver, type Fault } from './faulty-solver.ts'
import { oneField } from './one-field.ts'

const real = new Solver()
afterAll(() => real.close())

/** Seed by the pound, from dealers without fees, least orders or breaks. */
function byThePound(problem: PlanProblem): PlanProblem {
  const { quotes, dealers } = problem
  return {
    ...problem,
    quotes: quotes.map((quote) => ({
      ...quote,
      packPounds: undefined,
      availablePacks: undefined,
      leastPacks: 0,
      breaks: [],
      packPriceCents: quote.packPriceCents / (quote.packPounds ?? 1),
    })),
    dealers: dealers.map((dealer) => ({ ...dealer, orderFeeCents: 0, leastPounds: 0, breaks: [] })),
  }
}

/** Nothing to choose but options. */
function withoutChoices(problem: PlanProblem): PlanProblem {
  const rules = { ...problem.rules, mostVarieties: undefined, fewestVarieties: undefined, mostDealers: undefined }
  return { ...byThePound(problem), rules: { ...rules, largestShare: [] } }
}

const farms: [string, PlanProblem, number][] = [
  ['packs, breaks and dealers', syntheticFarm('S', 3), 0.02],
  ['seed by the pound', byThePound(syntheticFarm('S', 3)), 0.01],
  ['nothing to choose but options', withoutChoices(syntheticFarm('S', 1)), 0.002],
]

type Kind = Omit<Fault, 'at' | 'stop'> & { isStop?: boolean }
/** Also tried from a plan in hand. */
const nearKinds: Kind[] = [
  { status: 'failed' },
  { status: 'time', keeps: true },
  { status: 'interrupted', isStop: true },
]
const kinds: Kind[] = [
  ...nearKinds,
  { status: 'failed', onwards: true },
  { status: 'time' },
  { status: 'time', onwards: true },
  { status: 'time', keeps: true, onwards: true },
  { status: 'interrupted', onwards: true },
  { status: 'interrupted', keeps: true, isStop: true },
  { status: 'nodes', keeps: true },
]

it.each(farms)('at every run: %s', { timeout: 300_000 }, async (name, problem, gap) => {
  const options: SolveOptions = { gap, seconds: 20, wholeCents: true }
  const counted = new FaultySolver(real, null)
  const sound = await solveProblem(problem, options, counted)
  if (!sound.ok || sound.value.plan === null) throw new Error('The farm has a plan.')
  const inHand = sound.value.plan
  const { costCents, boundCents } = sound.value.proof
  if (costCents === null || boundCents === null) throw new Error('It has a cost and a bound.')
  const seen = { plans: 0, nothing: 0, problems: 0 }

  async function broken({ isStop, ...kind }: Kind, at: number, near: Plan | null): Promise<void> {
    const name = JSON.stringify({ ...kind, isStop, at, near: near !== null })
    const stop = isStop ? new AbortController() : undefined
    const faulty = new FaultySolver(real, { ...kind, at, ...(stop === undefined ? {} : { stop }) })
    const solved = await solveProblem(problem, { ...options, near, signal: stop?.signal }, faulty)
    if (!solved.ok) {
      seen.problems++
      expect(kind.status, name).toBe('failed')
      expect(solved.problems, name).toMatchObject([{ code: 'engine-stopped', remedy: expect.any(String) }])
      return
    }
    const { plan, proof } = solved.value
    if (plan === null) {
      seen.nothing++
      expect(proof.status, name).toBe('nothing-found')
      return
    }
    seen.plans++
    expect(plan.totals.costCents, name).toBeGreaterThanOrEqual(boundCents! - 1)
    expect(proof.boundCents ?? 0, name).toBeLessThanOrEqual(costCents! + 1)
    if (proof.status === 'proven') expect(plan.totals.costCents, name).toBeLessThanOrEqual(costCents! * (1 + gap))
  }

  const all = upTo(counted.runs).flatMap((at) => [
    ...kinds.map((kind) => ({ kind, at, near: null })),
    ...nearKinds.map((kind) => ({ kind, at, near: inHand })),
  ])
  const first = all.filter(({ at }) => at === 1)
  const part = sampled(`faults, ${name}`, all, Math.ceil(all.length / 6) + first.length, first)
  for (const { kind, at, near } of part) await broken(kind, at, near)
  expect(Object.values(seen).filter((count) => count === 0)).toEqual([])
})

it('a solver that fails after a plan was found: the plan is kept, and what the solver said is told', async () => {
  const problem = syntheticFarm('S', 3)
  const options: SolveOptions = { gap: 0.002, seconds: 60, wholeCents: true }
  const counted = new FaultySolver(real, null)
  await solveProblem(problem, options, counted)
  const said: string[] = []
  let kept = 0
  // In its last runs there is a plan; of these some matter no more, for it is proven.
  const last = upTo(counted.runs).slice(-5)
  for (const at of sampled('fails with a plan', upTo(counted.runs).slice(1), 3, last)) {
    const faulty = new FaultySolver(real, { at, onwards: true, status: 'failed' })
    const onFault = (what: string) => said.push(what)
    const solved = await solveProblem(problem, { ...options, onFault }, faulty)
    if (!solved.ok) continue
    const { plan, proof } = solved.value
    if (plan === null || proof.endedBy !== 'fault') continue
    kept++
    expect(proof).toMatchObject({ status: 'within', fault: expect.any(String) })
    expect(proof.says).toContain('The solver failed before it was done')
  }
  expect(kept).toBeGreaterThan(0)
  expect(said.length).toBeGreaterThan(0)
})

it('a model called unbounded is a failure of the solver, never a proof that nothing fits', async () => {
  const said: string[] = []
  const faulty = new FaultySolver(real, { at: 1, onwards: true, status: 'unbounded' })
  const solved = await solveProblem(
    oneField(),
    { gap: 0, seconds: 20, wholeCents: true, onFault: (what) => said.push(what) },
    faulty,
  )
  expect(solved).toMatchObject({ ok: false, problems: [{ code: 'engine-stopped' }] })
  expect(said).toEqual(['unbounded'])
})

it.each<[string, (answer: SolveAnswer) => SolveAnswer, RegExp]>([
  [
    'half of everything',
    (answer) => ({ ...answer, columns: answer.columns?.map((n) => n * 0.5) ?? null }),
    /needs 1000.00 pounds .* 500.00 are bought/,
  ],
  ['a bound above its cost', (answer) => ({ ...answer, bound: answer.cost * 2 }), /less than the .* that was proven/],
])('a plan with %s is refused as a fault of ours', async (_name, lies, says) => {
  const lying = new FaultySolver(real, { at: 1, onwards: true, status: 'optimal', lies })
  const solved = await solveProblem(oneField(), { gap: 0, seconds: 20, wholeCents: true }, lying)
  if (solved.ok) throw new Error('It was not refused.')
  expect(solved.problems[0]).toMatchObject({
    code: 'bug',
    what: expect.stringMatching(says),
    remedy: 'Please report this with the season file; do not order from this plan.',
  })
})
