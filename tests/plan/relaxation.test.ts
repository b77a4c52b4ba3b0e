/** A large farm's relaxation, solved in parts, is the relaxation: the same cost, and prices that no plan undercuts. */
import { afterAll, expect, it } from 'vitest'
import { optionAt, type Build } from '../../src-main/engine/plan/build.ts'
import { usefulOptions } from '../../src-main/engine/plan/reduce.ts'
import { relax } from '../../src-main/engine/plan/relaxation.ts'
import { allRules } from '../../src-main/engine/plan/rules/all-rules.ts'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import { sortedProblem } from '../../src-main/engine/plan/sort-problem.ts'
import { syntheticFarm } from '../speed/synthetic-farm.ts'

const solver = new Solver()
afterAll(() => solver.close())
const solve = (build: Build) => solver.run(build.model.arrays(), { gap: 0, seconds: 60, relaxed: true })

it.each([
  ['S', 1],
  ['S', 3],
  ['M', 2],
] as const)('%s %i: in parts as in one', { timeout: 300_000 }, async (size, seed) => {
  const problem = sortedProblem(syntheticFarm(size, seed))
  const rules = allRules(problem)
  const inOne = await relax(problem, { rules }, usefulOptions(problem), solve)
  let largest = 0
  const noting = (build: Build) => {
    largest = Math.max(largest, build.options.length)
    return solve(build)
  }
  const inParts = await relax(problem, { rules }, usefulOptions(problem), noting, 50)
  expect(inParts.status).toBe('optimal')
  // Not by falling back to the whole: no model that was solved has all options.
  expect(largest).toBeLessThan(inOne.options.length)
  expect(Math.abs(inParts.cost - inOne.cost)).toBeLessThan(1e-6 * Math.abs(inOne.cost))
  expect([...inParts.options].sort((a, b) => a - b)).toEqual([...inOne.options].sort((a, b) => a - b))
})

it(
  'a plan that uses an option costs at least the relaxation and the price of the option',
  { timeout: 300_000 },
  async () => {
    const problem = sortedProblem(syntheticFarm('S', 1))
    const rules = allRules(problem)
    const { cost, options, prices } = await relax(problem, { rules }, usefulOptions(problem), solve, 50)
    const dear = options
      .map((index, at) => ({ index, price: prices[at] as number }))
      .sort((a, b) => b.price - a.price)
      .filter(({ price }) => price > 1)
    const tried = dear.filter((_, at) => at % Math.ceil(dear.length / 6) === 0)
    expect(tried.length).toBeGreaterThan(3)
    for (const { index, price } of tried) {
      const { field, variety } = optionAt(problem, index)
      if (problem.fields.find((each) => each.id === field)?.split !== undefined) continue
      // Held to the option: the field has no other.
      const only = problem.options.filter((option, at) => option.field !== field || at === index)
      const solved = await solveProblem(
        { ...problem, options: only },
        { gap: 0.002, seconds: 30, wholeCents: false },
        solver,
      )
      if (!solved.ok) throw new Error(JSON.stringify(solved.problems))
      if (solved.value.plan === null) continue
      const found = solved.value.plan.totals.costCents / 100
      expect(found, `${variety} on ${field}`).toBeGreaterThanOrEqual(cost + price - 0.01)
    }
  },
)
