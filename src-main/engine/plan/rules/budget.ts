/** "Spend no more than so much on seed and measures." */
import type { PlanProblem } from '../../../../src-shared/plan-problem.ts'
import type { Term } from '../linear-model.ts'
import { optionAt } from '../build.ts'
import { isMoreThan, type NamedRule } from './named-rule.ts'

export function budgetRules(problem: PlanProblem): NamedRule[] {
  const { budgetCents } = problem.rules
  if (budgetCents === undefined) return []
  return [
    {
      id: 'budget',
      says: `Spend no more than ${(budgetCents / 100).toLocaleString('en-US', { style: 'currency', currency: 'USD' })} on seed and measures.`,
      unit: 'cents',
      addRows(build) {
        const measures = build.options.map(({ option, share }): Term => {
          const own = optionAt(problem, option)
          return [share, own.cashCents * (build.acresOf.get(own.field) as number)]
        })
        const seed = build.packs.map(({ column, priceCents }): Term => [column, priceCents])
        const fees = problem.dealers.flatMap((dealer): Term[] => {
          const used = build.dealerUsed.get(dealer.id)
          return used === undefined ? [] : [[used, dealer.orderFeeCents]]
        })
        const off = build.dealerOff.map(({ column, centsPerPound }): Term => [column, -centsPerPound])
        build.model.limit(-Infinity, budgetCents, [...measures, ...seed, ...fees, ...off])
      },
      broken: (plan) =>
        isMoreThan(plan.totals.cashCents, budgetCents)
          ? `Cash comes to ${Math.round(plan.totals.cashCents)} cents; the budget is ${budgetCents}.`
          : null,
    },
  ]
}
