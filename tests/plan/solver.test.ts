/** The worker around the solver: several models at once, a model that is none, a worker that is ended, and what comes after. */
import { afterAll, expect, it } from 'vitest'
import { LinearModel, type ModelArrays } from '../../src-main/engine/plan/linear-model.ts'
import { buildModel } from '../../src-main/engine/plan/model.ts'
import { allRules } from '../../src-main/engine/plan/rules/all-rules.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import { sortedProblem } from '../../src-main/engine/plan/sort-problem.ts'
import { syntheticFarm } from '../speed/synthetic-farm.ts'

const solver = new Solver()
afterAll(() => solver.close())

const exact = { gap: 0, seconds: 60 }

/** So many packs at $10. */
function packs(count: number): ModelArrays {
  const model = new LinearModel()
  model.row(count, Infinity, [[model.column(10, 0, 100, true), 1]])
  return model.arrays()
}

/** Long enough at work to be broken off. */
function farm(): ModelArrays {
  const problem = sortedProblem(syntheticFarm('M', 1))
  return buildModel(problem, { rules: allRules(problem), wholePacks: true }).model.arrays()
}

it('models that are run at once get their own answers', async () => {
  const answers = await Promise.all([1, 2, 3].map((count) => solver.run(packs(count), exact)))
  expect(answers.map(({ cost }) => Math.round(cost))).toEqual([10, 20, 30])
})

it('a model that is none has failed, and the worker goes on', async () => {
  const answer = await solver.run({ ...packs(1), indices: Int32Array.of(99) }, exact)
  expect(answer).toMatchObject({ status: 'failed', cost: Infinity, bound: -Infinity, columns: null })
  expect((await solver.run(packs(4), exact)).cost).toBeCloseTo(40, 6)
})

it(
  'a worker that is ended answers with the best that it had, and the next run has another',
  { timeout: 300_000 },
  async () => {
    const own = new Solver()
    let found = Infinity
    const answer = await own.run(farm(), {
      ...exact,
      presolve: false,
      onProgress(cost) {
        found = Math.min(found, cost)
        if (Number.isFinite(found)) void own.close()
      },
    })
    expect(answer.status).toBe('failed')
    expect(answer.cost).toBeCloseTo(found, 4)
    expect(answer.columns).not.toBeNull()
    expect(answer.bound).toBeLessThanOrEqual(answer.cost)
    expect((await own.run(packs(5), exact)).cost).toBeCloseTo(50, 6)
    await own.close()
  },
)
