/** Options that are left out beforehand: never one that a field needs in a week beside another. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { usefulOptions } from '../../src-main/engine/plan/reduce.ts'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { readPlanProblem, type PlanProblem } from '../../src-shared/plan-problem.ts'

const WEEKS = ['2027-05-03', '2027-05-10'] as const

/**
 * One whole field of 100 acres with two spray programs in two weeks, each week with planter hours for so many acres.
 * @param cents [cent/acre] by program and week
 */
function twoWeeks(cents: Record<string, readonly [number, number]>, acresAWeek: number): PlanProblem {
  const problem = readPlanProblem(
    {
      format: 'standwell-problem',
      version: 1,
      name: 'Two weeks',
      fields: [{ id: 'Field', acres: 100 }],
      varieties: [{ id: 'A' }],
      options: Object.entries(cents).flatMap(([program, each]) =>
        WEEKS.map((week, w) => ({
          field: 'Field',
          variety: 'A',
          window: 'May',
          week,
          programme: [program],
          cashCents: each[w],
          poundsPerAcre: 100,
          planterHours: 0.1,
        })),
      ),
      dealers: [{ id: 'Dealer' }],
      quotes: [{ id: 'Quote', dealer: 'Dealer', variety: 'A', packPounds: 50, packPriceCents: 4000 }],
      rules: { planterHours: WEEKS.map((week) => ({ in: week, hours: acresAWeek / 10 })) },
    },
    'two weeks',
  )
  if (!problem.ok) throw new Error(JSON.stringify(problem.problems))
  return problem.value
}

/** [cent] The least that the field can cost without its seed: one program throughout, the cheaper week as full as it can be. */
function leastByHand(cents: Record<string, readonly [number, number]>, acresAWeek: number): number {
  const of = ([first, second]: readonly [number, number]) =>
    Math.min(first, second) * acresAWeek + Math.max(first, second) * (100 - acresAWeek)
  return Math.min(...Object.values(cents).map(of))
}

describe('a field that takes two weeks', () => {
  it('has a plan where each of two programs is the cheaper in one of the weeks', async () => {
    const solved = await solveProblem(twoWeeks({ P: [100, 120], Q: [110, 110] }, 50), {
      gap: 0,
      seconds: 30,
      wholeCents: true,
    })
    // 100 × $1.10 for practices, 200 bags of seed at $40.
    expect(solved.ok && solved.value.plan?.totals.cashCents).toBe(11_000 + 200 * 4000)
  })

  it('keeps the program that costs least over both', () => {
    const cents = fc.tuple(fc.integer({ min: 90, max: 130 }), fc.integer({ min: 90, max: 130 }))
    fc.assert(
      fc.property(fc.array(cents, { minLength: 1, maxLength: 6 }), fc.integer({ min: 50, max: 100 }), (list, acres) => {
        const all = Object.fromEntries(list.map((each, p) => [`P${p}`, each]))
        const problem = twoWeeks(all, acres)
        const kept = Map.groupBy(
          usefulOptions(problem).map((index) => problem.options[index]!),
          ({ programme }) => programme.join(),
        )
        const whole = [...kept].filter(([, own]) => own.length === WEEKS.length)
        const left = Object.fromEntries(whole.map(([program]) => [program, all[program]!]))
        expect(leastByHand(left, acres)).toBe(leastByHand(all, acres))
      }),
      { numRuns: 500 },
    )
  })

  it('leaves out a program that another beats in every week', () => {
    const problem = twoWeeks({ P: [100, 105], Q: [100, 110], R: [120, 100] }, 60)
    const programs = usefulOptions(problem).map((index) => problem.options[index]!.programme.join())
    expect(programs).toEqual(['P', 'P', 'R', 'R'])
  })
})
