/**
 * Orders: what is asked of a dealer, line by line, what the dealer answered, and the sums. Terms are those that the plan
 * knew; an order stays what it was when a quote changes. All arithmetic of an order stands here, once.
 */
import * as v from 'valibot'
import { breakAt, nextBreak, offCentsAt, tierAt, type DealerBreak, type Tier } from './price-break.ts'
import { cents, isoDate, note, wholeBetween } from './primitive.ts'
import type { Dealer, Quote } from './quote.ts'

/** Name of the draft that plans around what dealers refused. */
export const replanName = 'Without the refused seed'

export const lineStates = ['to order', 'ordered', 'confirmed', 'changed', 'refused'] as const
export type LineState = (typeof lineStates)[number]

/** A quote's terms, and what its packs were planned with, as the plan knew them. */
export interface LineTerms extends Pick<Quote, 'packPriceCents' | 'breaks' | 'orderBy' | 'returnBy' | 'returnCredit'> {
  /** [seeds/lb] */
  seedsPerPound: number
  /** [share] */
  germination: number
  isTreated: boolean
  /** What the same pounds cost of this dealer once the quote has ended, [cent] more; null where none is offered then. */
  after: { quote: string; cents: number } | null
}

export type DealerTerms = Pick<Dealer, 'orderFeeCents' | 'leastPounds' | 'breaks'>

/** A line as a plan asks for it. */
export interface PlannedLine {
  /** Title of the quote. */
  quote: string
  variety: string
  packs: number
  packPounds: number
  /** [cent/pack] after the break reached. */
  packPriceCents: number
  terms: LineTerms
}

export interface PlannedOrder {
  dealer: string
  terms: DealerTerms
  lines: PlannedLine[]
}

export interface OrderLine extends PlannedLine {
  id: number
  quoteId: number | null
  state: LineState
  /** ISO days: when it went to the dealer, when the dealer answered. */
  sentOn: string | null
  answeredOn: string | null
  confirmedPacks: number | null
  confirmedPriceCents: number | null
  note: string | null
}

export interface OrderSheet {
  id: number
  dealer: string
  /** The dealer's number for it. */
  number: string | null
  note: string | null
  madeOn: string
  planId: number | null
  terms: DealerTerms
  /** [share] as the dealer's row has it today. */
  depositShare: number | null
  lines: OrderLine[]
}

/** Seed of a variety that dealers refused or cut, against what the plan needs. */
export interface Shortage {
  variety: string
  /** [acre] that the seed which can be had does not plant. */
  acres: number
  pounds: number
  /** Fields that the plan gives to the variety. */
  fields: string[]
}

export interface OrdersNow {
  orders: OrderSheet[]
  /** The plan that the orders were made from; null before there are any, or when it is gone. */
  madeFrom: PlanName | null
  /** The plan in hand; null where there is none that found a plan. */
  inHand: PlanName | null
  /** Line by line, where the plan in hand differs from the orders; empty while they are one. */
  differences: string[]
  shortages: Shortage[]
}

export interface PlanName {
  id: number
  /** ISO time. */
  madeAt: string
  /** The draft it was adopted from. */
  draft: string | null
}

/** For the rail, counted without reading a plan. */
export interface OrdersWaiting {
  lines: number
  toOrder: number
  /** Sent, not answered. */
  unanswered: number
  /** Refused, or changed to fewer packs. */
  short: number
  /** The first last day among lines still to order, ISO. */
  nextOrderBy: string | null
  /** A newer plan is in hand than the one the orders were made from. */
  isOfOlderPlan: boolean
}

/** What is said of lines. Days are given from outside: an order knows no today. */
export const markSchema = v.variant('state', [
  v.strictObject({ state: v.literal('to order') }),
  v.strictObject({ state: v.literal('ordered'), on: isoDate }),
  v.strictObject({ state: v.literal('confirmed'), on: isoDate }),
  v.strictObject({
    state: v.literal('changed'),
    on: isoDate,
    packs: wholeBetween(0, 1_000_000),
    /** [cent/pack]; absent: the price of the break that these packs reach. */
    packPriceCents: v.optional(cents),
    note: v.optional(note),
  }),
  v.strictObject({ state: v.literal('refused'), on: isoDate, note: v.optional(note) }),
])
export type Mark = v.InferOutput<typeof markSchema>

