/** A season's plan: priced, solved, proven, checked. What the engine and the command line call. */
import type { SolvedPlan, SolveProgress } from '../../../src-shared/plan.ts'
import { fail, type Result } from '../../../src-shared/problem.ts'
import { checkCalendar } from './check-calendar.ts'
import { priceSeason, type OfferedSeason } from './price.ts'
import { solveProblem } from './solve-problem.ts'
import type { Solver } from './solver.ts'

export interface PlanOptions {
  /** Stop when proven within this share of the least cost. */
  gap: number
  /** [s] */
  seconds: number
  onProgress?: (progress: SolveProgress) => void
  /** Told what the solver said when it failed: for the log. */
  onFault?: (what: string) => void
  signal?: AbortSignal
}

/**
 * @param ownSolver a worker to use and leave running; without one, a worker is started and ended
 * @returns the plan and its proof; problems where the season plainly cannot be planned
 */
export async function solvePlan(
  season: OfferedSeason,
  options: PlanOptions,
  ownSolver?: Solver,
): Promise<Result<SolvedPlan>> {
  const priced = priceSeason(season)
  if (!priced.ok) return priced
  const solved = await solveProblem(priced.value.problem, { ...options, wholeCents: true, explain: true }, ownSolver)
  if (!solved.ok || solved.value.plan === null) return solved
  const problems = checkCalendar(priced.value.context, solved.value.plan)
  return problems.length > 0 ? fail(...problems) : solved
}
