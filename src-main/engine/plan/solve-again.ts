/** A problem near to one already solved, solved again from the plan in hand: how every reason is worked out. */
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'
import type { Plan, SolvedPlan } from '../../../src-shared/plan.ts'
import { ok, type Result } from '../../../src-shared/problem.ts'
import { solveProblem, type SolveOptions } from './solve-problem.ts'
import type { Solver } from './solver.ts'

export interface AgainOptions extends Pick<SolveOptions, 'gap' | 'seconds' | 'wholeCents' | 'signal'> {
  /** Puts back what the problem leaves out as settled, seed on order, so that plans are compared by all they cost. */
  whole?: (solved: SolvedPlan) => SolvedPlan
}

/** @param near the plan to start from; null for none */
export async function solveAgain(
  problem: PlanProblem,
  near: Plan | null,
  options: AgainOptions,
  solver: Solver,
): Promise<Result<SolvedPlan>> {
  const { gap, seconds, wholeCents, signal, whole } = options
  const solved = await solveProblem(problem, { gap, seconds, wholeCents, signal, near }, solver)
  return solved.ok && whole !== undefined ? ok(whole(solved.value)) : solved
}