/**
 * The next break of a quote: packs to it, and what the whole line would then cost more or less; null past the last.
 * @param otherPacks [pack] of the same quote on other lines: they count towards the break, at their own price
 */
export function nextTier(
  terms: Pick<Quote, 'packPriceCents' | 'breaks'>,
  packs: number,
  otherPacks = 0,
): (Tier & { morePacks: number; cents: number }) | null {
  const all = packs + otherPacks
  const next = terms.breaks.filter(({ fromPacks }) => fromPacks > all).toSorted((a, b) => a.fromPacks - b.fromPacks)[0]
  if (next === undefined) return null
  const now = packs * tierAt(terms, all).packPriceCents
  const morePacks = next.fromPacks - all
  return { ...next, morePacks, cents: (packs + morePacks) * next.packPriceCents - now }
}

/** [pack] that other lines of an order have of the same quote, as they stand. */
export function otherPacksOf<Line extends Pick<PlannedLine, 'quote' | 'packs'> & { confirmedPacks?: number | null }>(
  line: Line,
  lines: readonly Line[],
): number {
  const others = lines.filter((other) => other !== line && other.quote === line.quote)
  return others.reduce((sum, other) => sum + (other.confirmedPacks ?? other.packs), 0)
}

/** What a line stands at: as the dealer agreed, or as it was asked while there is no answer. */
export function standing(
  line: Pick<OrderLine, 'state' | 'packs' | 'packPriceCents' | 'confirmedPacks' | 'confirmedPriceCents'>,
): { packs: number; packPriceCents: number } {
  return {
    packs: line.confirmedPacks ?? line.packs,
    packPriceCents: line.confirmedPriceCents ?? line.packPriceCents,
  }
}

/** Sent or agreed: it is not the plan's to change any more. */
export function isFixed({ state }: Pick<OrderLine, 'state'>): boolean {
  return state !== 'to order'
}

/** The dealer will deliver fewer packs than were asked. */
export function isShort({ packs, confirmedPacks }: Pick<OrderLine, 'packs' | 'confirmedPacks'>): boolean {
  return confirmedPacks !== null && confirmedPacks < packs
}

export interface OrderSums {
  packs: number
  pounds: number
  /** [cent] of the lines alone. */
  linesCents: number
  /** [cent] off by the break on the dealer's total. */
  offCents: number
  /** The break reached, and how far it is to the next; null where there is none. */
  reached: DealerBreak | null
  next: (DealerBreak & { morePounds: number }) | null
  feeCents: number
  /** [cent] lines less break plus fee. */
  cents: number
  /** [lb] below the dealer's least order; 0 where it is reached. */
  poundsToLeast: number
}

/** Adds up an order: as it stands, or with `asked` as it was asked. */
export function sumsOf(
  { terms, lines }: { terms: DealerTerms; lines: readonly (PlannedLine & Partial<OrderLine>)[] },
  asked = false,
): OrderSums {
  const counted = lines.map((line) => ({
    packPounds: line.packPounds,
    packs: asked ? line.packs : (line.confirmedPacks ?? line.packs),
    priceCents: asked ? line.packPriceCents : (line.confirmedPriceCents ?? line.packPriceCents),
  }))
  const packs = counted.reduce((sum, line) => sum + line.packs, 0)
  const pounds = counted.reduce((sum, line) => sum + line.packs * line.packPounds, 0)
  const linesCents = counted.reduce((sum, line) => sum + line.packs * line.priceCents, 0)
  const reached = breakAt(terms.breaks, pounds)
  const next = nextBreak(terms.breaks, pounds)
  const offCents = Math.round(offCentsAt(terms.breaks, pounds))
  const feeCents = packs > 0 ? terms.orderFeeCents : 0
  return {
    packs,
    pounds,
    linesCents,
    offCents,
    reached,
    next: next === null ? null : { ...next, morePounds: next.fromPounds - pounds },
    feeCents,
    cents: linesCents - offCents + feeCents,
    poundsToLeast: packs > 0 ? Math.max(0, terms.leastPounds - pounds) : 0,
  }
}

/** [cent] paid when the order is placed. */
export function depositOf(share: number | null, sums: OrderSums): number {
  return Math.round((share ?? 0) * sums.cents)
}
