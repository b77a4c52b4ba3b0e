/** "The seed left from last year must be used." */
import type { PlanProblem } from '../../../../src-shared/plan-problem.ts'
import { showWhole } from '../../../../src-shared/show.ts'
import { poundsNeeded } from '../build.ts'
import { isMoreThan, type NamedRule } from './named-rule.ts'

export function mustUseRules(problem: PlanProblem): NamedRule[] {
  const pounds = new Map<string, number>()
  for (const carried of problem.carried) {
    if (carried.mustUse) pounds.set(carried.variety, (pounds.get(carried.variety) ?? 0) + carried.pounds)
  }
  return [...pounds].map(([variety, least]) => ({
    id: `must-use/${variety}`,
    says: `The ${showWhole(least)} pounds of ${variety} on hand must be used.`,
    unit: 'pounds',
    addRows(build) {
      build.model.limit(least, Infinity, poundsNeeded(build, variety))
    },
    broken(plan) {
      const need = plan.blocks.reduce((sum, block) => sum + (block.variety === variety ? block.pounds : 0), 0)
      const used = need * (1 + problem.rules.reserve)
      return isMoreThan(least, used)
        ? `${showWhole(used)} of ${showWhole(least)} pounds of ${variety} on hand are used.`
        : null
    },
  }))
}
