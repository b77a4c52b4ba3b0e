/** Rules about acres: the largest share of a variety, the acres a contract asks for. */
import type { PlanProblem } from '../../../../src-shared/plan-problem.ts'
import { acresOfVariety } from '../build.ts'
import { mostAcres, shareOf, shareRuleId } from '../share-limit.ts'
import { isMoreThan, type NamedRule } from './named-rule.ts'

export function shareRules(problem: PlanProblem): NamedRule[] {
  return problem.varieties.flatMap((variety) => {
    const share = shareOf(problem, variety.id)
    if (share >= 1) return []
    const most = mostAcres(problem, variety.id)
    return [
      {
        id: shareRuleId(variety.id),
        says: `No more than ${percent(share)} of the acres in ${variety.id}.`,
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
