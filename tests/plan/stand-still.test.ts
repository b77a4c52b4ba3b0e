/** The plan in hand as a start: its own seeding rates are found again, also where other weights would not choose its options. */
import { afterAll, expect, test } from 'vitest'
import { usefulOptions } from '../../src-main/engine/plan/reduce.ts'
import { allRules } from '../../src-main/engine/plan/rules/all-rules.ts'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import { standStill } from '../../src-main/engine/plan/stand-still.ts'
import type { Plan } from '../../src-shared/plan.ts'
import type { PlanProblem, ProblemOption } from '../../src-shared/plan-problem.ts'
import { oneField } from './one-field.ts'

const solver = new Solver()
afterAll(() => solver.close())

/** A plan that has these options whole, as far as a start reads it. */
function planOf(problem: PlanProblem, options: readonly ProblemOption[]): Plan {
  const acresOf = new Map(problem.fields.map(({ id, acres }) => [id, acres]))
  return { blocks: options.map((option) => ({ ...option, acres: acresOf.get(option.field) ?? 0 })) } as unknown as Plan
}

test('each block finds its own rate among several of one place', () => {
  const problem = oneField()
  problem.options = problem.options.flatMap((option) =>
    [100, 110, 90].map((poundsPerAcre) => ({ ...option, poundsPerAcre })),
  )
  for (const [rate, nearest] of [
    [90, 90],
    [110, 110],
    // Of a germination that was another then.
    [112.5, 110],
  ] as const) {
    const near = planOf(problem, [{ ...problem.options[0]!, poundsPerAcre: rate }])
    const held = standStill(problem, allRules(problem), [...problem.options.keys()], near)
    expect(held?.options.map(({ option }) => problem.options[option]?.poundsPerAcre)).toEqual([nearest])
  }
})

test('a plan that other weights would not choose is still where their search begins', async () => {
  const problem = oneField()
  // Beside B without loss, A with it is of no use once a dollar of loss counts a hundred.
  problem.options = problem.options.flatMap((option) => [
    option,
    { ...option, programme: ['spray'], cashCents: option.cashCents - 500, lossCents: 100 },
  ])
  problem.rules.riskWeight = 100
  const inHand = problem.options[1]!
  expect(usefulOptions(problem)).not.toContain(1)
  const near = planOf(problem, [inHand])
  const solved = await solveProblem(problem, { gap: 0, seconds: 20, wholeCents: false, near }, solver)
  if (!solved.ok) throw new Error(JSON.stringify(solved.problems))
  expect(solved.value.proof.stages[0]?.name).toBe('the plan in hand')
  expect(solved.value.plan?.totals.lossCents).toBe(0)
})
