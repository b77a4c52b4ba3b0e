/** Which break a purchase reaches: on the packs of a quote, where it counts for all of them, and on a dealer's whole order. */

export interface Tier {
  /** Packs from which the price holds; 0 for the plain price. */
  fromPacks: number
  packPriceCents: number
}

/** Break on all that is ordered of a dealer. */
export interface DealerBreak {
  fromPounds: number
  offCentsPerPound: number
}

/** Packs in any amount, and pounds, are sums of doubles. */
const SLACK = 1e-6

/** The plain price and the breaks, by packs. */
export function tiersOf(terms: { packPriceCents: number; breaks: readonly Tier[] }): Tier[] {
  const breaks = terms.breaks.toSorted((a, b) => a.fromPacks - b.fromPacks)
  return [{ fromPacks: 0, packPriceCents: terms.packPriceCents }, ...breaks]
}

/** The tier that so many packs reach. */
export function tierAt(terms: { packPriceCents: number; breaks: readonly Tier[] }, packs: number): Tier {
  return tiersOf(terms).findLast((tier) => packs >= tier.fromPacks - SLACK) as Tier
}

/** The break that so many pounds of a dealer reach; null below the first. */
export function breakAt(breaks: readonly DealerBreak[], pounds: number): DealerBreak | null {
  const order = breaks.toSorted((a, b) => a.fromPounds - b.fromPounds)
  return order.findLast(({ fromPounds }) => pounds >= fromPounds - SLACK) ?? null
}

/** The next break of a dealer beyond so many pounds; null past the last. */
export function nextBreak(breaks: readonly DealerBreak[], pounds: number): DealerBreak | null {
  const order = breaks.toSorted((a, b) => a.fromPounds - b.fromPounds)
  return order.find(({ fromPounds }) => pounds < fromPounds - SLACK) ?? null
}

/** [cent] off a dealer's whole order at so many pounds. */
export function offCentsAt(breaks: readonly DealerBreak[], pounds: number): number {
  return (breakAt(breaks, pounds)?.offCentsPerPound ?? 0) * pounds
}
