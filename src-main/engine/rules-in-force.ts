/** The rules that bound the plan in hand, as the solver and the pricing before it knew them. Their costs are `plan.reasons`. */
import { giveWay } from '../../src-shared/give-way.ts'
import { valueOf } from '../../src-shared/problem.ts'
import type { RuleInForce } from '../../src-shared/reasons.ts'
import { optionRules } from '../../src-shared/rule.ts'
import type { Season } from '../../src-shared/season.ts'
import { sayWhatIf, sayRuleInForce } from '../../src-shared/what-if.ts'
import type { OpenFarm } from './farm-file.ts'
import { priceSeason } from './plan/price.ts'
import { allRules } from './plan/rules/all-rules.ts'
import { planInHand } from './plans.ts'

/** Of the season that the plan in hand was made from; none without a plan. */
export async function rulesInForce({ db, seasonId }: OpenFarm): Promise<RuleInForce[]> {
  const stored = await planInHand(db, seasonId)
  return stored === null ? [] : rulesOf(stored.input)
}

/** Named as in `RuleCost`, in the order in which their costs are found. */
export function rulesOf(season: Season): RuleInForce[] {
  const { problem } = valueOf(priceSeason(season))
  const named = allRules(problem).map(({ id, says }) => ({ rule: id, says }))
  const before = season.rules
    .filter((rule) => rule.isOn && optionRules.includes(rule.rule))
    .map((rule) => ({
      rule: rule.subject === undefined ? rule.rule : `${rule.rule}/${rule.subject}`,
      says: sayRuleInForce(rule),
    }))
  return [...named, ...before].map(({ rule, says }) => {
    const without = giveWay(season, rule, null)
    return { rule, says, without, withoutSays: without === null ? '' : sayWhatIf(without, season.rules) }
  })
}
