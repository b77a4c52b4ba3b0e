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
