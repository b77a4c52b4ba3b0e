/** The same data give the same plan: run again, and with the rows shuffled. */
import { afterAll, expect, it } from 'vitest'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { sortedProblem } from '../../src-main/engine/plan/sort-problem.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import type { PlanProblem } from '../../src-shared/plan-problem.ts'
import { randomFrom } from './random.ts'
import { smallFarm } from './small-farm.ts'

const solver = new Solver()
afterAll(() => solver.close())

function shuffled<Thing>(things: readonly Thing[], seed: number): Thing[] {
  const random = randomFrom(seed)
  return things
    .map((thing) => ({ thing, at: random.next() }))
    .sort((a, b) => a.at - b.at)
    .map(({ thing }) => thing)
}

function shuffledProblem(problem: PlanProblem, seed: number): PlanProblem {
  return {
    ...problem,
    fields: shuffled(problem.fields, seed),
    varieties: shuffled(problem.varieties, seed + 1),
    options: shuffled(problem.options, seed + 2),
    dealers: shuffled(problem.dealers, seed + 3),
    quotes: shuffled(problem.quotes, seed + 4),
  }
}

it('50 farms, each three times', { timeout: 300_000 }, async () => {
  for (let seed = 1; seed <= 50; seed++) {
    const problem = smallFarm(seed)
    const answers = []
    for (const given of [problem, problem, shuffledProblem(problem, seed)]) {
      const solved = await solveProblem(given, { gap: 0, seconds: 30, wholeCents: true }, solver)
      if (!solved.ok) throw new Error(JSON.stringify(solved.problems))
      const { plan, proof } = solved.value
      answers.push(JSON.stringify({ plan, status: proof.status, hash: proof.dataHash }))
    }
    expect(answers[1], `farm ${seed} again`).toBe(answers[0])
    expect(answers[2], `farm ${seed} shuffled`).toBe(answers[0])
  }
})

it('options that differ in figures only are sorted by them', () => {
  const [first] = smallFarm(1).options
  if (first === undefined) throw new Error('The farm has an option.')
  const figures = [
    { cashCents: 1, lossCents: 9, poundsPerAcre: 9 },
    { cashCents: 2, lossCents: 1, poundsPerAcre: 9 },
    { cashCents: 2, lossCents: 2, poundsPerAcre: 1 },
    { cashCents: 2, lossCents: 2, poundsPerAcre: 2 },
  ]
  const options = figures.map((each) => ({ ...first, ...each }))
  for (const seed of [1, 2, 3, 4]) {
    const sorted = sortedProblem({ ...smallFarm(1), options: shuffled(options, seed) })
    expect(sorted.options).toEqual(options)
  }
})
