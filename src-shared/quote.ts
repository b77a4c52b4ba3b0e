/** A dealer, and what that dealer offers: pack, price, price breaks, what is available and until when. */
import * as v from 'valibot'
import { dealerTableProblems, quoteTableProblems } from './price-table.ts'
import { between, cents, fraction, isoDate, nameText, position, wholeBetween } from './primitive.ts'
import { oneOf } from './sheet/column.ts'
import { dealerBreaks, quoteBreaks } from './sheet/compound.ts'
import { day, dollars, number, percent, words } from './sheet/kind.ts'
import { noteProperty, noun } from './sheet/noun.ts'

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

export const { schema: dealerSchema, columns: dealerColumns } = noun({
  name: { is: nameText, label: 'Dealer', kind: words, heads: ['name', 'dealer name'] },
  /** [cent] charged once if anything is ordered. */
  orderFeeCents: { is: v.optional(cents, 0), label: 'Order fee', unit: '$', kind: dollars, heads: ['order fee'] },
  /** [lb] least total order, if anything is ordered. */
  leastPounds: {
    is: v.optional(between(0, 100_000_000), 0),
    label: 'Least order',
    unit: 'lb',
    kind: number(),
    heads: ['least lb'],
  },
  /** [lb] most this dealer will deliver. */
  mostPounds: {
    is: v.optional(between(0, 100_000_000)),
    label: 'Delivers at most',
    unit: 'lb',
    kind: number(),
    heads: ['most lb'],
  },
  breaks: {
    is: v.optional(
      v.pipe(
        v.array(dealerBreakSchema),
        v.check((breaks) => dealerTableProblems({ breaks }, []).length === 0, 'must take more off the more is ordered'),
      ),
      [],
    ),
    label: 'Breaks on the total',
    unit: 'as from 60000 lb 1.5 c/lb off',
    kind: dealerBreaks,
    width: 32,
    heads: ['breaks'],
  },
  /** [share] of an order's total that is paid when it is placed; absent: none. */
  depositShare: {
    is: v.optional(fraction),
    label: 'Deposit',
    unit: '% of the order',
    kind: percent,
    heads: ['deposit %', 'deposit'],
  },
  /** As of a field: the order of rows, which no cell shows. */
  position: { is: v.optional(position), cells: () => [] },
  note: noteProperty,
})

export type Dealer = v.InferOutput<typeof dealerSchema>

export const { schema: quoteSchema, columns: quoteColumns } = noun(
  {
    /** Tells two quotes of one dealer and variety apart, as "early order". */
    name: { is: v.optional(nameText), label: 'Kind of offer', kind: words, heads: ['quote', 'offer'] },
    dealer: { is: nameText, label: 'Dealer', kind: ({ dealers }) => oneOf(dealers) },
    variety: { is: nameText, label: 'Variety', kind: ({ varieties }) => oneOf(varieties) },
    /** [lb] */
    packPounds: {
      is: between(1, 10_000),
      label: 'Pack',
      unit: 'lb',
      kind: number(),
      heads: ['pack lb', 'pack', 'bag lb'],
    },
    /** [cent/pack] before any break. */
    packPriceCents: { is: cents, label: 'Price', unit: '$ a pack', kind: dollars, heads: ['price', 'price $'] },
    /** Packs the dealer can deliver; absent: as many as wanted. */
    availablePacks: {
      is: v.optional(wholeBetween(0, 1_000_000)),
      label: 'Available',
      unit: 'packs',
      kind: number(),
      heads: ['available packs'],
    },
    /** Least packs of this quote, if any. */
    leastPacks: {
      is: v.optional(wholeBetween(0, 1_000_000), 0),
      label: 'Least order',
      unit: 'packs',
      kind: number(),
      heads: ['least packs'],
    },
    breaks: {
      is: v.optional(
        v.pipe(
          v.array(quoteBreakSchema),
          v.check(
            (breaks) => quoteTableProblems({ breaks }).length === 0,
            'must not have two breaks from the same packs',
          ),
        ),
        [],
      ),
      label: 'Price breaks',
      unit: 'as from 400 packs $47.25',
      kind: quoteBreaks,
      width: 26,
      heads: ['breaks'],
    },
    /** Must be ordered by this day. */
    orderBy: {
      is: v.optional(isoDate),
      label: 'Order by',
      unit: 'as 2027-03-15',
      kind: day,
      heads: ['order by', 'early order date'],
    },
    /** Unopened packs may come back until this day. */
    returnBy: { is: v.optional(isoDate), label: 'Return by', unit: 'as 2027-06-20', kind: day, heads: ['return by'] },
    /** [share] of the price credited for a returned pack. */
    returnCredit: {
      is: v.optional(fraction, 0),
      label: 'Credit',
      unit: '% of price',
      kind: percent,
      heads: ['return credit', 'return credit %'],
    },
    /** As of a field: the order of rows, which no cell shows. */
    position: { is: v.optional(position), cells: () => [] },
    note: { ...noteProperty, width: 24 },
  },
  [
    ...(['dealer', 'variety', 'name', 'packPounds', 'packPriceCents', 'breaks'] as const),
    ...(['availablePacks', 'leastPacks', 'orderBy', 'returnBy', 'returnCredit', 'note'] as const),
  ],
)

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
