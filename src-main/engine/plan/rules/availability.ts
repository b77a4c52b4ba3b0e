/** "The dealer has only so many packs." */
import type { PlanProblem, ProblemQuote } from '../../../../src-shared/plan-problem.ts'
import { isMoreThan, type NamedRule } from './named-rule.ts'

export function availabilityRules(problem: PlanProblem): NamedRule[] {
  return problem.quotes.flatMap((quote: ProblemQuote, index): NamedRule[] => {
    const most = quote.availablePacks
    if (most === undefined) return []
    return [
      {
        id: `available/${quote.id}`,
        says: `${quote.id}: ${most} ${quote.packPounds === undefined ? 'pounds' : 'packs'} can be had.`,
        addRows(build) {
          const columns = build.packs.filter((packs) => packs.quote === index)
          build.model.row(
            -Infinity,
            most,
            columns.map(({ column }) => [column, 1]),
          )
        },
        broken(plan) {
          const packs = plan.purchases.reduce((sum, line) => sum + (line.quote === quote.id ? line.packs : 0), 0)
          return isMoreThan(packs, most) ? `${packs} packs of ${quote.id} are ordered; ${most} can be had.` : null
        },
      },
    ]
  })
}
