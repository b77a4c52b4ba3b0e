/** Rules that count: least and most varieties, most dealers. */
import type { Plan } from '../../../../src-shared/plan.ts'
import type { PlanProblem } from '../../../../src-shared/plan-problem.ts'
import type { Term } from '../linear-model.ts'
import { usedColumn, type Build } from '../build.ts'
import type { NamedRule } from './named-rule.ts'

export function countRules(problem: PlanProblem): NamedRule[] {
  const { fewestVarieties, mostVarieties } = problem.rules
  const mostDealers = dealersAllowed(problem)
  const rules: NamedRule[] = []
  if (fewestVarieties !== undefined && fewestVarieties > 0) {
    rules.push({
      id: 'fewest-varieties',
      says: `Plant at least ${fewestVarieties} ${fewestVarieties === 1 ? 'variety' : 'varieties'}.`,
      unit: 'varieties',
      addRows: (build) => build.model.limit(fewestVarieties, Infinity, usedTerms(build)),
      broken: (plan) =>
        varietiesIn(plan) < fewestVarieties
          ? `${varietiesIn(plan)} varieties are planted; at least ${fewestVarieties} are wanted.`
          : null,
    })
  }
  if (mostVarieties !== undefined) {
    rules.push({
      id: 'most-varieties',
      says: `Plant no more than ${mostVarieties} ${mostVarieties === 1 ? 'variety' : 'varieties'}.`,
      unit: 'varieties',
      addRows: (build) => build.model.limit(-Infinity, mostVarieties, usedTerms(build)),
      broken: (plan) =>
        varietiesIn(plan) > mostVarieties
          ? `${varietiesIn(plan)} varieties are planted; no more than ${mostVarieties} are wanted.`
          : null,
    })
  }
  if (mostDealers !== undefined) {
    rules.push({
      id: 'most-dealers',
      says: `Order from no more than ${mostDealers} ${mostDealers === 1 ? 'dealer' : 'dealers'}.`,
      unit: 'dealers',
      addRows: (build) =>
        build.model.limit(
          -Infinity,
          mostDealers,
          [...build.dealerUsed.values()].map((used): Term => [used, 1]),
        ),
      broken: (plan) =>
        plan.orders.length > mostDealers
          ? `${plan.orders.length} dealers are used; no more than ${mostDealers} are wanted.`
          : null,
    })
  }
  return rules
}

/** What is on order is a fact: from more dealers than the house allows, no further one is added. */
function dealersAllowed({ rules, quotes }: PlanProblem): number | undefined {
  if (rules.mostDealers === undefined) return undefined
  const ordered = new Set(quotes.flatMap(({ orderedPacks, dealer }) => ((orderedPacks ?? 0) > 0 ? [dealer] : [])))
  return Math.max(rules.mostDealers, ordered.size)
}

function usedTerms(build: Build): Term[] {
  return build.problem.varieties.map((variety) => [usedColumn(build, variety.id), 1])
}

function varietiesIn(plan: Plan): number {
  return new Set(plan.blocks.map((block) => block.variety)).size
}
