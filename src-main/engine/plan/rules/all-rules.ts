/** Every rule that a problem holds, each under its own name. The order is the order in which they are told. */
import type { PlanProblem } from '../../../../src-shared/plan-problem.ts'
import { contractRules, shareRules } from './acreage.ts'
import { availabilityRules } from './availability.ts'
import { budgetRules } from './budget.ts'
import { countRules } from './counts.ts'
import { hourRules } from './hours.ts'
import { largestTotalLossRules } from './largest-total-loss.ts'
import { exclusionRules, lockRules } from './locks.ts'
import { mustUseRules } from './must-use.ts'
import type { NamedRule } from './named-rule.ts'
import { plantedRules } from './planted.ts'

export function allRules(problem: PlanProblem): NamedRule[] {
  return [
    ...lockRules(problem),
    ...exclusionRules(problem),
    ...plantedRules(problem),
    ...availabilityRules(problem),
    ...mustUseRules(problem),
    ...contractRules(problem),
    ...shareRules(problem),
    ...countRules(problem),
    ...hourRules(problem),
    ...budgetRules(problem),
    ...largestTotalLossRules(problem),
  ]
}
