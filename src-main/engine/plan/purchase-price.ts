/** What so many packs of a quote cost: the break reached counts for all of them. Used by read-back and check alike. */
import type { ProblemDealer, ProblemQuote } from '../../../src-shared/plan-problem.ts'

export interface Tier {
  /** Packs from which the price holds; 0 for the plain price. */
  fromPacks: number
  packPriceCents: number
}

/** The plain price and the breaks, by packs. */
export function tiersOf(quote: ProblemQuote): Tier[] {
  const breaks = [...quote.breaks].sort((a, b) => a.fromPacks - b.fromPacks)
  return [{ fromPacks: 0, packPriceCents: quote.packPriceCents }, ...breaks]
}

/** The tier that so many packs reach. */
export function tierAt(quote: ProblemQuote, packs: number): Tier {
  return tiersOf(quote).findLast((tier) => packs >= tier.fromPacks - 1e-6) as Tier
}

/** [lb/pack]; 1 for loose seed. */
export function packWeight(quote: ProblemQuote): number {
  return quote.packPounds ?? 1
}

/** [cent] off a dealer's whole order at so many pounds. */
export function dealerOffCents(dealer: ProblemDealer, pounds: number): number {
  const reached = [...dealer.breaks].sort((a, b) => a.fromPounds - b.fromPounds)
  const tier = reached.findLast((each) => pounds >= each.fromPounds - 1e-6)
  return tier === undefined ? 0 : tier.offCentsPerPound * pounds
}
