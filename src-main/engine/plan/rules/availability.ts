/** "The dealer has only so many packs." and "The dealer delivers only so much." */
import type { PlanProblem, ProblemQuote } from '../../../../src-shared/plan-problem.ts'
import { packWeight } from '../pack-weight.ts'
import type { Term } from '../linear-model.ts'
import { isMoreThan, type NamedRule } from './named-rule.ts'

export function availabilityRules(problem: PlanProblem): NamedRule[] {
  return [...quoteRules(problem), ...dealerRules(problem)]
}

function quoteRules(problem: PlanProblem): NamedRule[] {
  return problem.quotes.flatMap((quote: ProblemQuote, index): NamedRule[] => {
    const most = quote.availablePacks
    if (most === undefined || quote.orderedPacks !== undefined) return []
    const unit = quote.packPounds === undefined ? 'pounds' : 'packs'
    return [
      {
        id: `available/${quote.id}`,
        says: `${quote.id}: ${most} ${unit} can be had.`,
        unit,
        addRows(build) {
          const columns = build.packs.filter((packs) => packs.quote === index)
          build.model.limit(
            -Infinity,
            most,
            columns.map(({ column }) => [column, 1]),
          )
        },
        broken(plan) {
          const packs = plan.purchases.reduce((sum, line) => sum + (line.quote === quote.id ? line.packs : 0), 0)
          return isMoreThan(packs, most) ? `${packs} ${unit} of ${quote.id} are ordered; ${most} can be had.` : null
        },
      },
    ]
  })
}

function dealerRules(problem: PlanProblem): NamedRule[] {
  return problem.dealers.flatMap((dealer): NamedRule[] => {
    if (dealer.mostPounds === undefined) return []
    const ordered = problem.quotes.reduce(
      (sum, quote) => (quote.dealer === dealer.id ? sum + (quote.orderedPacks ?? 0) * packWeight(quote) : sum),
      0,
    )
    // What is on order is a fact: beyond what the dealer delivers, nothing is added.
    const most = Math.max(dealer.mostPounds, ordered)
    return [
      {
        id: `delivers/${dealer.id}`,
        says: `${dealer.id} delivers no more than ${most} pounds.`,
        unit: 'pounds',
        addRows(build) {
          const terms = build.packs.flatMap(({ quote, column }): Term[] => {
            const own = problem.quotes[quote] as ProblemQuote
            return own.dealer === dealer.id ? [[column, packWeight(own)]] : []
          })
          if (terms.length > 0) build.model.limit(-Infinity, most, terms)
        },
        broken(plan) {
          const pounds = plan.purchases.reduce((sum, line) => sum + (line.dealer === dealer.id ? line.pounds : 0), 0)
          return isMoreThan(pounds, most) ? `${pounds} pounds are ordered of ${dealer.id}; ${most} can be had.` : null
        },
      },
    ]
  })
}
