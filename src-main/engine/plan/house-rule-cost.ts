/**
 * What the house's rules cost that work before the solver: they forbid options, so without one of them the season is
 * priced again and then solved again. Rules that the solver knows by name are in `rule-cost.ts`.
 */
import type { Plan, SolvedPlan } from '../../../src-shared/plan.ts'
import { ok, type Result } from '../../../src-shared/problem.ts'
import type { RuleCost } from '../../../src-shared/reasons.ts'
import { optionRules, type Rule } from '../../../src-shared/rule.ts'
import { sayWhatIf } from '../../../src-shared/what-if.ts'
import { differenceOf } from './figure.ts'
import { priceSeason, type OfferedSeason } from './price.ts'
import { solveAgain, type AgainOptions } from './solve-again.ts'
import type { Solver } from './solver.ts'

/** Each rule of the season that forbids options and is on, with what it costs, one by one. */
export async function* houseRuleCosts(
  season: OfferedSeason,
  inHand: SolvedPlan & { plan: Plan },
  options: AgainOptions,
  solver: Solver,
): AsyncGenerator<Result<RuleCost>> {
  for (const rule of season.rules) {
    if (!rule.isOn || !optionRules.includes(rule.rule)) continue
    if (options.signal?.aborted) return
    const priced = priceSeason(without(season, rule))
    if (!priced.ok) {
      yield priced
      continue
    }
    const again = await solveAgain(priced.value.problem, inHand.plan, options, solver)
    if (options.signal?.aborted) return
    const { rule: kind, subject } = rule
    yield again.ok
      ? ok({
          rule: [kind, subject].filter((part) => part !== undefined).join('/'),
          ruleSays: sayWhatIf({ kind: 'rule-off', rule: kind, ...(subject === undefined ? {} : { subject }) }),
          cost: differenceOf(again.value, inHand, again.value),
        })
      : again
  }
}

function without(season: OfferedSeason, gone: Rule): OfferedSeason {
  return { ...season, rules: season.rules.map((rule) => (rule === gone ? { ...rule, isOn: false } : rule)) }
}
