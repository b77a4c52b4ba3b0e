/**
 * A bug that was: a whole number with a fractional upper limit, without presolve, was called optimal at up to twice the
 * least cost. Models of 200 random farms cost the same with presolve and without.
 */
import { afterAll, expect, it } from 'vitest'
import { LinearModel } from '../../src-main/engine/plan/linear-model.ts'
import { buildModel } from '../../src-main/engine/plan/model.ts'
import { allRules } from '../../src-main/engine/plan/rules/all-rules.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import { sortedProblem } from '../../src-main/engine/plan/sort-problem.ts'
import { readPlanProblem } from '../../src-shared/plan-problem.ts'
import { randomFrom } from './random.ts'
import { smallFarm } from './small-farm.ts'

const solver = new Solver()
afterAll(() => solver.close())

it('whole numbers get whole limits; others keep theirs', () => {
  const model = new LinearModel()
  model.column(0, 0.2, 98.09, true)
  model.column(0, 0.2, 98.09)
  model.column(0, 3 - 1e-12, 4 + 1e-12, true)
  const { lower, upper } = model.arrays()
  expect([...lower]).toEqual([1, 0.2, 3])
  expect([...upper]).toEqual([98, 98.09, 4])
})

it(
  'a farm with fractions of packs available costs the same with presolve and without',
  { timeout: 300_000 },
  async () => {
    let seen = 0
    for (let seed = 1; seed <= 200; seed++) {
      const random = randomFrom(seed + 9000)
      const farm = smallFarm(seed)
      const quotes = farm.quotes.map((quote) => ({ ...quote, availablePacks: random.whole(0, 900) / 70 }))
      const problem = sortedProblem({ ...farm, quotes })
      const { model } = buildModel(problem, { rules: allRules(problem), wholePacks: true })
      const costs: number[] = []
      for (const presolve of [true, false]) {
        const answer = await solver.run(model.arrays(), { gap: 0, seconds: 60, presolve })
        costs.push(answer.status === 'infeasible' ? Infinity : answer.cost)
      }
      const [withPresolve, without] = costs as [number, number]
      if (Number.isFinite(withPresolve)) seen++
      expect(Number.isFinite(without), `farm ${seed}`).toBe(Number.isFinite(withPresolve))
      if (Number.isFinite(without)) expect(Math.abs(without - withPresolve), `farm ${seed}`).toBeLessThan(0.005)
    }
    expect(seen).toBeGreaterThan(60)
  },
)

it('a problem file keeps its fraction: 98.09 packs available are 98', () => {
  const read = readPlanProblem(
    {
      format: 'standwell-problem',
      version: 1,
      fields: [{ id: 'F', acres: 10 }],
      varieties: [{ id: 'A' }],
      options: [{ field: 'F', variety: 'A', poundsPerAcre: 1000 }],
      dealers: [{ id: 'N' }],
      quotes: [{ id: 'Q', dealer: 'N', variety: 'A', packPounds: 50, packPriceCents: 100, availablePacks: 98.09 }],
    },
    'fraction',
  )
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  const { model, packs } = buildModel(read.value, { rules: allRules(read.value), wholePacks: true })
  expect(model.arrays().upper[packs[0]!.column]).toBe(98)
})
