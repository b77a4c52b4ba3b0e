/**
 * What each rule costs: the plan solved again without it. Rules of one kind are first taken away together: where
 * even that saves nothing that can be measured, none of them alone can, and the single solves are spared.
 */
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'
import type { Plan, SolvedPlan } from '../../../src-shared/plan.ts'
import type { Result } from '../../../src-shared/problem.ts'
import { ok } from '../../../src-shared/problem.ts'
import type { RuleCost } from '../../../src-shared/reasons.ts'
import { differenceOf } from './figure.ts'
import { rulesByKind, withoutRules } from './loosen.ts'
import { allRules } from './rules/all-rules.ts'
import type { NamedRule } from './rules/named-rule.ts'
import { solveAgain, type AgainOptions } from './solve-again.ts'
import type { Solver } from './solver.ts'

/** Every rule of the problem with what it costs, one by one as it becomes known. */
export async function* ruleCosts(
  problem: PlanProblem,
  inHand: SolvedPlan & { plan: Plan },
  options: AgainOptions,
  solver: Solver,
): AsyncGenerator<Result<RuleCost>> {
  for (const rules of rulesByKind(allRules(problem)).values()) {
    const together = await costWithout(problem, inHand, rules, options, solver)
    if (!together.ok) {
      yield together
      continue
    }
    for (const rule of rules) {
      if (options.signal?.aborted) return
      const isKnown = rules.length === 1 || together.value.kind === 'no-difference'
      const own = isKnown ? together : await costWithout(problem, inHand, [rule], options, solver)
      yield own.ok ? ok({ rule: rule.id, ruleSays: rule.says, cost: own.value }) : own
    }
  }
}

/** What these rules cost together. */
async function costWithout(
  problem: PlanProblem,
  inHand: SolvedPlan & { plan: Plan },
  rules: readonly Pick<NamedRule, 'id'>[],
  options: AgainOptions,
  solver: Solver,
): Promise<Result<RuleCost['cost']>> {
  const loosened = withoutRules(problem, new Set(rules.map((rule) => rule.id)))
  const again = await solveAgain(loosened, inHand.plan, options, solver)
  return again.ok ? ok(differenceOf(again.value, inHand, again.value)) : again
}
