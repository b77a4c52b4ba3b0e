/** Finds the options that a block of a plan could be: by field, variety, window and programme. */
import type { PlanBlock } from '../../../src-shared/plan.ts'
import type { PlanProblem, ProblemOption } from '../../../src-shared/plan-problem.ts'

type Named = Pick<PlanBlock, 'field' | 'variety' | 'window' | 'programme'>

/** Tens of thousands of options: indexed once a problem, and forgotten with it. */
const indices = new WeakMap<PlanProblem, Map<string, ProblemOption[]>>()

/** None where the plan was made of another season; more than one where a field may be sown at several drops. */
export function optionsOfBlock(problem: PlanProblem, block: Named): readonly ProblemOption[] {
  let index = indices.get(problem)
  if (index === undefined) indices.set(problem, (index = Map.groupBy(problem.options, keyOf)))
  return index.get(keyOf(block)) ?? []
}

function keyOf({ field, variety, window, programme }: Named): string {
  return JSON.stringify([field, variety, window, programme])
}

/**
 * The one option that a block was made from: of those alike in name and rate the nearest in money, and of those that cost
 * the same the one with the fewest machine hours, as the plan would choose. Undefined where there is none.
 */
export function optionOfBlock(problem: PlanProblem, block: PlanBlock): ProblemOption | undefined {
  const { acres, poundsPerAcre, cashCents, lossCents, vineCents, giveUpCents } = block
  const off = (option: ProblemOption) =>
    Math.abs(option.cashCents * acres - cashCents) +
    Math.abs(option.lossCents * acres - lossCents) +
    Math.abs(option.vineCents * acres - vineCents) +
    Math.abs(option.giveUpCents * acres - giveUpCents)
  const hours = (option: ProblemOption) => option.planterHours + option.diggerHours + option.combineHours
  return optionsOfBlock(problem, block)
    .filter((option) => option.poundsPerAcre === poundsPerAcre)
    .map((option) => ({ option, off: off(option), hours: hours(option) }))
    .sort((a, b) => a.off - b.off || a.hours - b.hours)[0]?.option
}
