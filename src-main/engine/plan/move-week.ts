/** What it costs to plant a block in another week: with all else held, exactly; where that does not fit, a bound. */
import type { MoveCost } from '../../../src-shared/calendar-view.ts'
import { isReplaced } from '../../../src-shared/lock.ts'
import type { PlanProblem, ProblemOption } from '../../../src-shared/plan-problem.ts'
import type { Plan } from '../../../src-shared/plan.ts'
import { partsOf } from '../../../src-shared/planted-part.ts'
import { ok, type Result } from '../../../src-shared/problem.ts'
import { showDate, showDollars } from '../../../src-shared/show.ts'
import { optionsOfBlock } from './block-options.ts'
import { CENTS_PER_UNIT } from './build.ts'
import { relax } from './relaxation.ts'
import { usefulOptions } from './reduce.ts'
import { allRules } from './rules/all-rules.ts'
import { solveAgain, type AgainOptions } from './solve-again.ts'
import type { Solver } from './solver.ts'
import { sortedProblem } from './sort-problem.ts'

export interface Move {
  field: string
  variety: string
  /** Mondays, ISO dates. */
  from: string
  to: string
}

/** [share] The move is told to a hundredth of a percent of the plan's cost. */
const GAP = 0.0001

/** @param plan the plan in hand of the problem */
export async function moveWeek(
  problem: PlanProblem,
  plan: Plan,
  move: Move,
  options: AgainOptions,
  solver: Solver,
): Promise<Result<MoveCost>> {
  const { field, variety, from, to } = move
  const isMoved = (at: { field: string; variety: string }) => at.field === field && at.variety === variety
  const block = plan.blocks.find(isMoved)
  const target = problem.options.filter((option) => isMoved(option) && option.week === to)
  if (block === undefined || target.length === 0) {
    return ok({
      cents: null,
      atLeastCents: null,
      says: `Nothing may be planted on ${field} in the week of ${showDate(to)}: it is outside your planting windows, or a rule forbids it.`,
    })
  }
  const acres = partsOf(block).find(({ week }) => week === from)?.acres ?? block.acres
  const kept = keptThere(problem, move, acres)
  const stays = new Set(plan.blocks.flatMap((each) => keptOptions(problem, each, isMoved(each) ? from : null)))
  // A field in several weeks stays one group: the week moved to must then be of the same spray program and rate.
  const parts = partsOf(block).length
  const own = optionsOfBlock(problem, block)?.[0]?.option
  const isAlike = ({ programme, poundsPerAcre }: ProblemOption) =>
    poundsPerAcre === own?.poundsPerAcre && programme.join('\n') === own.programme.join('\n')
  const fits = new Set(target.filter((option) => parts === 1 || isAlike(option)))
  const held = await solveAgain(
    { ...kept, options: problem.options.filter((option) => stays.has(option) || fits.has(option)) },
    null,
    { ...options, gap: GAP },
    solver,
  )
  if (!held.ok) return held
  const { plan: found, proof } = held.value
  if (found !== null) {
    const cents = found.totals.costCents - plan.totals.costCents
    // Broken off before it was worked out: what was found by then may be far from the best.
    const isWorkedOut = proof.endedBy === 'proof' || proof.endedBy === 'gap'
    return ok({ cents, atLeastCents: null, says: sayMove(cents, isWorkedOut) })
  }
  return ok(await boundOf(kept, plan, to, solver, options.signal))
}

/** The problem with the lock that *Keep it there* would set. */
function keptThere(problem: PlanProblem, { field, variety, from, to }: Move, acres: number): PlanProblem {
  const others = problem.rules.locks.filter((lock) => !isReplaced(lock, { field, variety, weeks: [from, to], acres }))
  const locks = [...others, { field, variety, week: to, acres }]
  return { ...problem, rules: { ...problem.rules, locks } }
}

function keptOptions(problem: PlanProblem, block: Plan['blocks'][number], without: string | null) {
  return (optionsOfBlock(problem, block) ?? [])
    .filter(({ part }) => without === null || part.week !== without)
    .map(({ option }) => option)
}

/** With everything else free to move, in any share: at least so much. */
async function boundOf(
  kept: PlanProblem,
  plan: Plan,
  to: string,
  solver: Solver,
  signal: AbortSignal | undefined,
): Promise<MoveCost> {
  const problem = sortedProblem(kept)
  const rules = allRules(problem)
  const relaxed = await relax(problem, { rules }, usefulOptions(problem), (build) =>
    solver.run(build.model.arrays(), { gap: 0, seconds: 20, relaxed: true, signal }),
  )
  if (relaxed.status !== 'optimal') {
    return { cents: null, atLeastCents: null, says: `It does not fit in the week of ${showDate(to)}.` }
  }
  const atLeastCents = Math.max(0, relaxed.cost * CENTS_PER_UNIT - plan.totals.costCents)
  const least = atLeastCents < 50 ? '' : ` At least ${showDollars(atLeastCents)} more once they do.`
  return { cents: null, atLeastCents, says: `It fits only if other fields move.${least}` }
}

/** “$140 more with all else as it is.” */
function sayMove(cents: number, isWorkedOut: boolean): string {
  const how = isWorkedOut ? 'with all else as it is' : 'at most with all else as it is; time ran out'
  if (Math.abs(cents) < 50) return `Costs the same ${how}.`
  return cents > 0 ? `${showDollars(cents)} more ${how}.` : `${showDollars(-cents)} less ${how}.`
}
