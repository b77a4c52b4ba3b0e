/** A plan and the season it was made from → one order for each dealer. Adds up to the plan's cash for seed. Pure. */
import { type LineTerms, type PlannedOrder } from './order.ts'
import { tierAt } from './price-break.ts'
import type { Plan } from './plan.ts'
import { quoteTitle, type Quote } from './quote.ts'
import type { Season } from './season.ts'

/** Packs that are on order already are not asked for again. */
export function ordersOfPlan(plan: Pick<Plan, 'purchases'>, season: Season): PlannedOrder[] {
  const purchases = plan.purchases.filter(({ onOrderOf }) => onOrderOf === undefined)
  const quotes = new Map(season.quotes.map((quote) => [quoteTitle(quote), quote]))
  const dealers = new Map(season.dealers.map((dealer) => [dealer.name, dealer]))
  return [...new Set(purchases.map(({ dealer }) => dealer))].map((name) => {
    const dealer = dealers.get(name)
    if (dealer === undefined) throw new Error(`The plan buys of ${name}, who is not in its season.`)
    const own = purchases.filter((purchase) => purchase.dealer === name)
    const { orderFeeCents, leastPounds, breaks } = dealer
    return {
      dealer: name,
      terms: { orderFeeCents, leastPounds, breaks },
      lines: own.map(({ quote, variety, packs, packPounds, packPriceCents }) => {
        const offer = quotes.get(quote)
        if (offer === undefined) throw new Error(`The plan buys by ${quote}, which is not in its season.`)
        return { quote, variety, packs, packPounds, packPriceCents, terms: termsOf(offer, season, packs) }
      }),
    }
  })
}

function termsOf(quote: Quote, season: Season, packs: number): LineTerms {
  const variety = season.varieties.find(({ name }) => name === quote.variety)
  if (variety === undefined) throw new Error(`There is no variety ${quote.variety} in the season of the plan.`)
  const { packPriceCents, breaks, orderBy, returnBy, returnCredit } = quote
  const { seedsPerPound, germination, isTreated } = variety
  const after = orderBy === undefined ? null : afterwards(quote, orderBy, season, packs)
  return {
    packPriceCents,
    breaks,
    ...(orderBy === undefined ? {} : { orderBy }),
    ...(returnBy === undefined ? {} : { returnBy }),
    returnCredit,
    seedsPerPound,
    germination,
    isTreated,
    after,
  }
}

/** The cheapest that the same dealer has of the variety once the quote is over: at least the same pounds, whole packs. */
function afterwards(quote: Quote, orderBy: string, season: Season, packs: number): LineTerms['after'] {
  const pounds = packs * quote.packPounds
  const now = packs * tierAt(quote, packs).packPriceCents
  const later = season.quotes.flatMap((other) => {
    if (other.dealer !== quote.dealer || other.variety !== quote.variety) return []
    if (other.orderBy !== undefined && other.orderBy <= orderBy) return []
    const needed = Math.ceil(pounds / other.packPounds - 1e-9)
    if (needed > (other.availablePacks ?? Infinity)) return []
    return [{ quote: quoteTitle(other), cents: needed * tierAt(other, needed).packPriceCents - now }]
  })
  return later.toSorted((a, b) => a.cents - b.cents)[0] ?? null
}
