/** What an acre costs that is left out: the crop it could make, less what the ground brings otherwise. */
import type { PlanProblem, ProblemField } from '../../../src-shared/plan-problem.ts'

/** [cent/acre]; null where every acre must be planted. */
export function leaveOutCents({ rules }: Pick<PlanProblem, 'rules'>, field: ProblemField): number | null {
  return rules.leaveOutCents === undefined ? null : (field.leaveOutCents ?? rules.leaveOutCents)
}
