/** How many acres a variety may have by the largest-share rule: read by the rule itself and by rows it makes tighter. */
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'

export function shareRuleId(variety: string): string {
  return `largest-share/${variety}`
}

/** A share named for one variety replaces the general one for it. */
export function shareOf(problem: PlanProblem, variety: string): number {
  const { largestShare } = problem.rules
  const rule =
    largestShare.find((each) => each.variety === variety) ?? largestShare.find((each) => each.variety === undefined)
  return rule?.share ?? 1
}

/** [acre] that a variety may have by its share; all there are without a rule. */
export function mostAcres(problem: PlanProblem, variety: string): number {
  return shareOf(problem, variety) * problem.fields.reduce((sum, field) => sum + field.acres, 0)
}
