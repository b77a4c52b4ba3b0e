/** Rules about acres: the largest share of a variety, the acres a contract asks for. */
import type { PlanProblem } from '../../../../src-shared/plan-problem.ts'
import { acresOfVariety } from '../build.ts'
import { isMoreThan, type NamedRule } from './named-rule.ts'

/** A share named for one variety replaces the general one for it. */
export function shareRules(problem: PlanProblem): NamedRule[] {
  const total = problem.fields.reduce((sum, field) => sum + field.acres, 0)
  const general = problem.rules.largestShare.find((rule) => rule.variety === undefined)
  return problem.varieties.flatMap((variety) => {
    const rule = problem.rules.largestShare.find((each) => each.variety === variety.id) ?? general
    if (rule === undefined || rule.share >= 1) return []
    const most = rule.share * total
    return [
      {
        id: `largest-share/${variety.id}`,
        says: `No more than ${percent(rule.share)} of the acres in ${variety.id}.`,
        unit: 'acres',
        addRows(build) {
          build.model.limit(-Infinity, most, acresOfVariety(build, variety.id))
        },
        broken(plan) {
          const acres = plan.blocks.reduce((sum, block) => sum + (block.variety === variety.id ? block.acres : 0), 0)
          return isMoreThan(acres, most)
            ? `${variety.id} has ${acres.toFixed(1)} acres; its share allows ${most.toFixed(1)}.`
            : null
        },
      } satisfies NamedRule,
    ]
  })
}

export function contractRules(problem: PlanProblem): NamedRule[] {
  return problem.rules.contracts.map((contract) => {
    const varieties = problem.varieties.filter((variety) => variety.oilType === contract.oilType).map(({ id }) => id)
    return {
      id: `contract/${contract.oilType}`,
      says: `At least ${contract.acres} acres of ${contract.oilType}.`,
      unit: 'acres',
      addRows(build) {
        build.model.limit(
          contract.acres,
          Infinity,
          varieties.flatMap((variety) => acresOfVariety(build, variety)),
        )
      },
      broken(plan) {
        const acres = plan.blocks.reduce((sum, block) => sum + (varieties.includes(block.variety) ? block.acres : 0), 0)
        return isMoreThan(contract.acres, acres)
          ? `${acres.toFixed(1)} acres of ${contract.oilType} are planned; the contract asks for ${contract.acres}.`
          : null
      },
    }
  })
}

function percent(share: number): string {
  return `${Number((share * 100).toFixed(1))} %`
}
