/**
 * Problem → proven plan. The search (`search.ts`) finds and proves; here its answer is read back, checked without the
 * model, and said in words that claim no more than was proven.
 */
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'
import type { Plan, SolvedPlan, SolveProgress } from '../../../src-shared/plan.ts'
import { fail, ok, type Problem, type Result } from '../../../src-shared/problem.ts'
import { CENTS_PER_UNIT } from './build.ts'
import { checkPlan } from './check.ts'
import { findConflict } from './conflict.ts'
import { proofOf } from './proof.ts'
import { readBack } from './read-back.ts'
import { allRules } from './rules/all-rules.ts'
import { Search } from './search.ts'
import { Solver } from './solver.ts'
import { sortedProblem } from './sort-problem.ts'

export interface SolveOptions {
  /** Stop when proven within this share of the least cost; 0 for the very best. */
  gap: number
  /** [s] wall clock, the last net. */
  seconds: number
  /** Round each block and order to the cent. */
  wholeCents: boolean
  /** The plan in hand of a problem much like this one; a start. */
  near?: Plan | null
  /** Where nothing fits, find out which rules clash: takes seconds more. */
  explain?: boolean
  onProgress?: (progress: SolveProgress) => void
  /** Told what the solver said when it failed: for the log. */
  onFault?: (what: string) => void
  signal?: AbortSignal
}

/** [s] The last net for finding which rules clash; how far it goes hangs on its work (`conflict.ts`), not on the clock. */
const CONFLICT_SECONDS = 30

/**
 * @param ownSolver a worker to use and leave running; without one, a worker is started and ended
 * @returns the plan and its proof, also where nothing fits or nothing was found; problems only for a fault of ours
 */
export async function solveProblem(
  given: PlanProblem,
  options: SolveOptions,
  ownSolver?: Solver,
): Promise<Result<SolvedPlan>> {
  const solver = ownSolver ?? new Solver()
  try {
    const problem = sortedProblem(given)
    const rules = allRules(problem)
    const search = new Search(problem, rules, options, solver)
    const ended = await search.run()
    if (search.fault !== null) options.onFault?.(search.fault)
    if (ended === 'failed' && search.best === null) {
      return fail({
        code: 'engine-stopped',
        what: 'The solver stopped without an answer.',
        remedy: 'Ask for the plan again; the plan in hand is kept.',
      })
    }
    const plan = search.best === null ? null : readBack(search.best.build, search.best.columns, options.wholeCents)
    const problems = plan === null ? [] : [...checkPlan(problem, rules, plan), ...checkBound(plan, search.bound)]
    if (problems.length > 0) return fail(...problems)
    const fault = ended === 'failed' ? search.fault : null
    const searched = { bound: search.bound, stages: search.stages, seconds: search.seconds, fault }
    const proof = proofOf(problem, options.gap, plan, ended, searched, options.wholeCents)
    if (proof.status !== 'nothing-fits' || !options.explain) return ok({ plan, proof })
    const conflict = await findConflict(problem, rules, solver, { seconds: CONFLICT_SECONDS, signal: options.signal })
    return ok({ plan, proof: { ...proof, conflict } })
  } finally {
    if (ownSolver === undefined) await solver.close()
  }
}

/** A plan that costs less than what was proven no plan can is a fault of the proof. */
function checkBound(plan: Plan, bound: number): Problem[] {
  const cost = plan.totals.costCents / CENTS_PER_UNIT
  // Half a cent for each block and order that was rounded, and what the solver's own tolerances allow.
  const slack = 0.005 * (plan.blocks.length * 4 + plan.orders.length + 1) + 1e-5 * Math.abs(cost)
  if (!Number.isFinite(bound) || cost >= bound - slack) return []
  return [
    {
      code: 'bug',
      what: `The plan fails a check: it costs ${cost.toFixed(2)}, less than the ${bound.toFixed(2)} that was proven to be the least.`,
      remedy: 'Please report this with the season file; do not order from this plan.',
    },
  ]
}
