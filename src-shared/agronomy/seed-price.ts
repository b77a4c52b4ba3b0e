/** What a pound of a variety's seed costs at the least and at the most, over the quotes that a season has. */
import type { Season } from '../season.ts'

export interface SeedPrice {
  /** [cent/lb] after the best breaks. */
  least: number
  most: number
  /** True where some quote or dealer has only so much of it: then a thinner rate may be worth more than it saves. */
  isLimited: boolean
}

/**
 * By variety; one that nobody offers is not in it. Carried seed is priced as bought seed.
 * @param reserve [share] bought beyond the need: every pound planted buys so much more
 * @param isTight true where money is limited as well as seed
 */
export function seedPrices(
  season: Pick<Season, 'quotes' | 'dealers'>,
  reserve = 0,
  isTight = false,
): Map<string, SeedPrice> {
  const dealers = new Map(season.dealers.map((dealer) => [dealer.name, dealer]))
  const prices = new Map<string, SeedPrice>()
  for (const quote of season.quotes) {
    const dealer = dealers.get(quote.dealer)
    const off = Math.max(0, ...(dealer?.breaks ?? []).map(({ offCentsPerPound }) => offCentsPerPound))
    const tiers = [quote.packPriceCents, ...quote.breaks.map(({ packPriceCents }) => packPriceCents)]
    const before = prices.get(quote.variety)
    const each = (1 + reserve) / quote.packPounds
    const cheapest = Math.max(0, Math.min(...tiers) * each - off * (1 + reserve))
    prices.set(quote.variety, {
      least: Math.min(before?.least ?? Infinity, cheapest),
      most: Math.max(before?.most ?? 0, Math.max(...tiers) * each),
      isLimited:
        isTight ||
        (before?.isLimited ?? false) ||
        quote.availablePacks !== undefined ||
        dealer?.mostPounds !== undefined,
    })
  }
  return prices
}
