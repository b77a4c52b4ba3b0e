/** What a pound of a variety's seed costs at the least and at the most, over the quotes and the carried seed that a season has. */
import type { Field } from '../field.ts'
import type { Season } from '../season.ts'

export interface SeedPrice {
  /** [cent/lb] after the best breaks. */
  least: number
  most: number
  /** True where some quote or dealer has only so much of it: then a thinner rate may be worth more than it saves. */
  isLimited: boolean
  /** [lb] planted that carried seed makes: they cost nothing, and beyond them seed is bought. */
  carriedPounds: number
  /** True where carried seed of it must be used: then a thicker rate may be what uses it up. */
  mustUse: boolean
}

/**
 * By variety; one that nobody offers is not in it.
 * @param reserve [share] bought beyond the need: every pound planted buys so much more
 * @param isTight true where money is limited as well as seed
 */
export function seedPrices(
  season: Pick<Season, 'quotes' | 'dealers' | 'carried'>,
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
      carriedPounds: 0,
      mustUse: false,
    })
  }
  for (const { variety, pounds, mustUse } of season.carried) {
    const price = prices.get(variety)
    if (price === undefined) continue
    price.carriedPounds += pounds / (1 + reserve)
    price.mustUse ||= mustUse
  }
  return prices
}

/**
 * [cent/acre] that a thicker rate's seed costs more than a thinner one's, at the least: what carried seed makes of the smallest
 * block of the field is free, beyond it every pound is bought. Carried seed that other fields take makes it cost more, never less.
 * @param thin @param thick [lb/acre] @returns −Infinity where carried seed that must be used may ask for the thicker rate
 */
export function leastExtra(
  price: SeedPrice,
  field: Pick<Field, 'acres' | 'split'>,
  thin: number,
  thick: number,
): number {
  const free = price.carriedPounds === 0 ? 0 : price.carriedPounds / (field.split?.leastBlockAcres ?? field.acres)
  if (price.mustUse && free > thin) return -Infinity
  return price.least * Math.max(0, thick - Math.max(free, thin))
}
