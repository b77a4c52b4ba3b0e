/** "This field is planted." and "That variety is planted somewhere.": what a question such as "and if it were?" asks for. */
import type { PlanProblem } from '../../../../src-shared/plan-problem.ts'
import { chosenTerms, columnsOf, optionAt, usedColumn } from '../build.ts'
import type { NamedRule } from './named-rule.ts'

export function plantedRules(problem: PlanProblem): NamedRule[] {
  return (problem.rules.planted ?? []).map(({ field, variety }) => {
    const says =
      field === undefined
        ? `${variety ?? 'Something'} is planted.`
        : variety === undefined
          ? `${field} is planted, not left out.`
          : `${variety} is planted on ${field}.`
    return {
      id: `planted/${field ?? ''}/${variety ?? ''}`,
      says,
      addRows(build) {
        if (field === undefined) {
          if (variety !== undefined) build.model.limit(1, Infinity, [[usedColumn(build, variety), 1]])
        } else if (variety === undefined) {
          const left = build.leftOut.get(field)
          if (left !== undefined) build.model.forbid(left)
        } else {
          const own = columnsOf(build.byField, field).filter(
            ({ option }) => optionAt(problem, option).variety === variety,
          )
          build.model.limit(1, Infinity, chosenTerms(own))
        }
      },
      broken(plan) {
        if (field !== undefined && variety === undefined) {
          return plan.leftOut.some((each) => each.field === field) ? `${says} The plan leaves it out.` : null
        }
        const isThere = plan.blocks.some(
          (block) => (field ?? block.field) === block.field && (variety ?? block.variety) === block.variety,
        )
        return isThere ? null : `${says} The plan has none of it there.`
      },
    } satisfies NamedRule
  })
}
