/** A dealer, and what that dealer offers: pack, price, price breaks, what is available and until when. */
import * as v from 'valibot'
import { dealerTableProblems, quoteTableProblems } from './price-table.ts'
import { between, cents, fraction, isoDate, nameText, note, position, wholeBetween } from './primitive.ts'

/** From this many packs on, every pack of the quote costs this (an all-units break). */
const quoteBreakSchema = v.strictObject({
  fromPacks: wholeBetween(1, 1_000_000),
  /** [cent/pack] */
  packPriceCents: cents,
})

/** From this many pounds on over all of a dealer's quotes, every pound costs this much less (all units). */
export const dealerBreakSchema = v.strictObject({
  fromPounds: between(1, 100_000_000),
  /** [cent/lb] off, may have a fraction of a cent. */
  offCentsPerPound: between(0, 1000),
})

export const dealerSchema = v.strictObject({
  name: nameText,
  /** [cent] charged once if anything is ordered. */
  orderFeeCents: v.optional(cents, 0),
  /** [lb] least total order, if anything is ordered. */
  leastPounds: v.optional(between(0, 100_000_000), 0),
  /** [lb] most this dealer will deliver. */
  mostPounds: v.optional(between(0, 100_000_000)),
  breaks: v.optional(
    v.pipe(
      v.array(dealerBreakSchema),
      v.check((breaks) => dealerTableProblems({ breaks }, []).length === 0, 'must take more off the more is ordered'),
    ),
    [],
  ),
  /** [share] of an order's total that is paid when it is placed; absent: none. */
  depositShare: v.optional(fraction),
  /** As of a field. */
  position: v.optional(position),
  note: v.optional(note),
})

export type Dealer = v.InferOutput<typeof dealerSchema>

export const quoteSchema = v.strictObject({
  /** Tells two quotes of one dealer and variety apart, as "early order". */
  name: v.optional(nameText),
  dealer: nameText,
  variety: nameText,
  /** [lb] */
  packPounds: between(1, 10_000),
  /** [cent/pack] before any break. */
  packPriceCents: cents,
  /** Packs the dealer can deliver; absent: as many as wanted. */
  availablePacks: v.optional(wholeBetween(0, 1_000_000)),
  /** Least packs of this quote, if any. */
  leastPacks: v.optional(wholeBetween(0, 1_000_000), 0),
  breaks: v.optional(
    v.pipe(
      v.array(quoteBreakSchema),
      v.check((breaks) => quoteTableProblems({ breaks }).length === 0, 'must not have two breaks from the same packs'),
    ),
    [],
  ),
  /** Must be ordered by this day. */
  orderBy: v.optional(isoDate),
  /** Unopened packs may come back until this day. */
  returnBy: v.optional(isoDate),
  /** [share] of the price credited for a returned pack. */
  returnCredit: v.optional(fraction, 0),
  /** As of a field. */
  position: v.optional(position),
  note: v.optional(note),
})

export type Quote = v.InferOutput<typeof quoteSchema>

export interface QuoteRow extends Quote {
  id: number
  /** [cent per 1,000 seeds] the price that can be compared between seed sizes, before any break. */
  centsPerThousandSeeds: number
}

/** How a quote is named to people: "dealer · variety · early order". */
export function quoteTitle(quote: Pick<Quote, 'dealer' | 'variety' | 'name'>): string {
  return [quote.dealer, quote.variety, quote.name].filter((part) => part !== undefined).join(' · ')
}
