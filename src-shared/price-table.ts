/**
 * Price breaks that cannot be read one way: refused by name where a table is read. Quotes may rise or fall with packs; a
 * break on a dealer's whole order takes more off the more is ordered, and never more than seed costs.
 */
import type { DealerBreak, Tier } from './price-break.ts'
import { showWhole } from './show.ts'

/** What is wrong with a table of breaks, as a sentence without its full stop, and what to do. */
export interface TableProblem {
  what: string
  remedy: string
}

function repeated(starts: readonly number[], unit: string): TableProblem[] {
  const twice = starts.find((start, at) => starts.indexOf(start) !== at)
  if (twice === undefined) return []
  return [{ what: `there are two breaks from ${showWhole(twice)} ${unit}`, remedy: 'Keep one of the two.' }]
}

/** @param quote prices in cents a pack, or a pound where it is sold loose */
export function quoteTableProblems({ breaks }: { breaks: readonly Tier[] }): TableProblem[] {
  return repeated(
    breaks.map(({ fromPacks }) => fromPacks),
    'packs',
  )
}

interface PricedQuote {
  packPounds?: number | undefined
  packPriceCents: number
  breaks: readonly Tier[]
  orderedPacks?: number | undefined
}

/** @param quotes of the dealer: what comes off a pound must leave a price; seed on order is paid for already */
export function dealerTableProblems(
  { breaks }: { breaks: readonly DealerBreak[] },
  quotes: readonly PricedQuote[],
): TableProblem[] {
  const order = breaks.toSorted((a, b) => a.fromPounds - b.fromPounds)
  const falling = order.find((each, at) => at > 0 && each.offCentsPerPound < (order[at - 1]?.offCentsPerPound ?? 0))
  const most = Math.max(0, ...order.map(({ offCentsPerPound }) => offCentsPerPound))
  const tooCheap = quotes.find(
    (quote) =>
      quote.orderedPacks === undefined &&
      Math.min(quote.packPriceCents, ...quote.breaks.map(({ packPriceCents }) => packPriceCents)) <
        most * (quote.packPounds ?? 1) - 1e-9,
  )
  return [
    ...repeated(
      breaks.map(({ fromPounds }) => fromPounds),
      'lb',
    ),
    ...(falling === undefined
      ? []
      : [
          {
            what: `the break takes less off from ${showWhole(falling.fromPounds)} lb than before`,
            remedy: 'Correct the breaks: the more is ordered, the more comes off a pound.',
          },
        ]),
    ...(tooCheap === undefined
      ? []
      : [
          {
            what: `a break takes ${most} cents a pound off, more off than a quote of this dealer costs`,
            remedy: 'Correct the break or the price of the quote.',
          },
        ]),
  ]
}
