/** A problem without one of its rules. Works on the data, so that whatever the data feed is loosened with it. */
import { lockId } from '../../../src-shared/lock.ts'
import type { PlanProblem, ProblemRules } from '../../../src-shared/plan-problem.ts'
import type { NamedRule } from './rules/named-rule.ts'

/** Kind of a rule: what stands before its first stroke. */
function kindOf(ruleId: string): string {
  return ruleId.split('/', 1)[0] as string
}

/**
 * The same problem with these rules gone; every other rule stays.
 * @param gone ids as in `allRules`; an id that the problem does not have changes nothing
 */
export function withoutRules(problem: PlanProblem, gone: ReadonlySet<string>): PlanProblem {
  const has = (id: string) => gone.has(id)
  const { rules } = problem
  const stay = <Limit extends { in: string }>(kind: string, limits: Limit[]) =>
    has(kind) ? [] : limits.filter((limit) => !has(`${kind}/${limit.in}`))
  const shareOff = problem.varieties.filter((variety) => has(`largest-share/${variety.id}`))
  const loosened: ProblemRules = {
    ...rules,
    // A share of one is no rule, and one named for the variety goes before the general one.
    largestShare: [
      ...rules.largestShare.filter((each) => !shareOff.some((variety) => variety.id === each.variety)),
      ...shareOff.map((variety) => ({ variety: variety.id, share: 1 })),
    ],
    fewestVarieties: has('fewest-varieties') ? undefined : rules.fewestVarieties,
    mostVarieties: has('most-varieties') ? undefined : rules.mostVarieties,
    mostDealers: has('most-dealers') ? undefined : rules.mostDealers,
    budgetCents: has('budget') ? undefined : rules.budgetCents,
    lossLimitCents: has('largest-total-loss') ? undefined : rules.lossLimitCents,
    contracts: rules.contracts.filter((contract) => !has(`contract/${contract.oilType}`)),
    planterHours: stay('planter-hours', rules.planterHours),
    diggerHours: stay('digger-hours', rules.diggerHours),
    combineHours: stay('combine-hours', rules.combineHours),
    planted: rules.planted?.filter(({ field, variety }) => !has(`planted/${field ?? ''}/${variety ?? ''}`)),
    locks: rules.locks.filter((lock) => !has(lockId(lock))),
    exclusions: rules.exclusions.filter(
      ({ field, variety, window }) => !has(`exclusion/${field ?? ''}/${variety ?? ''}/${window ?? ''}`),
    ),
  }
  return {
    ...problem,
    rules: loosened,
    quotes: problem.quotes.map((quote) =>
      has(`available/${quote.id}`) ? { ...quote, availablePacks: undefined } : quote,
    ),
    dealers: problem.dealers.map((dealer) =>
      has(`delivers/${dealer.id}`) ? { ...dealer, mostPounds: undefined } : dealer,
    ),
    carried: problem.carried.map((carried) =>
      has(`must-use/${carried.variety}`) ? { ...carried, mustUse: false } : carried,
    ),
  }
}

/** Rules by kind, in the order in which they are told. */
export function rulesByKind(rules: readonly NamedRule[]): Map<string, NamedRule[]> {
  return Map.groupBy(rules, (rule) => kindOf(rule.id))
}
