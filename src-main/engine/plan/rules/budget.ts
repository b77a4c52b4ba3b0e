/** "Spend no more than so much on seed and measures." What is on order already counts, though no plan can change it. */
import type { PlanProblem } from '../../../../src-shared/plan-problem.ts'
import { ruleSentence } from '../../../../src-shared/rule.ts'
import { showCents } from '../../../../src-shared/show.ts'
import type { Term } from '../linear-model.ts'
import { optionAt } from '../build.ts'
import { isMoreThan, type NamedRule } from './named-rule.ts'

export function budgetRules(problem: PlanProblem): NamedRule[] {
  const { budgetCents, onOrderCents = 0 } = problem.rules
  if (budgetCents === undefined) return []
  const leftCents = budgetCents - onOrderCents
  const onOrder = onOrderCents > 0 ? ` ${showCents(onOrderCents)} is on order already.` : ''
  return [
    {
      id: 'budget',
      says: `${ruleSentence('budget', '', showCents(budgetCents))}${onOrder}`,
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
        build.model.limit(-Infinity, leftCents, [...measures, ...seed, ...fees, ...off])
      },
      broken: (plan) =>
        isMoreThan(plan.totals.cashCents, leftCents)
          ? `Cash comes to ${Math.round(plan.totals.cashCents)} cents; the budget leaves ${leftCents}.`
          : null,
    },
  ]
}
