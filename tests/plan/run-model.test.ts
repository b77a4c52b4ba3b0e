/** What the solver is asked and what it is understood to have said, in this thread: small models worked by hand. */
import { expect, it, test } from 'vitest'
import { LinearModel } from '../../src-main/engine/plan/linear-model.ts'
import { buildModel } from '../../src-main/engine/plan/model.ts'
import { runModel, type SolveMessage, type SolveRequest } from '../../src-main/engine/plan/run-model.ts'
import { allRules } from '../../src-main/engine/plan/rules/all-rules.ts'
import { sortedProblem } from '../../src-main/engine/plan/sort-problem.ts'
import { syntheticFarm } from '../speed/synthetic-farm.ts'

type Done = Extract<SolveMessage, { kind: 'done' }>
type Asked = Partial<SolveRequest>

async function all(model: LinearModel, asked: Asked = {}): Promise<SolveMessage[]> {
  const posted: SolveMessage[] = []
  const request = { id: 7, model: model.arrays(), stop: new Int32Array(1), gap: 0, seconds: 60, ...asked }
  await runModel(request, (message) => posted.push(message))
  expect(posted.map(({ id }) => id)).toEqual(posted.map(() => 7))
  return posted
}

async function answer(model: LinearModel, asked: Asked = {}): Promise<Done> {
  const last = (await all(model, asked)).at(-1)
  if (last?.kind !== 'done') throw new Error(JSON.stringify(last))
  return last
}

/** 130 lb of seed in packs of 50 lb at $46 and 70 lb at $63: two of 70 are the cheapest that reach. */
function packs(least = 130, whole = true): LinearModel {
  const model = new LinearModel()
  const fifty = model.column(46, 0, 10, whole)
  const seventy = model.column(63, 0, 10, whole)
  model.row(least, Infinity, [
    [fifty, 50],
    [seventy, 70],
  ])
  return model
}

/** A farm whose plan takes the solver a while: fields, packs and breaks together. */
function farm(): LinearModel {
  const problem = sortedProblem(syntheticFarm('S', 1))
  return buildModel(problem, { rules: allRules(problem), wholePacks: true }).model
}

it.each([true, false])('buys the cheapest whole packs and proves them so, presolve %s', async (presolve) => {
  const posted = await all(packs(), { presolve })
  const done = posted.at(-1) as Done
  // One of each is 120 lb, short; two of 70 are 140 lb for $126; three of 50 are $138; one of 50 and two of 70 $172.
  expect(done).toMatchObject({ kind: 'done', status: 'optimal', reduced: null, duals: null })
  expect(done.cost).toBeCloseTo(126, 6)
  expect(done.bound).toBeCloseTo(126, 6)
  expect(done.columns?.[0]).toBeCloseTo(0, 6)
  expect(done.columns?.[1]).toBeCloseTo(2, 6)
})

it('prices what a relaxation leaves aside, and its rows', async () => {
  const done = await answer(packs(), { relaxed: true })
  // $63 for 70 lb is $0.90 a pound: 130 lb are $117, and a pack of 50 lb is dearer by $46 less 50 × $0.90.
  expect(done.status).toBe('optimal')
  expect(done.cost).toBeCloseTo(117, 6)
  expect(done.bound).toBe(done.cost)
  expect(done.reduced?.[0]).toBeCloseTo(1, 6)
  // The row was scaled by 1/64: a pound's price is the dual over the scale.
  expect((done.duals?.[0] ?? 0) / 64).toBeCloseTo(0.9, 6)
})

it('bounds a model without whole numbers by its own cost', async () => {
  const done = await answer(packs(130, false))
  expect(done.bound).toBe(done.cost)
  expect(done.cost).toBeCloseTo(117, 6)
  expect(done.reduced).toBeNull()
})

test.each([
  ['more seed than there is', false],
  ['more seed than there is, in any amount', true],
])('%s: nothing fits, and there is nothing to read', async (_name, relaxed) => {
  const done = await answer(packs(1300), { relaxed })
  expect(done).toMatchObject({ status: 'infeasible', cost: Infinity, columns: null, reduced: null, duals: null })
})

it('says when a cost has no end', async () => {
  const model = new LinearModel()
  model.row(0, Infinity, [[model.column(-1, 0, Infinity), 1]])
  expect((await answer(model, { presolve: false })).status).toBe('unbounded')
})

it('stops at a solution that is good enough', async () => {
  const done = await answer(farm(), { target: 1e9 })
  expect(done.status).toBe('target')
  expect(done.cost).toBeLessThan(1e9)
  expect(done.bound).toBeLessThanOrEqual(done.cost)
})

it('stops after so many nodes, or so much time, with what it has', async () => {
  const few = await answer(farm(), { nodes: 0, presolve: false })
  expect(few.status).toBe('nodes')
  expect(few.bound).toBeLessThanOrEqual(few.cost)
  expect(await answer(farm(), { seconds: 0 })).toMatchObject({ status: 'time' })
})

it('stops after so many iterations, at the same spot each time', async () => {
  const few = () => answer(farm(), { iterations: 500, presolve: false })
  const { seconds: _, ...first } = await few()
  expect(first.status).toBe('nodes')
  expect(first.iterations).toBeGreaterThan(500)
  const { seconds: __, ...second } = await few()
  expect(second).toEqual(first)
  expect(await answer(farm(), { iterations: 10, relaxed: true, presolve: false })).toMatchObject({ status: 'nodes' })
})

it('starts from the solution it is given', async () => {
  const start = Float64Array.of(3, 0)
  const done = await answer(packs(), { start, seconds: 0, presolve: false })
  expect(done.cost).toBeLessThanOrEqual(138 + 1e-9)
  expect(done.columns).not.toBeNull()
})

it.each([{ relaxed: true }, {}])('asked to stop, it stops: %o', async (asked) => {
  const done = await answer(farm(), { ...asked, stop: Int32Array.of(1), presolve: false })
  expect(done.status).toBe('interrupted')
})

it('tells better plans as they are found, and what bounds them', async () => {
  const posted = await all(farm(), { gap: 0.01, presolve: false })
  const better = posted.filter((message) => message.kind === 'better')
  const done = posted.at(-1) as Done
  expect(better.length).toBeGreaterThan(0)
  for (const [index, { cost, bound }] of better.entries()) {
    expect(bound).toBeLessThanOrEqual(cost + 1e-6)
    expect(cost).toBeLessThanOrEqual(better[index - 1]?.cost ?? Infinity)
  }
  expect(done.cost).toBeCloseTo(better.at(-1)?.cost ?? 0, 4)
  expect(done.cost - done.bound).toBeLessThanOrEqual(0.01 * done.cost)
  for (const message of posted) {
    if (message.kind === 'progress') expect(message.bound).toBeLessThanOrEqual(done.cost + 1e-4)
  }
})

it('a model that is none is told as a fault, and the next one is solved', async () => {
  const broken = { ...packs().arrays(), indices: Int32Array.of(0, 99) }
  const posted = await all(packs(), { model: broken })
  expect(posted).toEqual([{ id: 7, kind: 'failed', message: expect.stringMatching(/\w/) }])
  expect((await answer(packs())).cost).toBeCloseTo(126, 6)
})
