/**
 * A bug that was: a break's pounds had no upper limit, and without presolve the solver then called a plan optimal
 * that was dearer than another by $2,224. Small models of few options, without presolve, against every plan.
 */
import { afterAll, expect, it } from 'vitest'
import { buildModel } from '../../src-main/engine/plan/model.ts'
import { allRules } from '../../src-main/engine/plan/rules/all-rules.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import { sortedProblem } from '../../src-main/engine/plan/sort-problem.ts'
import { smallFarm } from './small-farm.ts'

const solver = new Solver()
afterAll(() => solver.close())

it('farm 117 with two of its four options costs the same with and without presolve', async () => {
  const farm = smallFarm(117)
  // As the farm was: ground left out counted by the rule alone.
  const problem = sortedProblem({ ...farm, fields: farm.fields.map(({ leaveOutCents: _, ...field }) => field) })
  expect(problem.options).toHaveLength(4)
  const { model } = buildModel(problem, { rules: allRules(problem), wholePacks: true, only: [2, 3] })
  const arrays = model.arrays()
  expect([...arrays.upper].filter((upper) => !Number.isFinite(upper))).toEqual([])
  for (const presolve of [true, false]) {
    const answer = await solver.run(arrays, { gap: 0, seconds: 60, presolve })
    expect(answer.cost, `presolve ${presolve}`).toBeCloseTo(39_061.19, 4)
  }
})
