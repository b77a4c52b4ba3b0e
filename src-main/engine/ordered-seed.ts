/**
 * What is on order, in a plan. A line sent or agreed is bought whatever the plan says: the solver is given its packs as
 * seed that costs nothing more, and the money is put back into the plan and its proof. Money already spent is the same
 * in every plan, so what was proven stays proven. What a dealer refused cannot be had; quotes that have ended neither.
 */
import type { DealerOrder, Plan, Purchase, SeedBalance, SolvedPlan } from '../../src-shared/plan.ts'
import { isFixed, isShort, standing, type OrderSheet } from '../../src-shared/order.ts'
import { offCentsAt, tierAt } from '../../src-shared/price-break.ts'
import { fail, ok, type Result } from '../../src-shared/problem.ts'
import { quoteTitle, type Dealer, type Quote } from '../../src-shared/quote.ts'
import type { Season } from '../../src-shared/season.ts'
import type { OfferedSeason } from './plan/price.ts'
import { gapOf, saysOf, statusOf } from './plan/proof.ts'

/** Packs that a dealer was asked for or agreed to. */
export interface OnOrder {
  /** Title of the quote as it is now; the order's own words where the quote is gone. */
  quote: string
  dealer: string
  variety: string
  packs: number
  packPounds: number
  packPriceCents: number
  /** Dealer's word that there is no more of it. */
  isCut: boolean
}

/** Every line that is not the plan's to change. */
export function onOrder(orders: readonly OrderSheet[], titles: ReadonlyMap<number, string>): OnOrder[] {
  return orders.flatMap(({ dealer, lines }) =>
    lines.filter(isFixed).map((line) => ({
      quote: (line.quoteId === null ? undefined : titles.get(line.quoteId)) ?? line.quote,
      dealer,
      variety: line.variety,
      packPounds: line.packPounds,
      ...standing(line),
      isCut: isShort(line),
    })),
  )
}

/** The season as the dealers' answers leave it: of what was refused or cut, no more can be had than was agreed. */
export function answeredSeason(season: Season, ordered: readonly OnOrder[]): Season {
  const cut = new Set(ordered.filter(({ isCut }) => isCut).map(({ quote }) => quote))
  if (cut.size === 0) return season
  const packsOf = (title: string) => ordered.reduce((sum, { quote, packs }) => (quote === title ? sum + packs : sum), 0)
  return {
    ...season,
    quotes: season.quotes.map((quote) => {
      const title = quoteTitle(quote)
      return cut.has(title) ? { ...quote, availablePacks: packsOf(title), leastPacks: 0 } : quote
    }),
  }
}

export interface Offered {
  /** What the solver is given. */
  season: OfferedSeason
  /** Titles of quotes left out because their last day is over. */
  ended: string[]
  /** Puts what is on order into the plan that was found, with its money. */
  whole(solved: SolvedPlan): SolvedPlan
}

/**
 * @param season with the dealers' answers, and the changes of a draft
 * @param today ISO day; absent: no quote has ended
 */
export function offered(season: Season, ordered: readonly OnOrder[], today?: string): Result<Offered> {
  const lines = partsOf(
    season,
    ordered.filter(({ packs }) => packs > 0),
  )
  const isOver = ({ orderBy }: Quote) => today !== undefined && orderBy !== undefined && orderBy < today
  const ended = season.quotes.filter(isOver).map(quoteTitle)
  const stillOpen = season.quotes.filter((quote) => !isOver(quote)).map((quote) => restOf(quote, lines))
  if (season.quotes.length > 0 && stillOpen.length + lines.length === 0) return fail(allEnded)
  const dealers = new Set(lines.map(({ dealer }) => dealer))
  const changed: OfferedSeason = {
    ...season,
    // An order that stands has its fee and was taken: what is added to it needs no least order.
    dealers: season.dealers.map((dealer) =>
      dealers.has(dealer.name) ? { ...dealer, orderFeeCents: 0, leastPounds: 0 } : dealer,
    ),
    quotes: [...stillOpen, ...lines.map(freeQuote)],
    onOrderCents: spentCents(season, lines),
    orderedPacks: new Map(lines.map(({ title, packs }) => [title, packs])),
  }
  return ok({ season: changed, ended, whole: (solved) => withEnded(withLines(solved, season, lines), ended) })
}

/** A line as the solver and the plan know it: a quote of its own beside the one it was ordered from. */
interface Part extends OnOrder {
  name: string
  title: string
}

function partsOf(season: Season, ordered: readonly OnOrder[]): Part[] {
  const taken = new Set(season.quotes.map(quoteTitle))
  return ordered.map((line) => {
    const own = season.quotes.find((quote) => quoteTitle(quote) === line.quote)
    const base = [own?.name, 'on order'].filter((part) => part !== undefined).join(', ')
    let name = base
    let title = quoteTitle({ ...line, name })
    for (let n = 2; taken.has(title); n += 1) {
      name = `${base} (${n})`
      title = quoteTitle({ ...line, name })
    }
    taken.add(title)
    return { ...line, name, title }
  })
}

function freeQuote({ name, dealer, variety, packs, packPounds }: Part): Quote {
  return {
    name,
    dealer,
    variety,
    packPounds,
    packPriceCents: 0,
    availablePacks: packs,
    leastPacks: 0,
    breaks: [],
    returnCredit: 0,
  }
}

/** What is left of a quote: fewer packs, and breaks nearer by those ordered; what was agreed keeps its price. */
function restOf(quote: Quote, lines: readonly Part[]): Quote {
  const title = quoteTitle(quote)
  const packs = lines.reduce((sum, line) => (line.quote === title ? sum + line.packs : sum), 0)
  if (packs === 0) return quote
  return {
    ...quote,
    packPriceCents: tierAt(quote, packs).packPriceCents,
    breaks: quote.breaks
      .filter(({ fromPacks }) => fromPacks > packs)
      .map((each) => ({ ...each, fromPacks: each.fromPacks - packs })),
    leastPacks: Math.max(0, quote.leastPacks - packs),
    ...(quote.availablePacks === undefined ? {} : { availablePacks: Math.max(0, quote.availablePacks - packs) }),
  }
}

/** [cent] of lines and fees, before any break on a dealer's total: the same in every plan. */
function spentCents(season: Season, lines: readonly Part[]): number {
  const fees = season.dealers.filter(({ name }) => lines.some(({ dealer }) => dealer === name))
  return (
    lines.reduce((sum, { packs, packPriceCents }) => sum + packs * packPriceCents, 0) +
    fees.reduce((sum, { orderFeeCents }) => sum + orderFeeCents, 0)
  )
}

function withLines(solved: SolvedPlan, season: Season, lines: readonly Part[]): SolvedPlan {
  if (lines.length === 0) return solved
  const spent = spentCents(season, lines)
  const plan = solved.plan === null ? null : planWith(solved.plan, season, lines)
  const { proof } = solved
  // What a proof counts may be less than the plan's whole cost, as on the curve of cash: the difference is what matters.
  const more = plan === null || solved.plan === null ? 0 : plan.totals.seedCents - solved.plan.totals.seedCents
  const costCents = proof.costCents === null ? null : proof.costCents + more
  const boundCents = proof.boundCents === null ? null : proof.boundCents + spent
  const gap = gapOf(costCents, boundCents)
  const status = statusOf(proof.endedBy, plan !== null, gap, proof.wantedGap, proof.isExact)
  const says = plan === null ? proof.says : saysOf(status, gap, costCents, boundCents, proof.isExact)
  const stages = proof.stages.map((stage) => ({
    ...stage,
    costCents: stage.costCents === null ? null : stage.costCents + spent,
    boundCents: stage.boundCents === null ? null : stage.boundCents + spent,
  }))
  return { plan, proof: { ...proof, costCents, boundCents, gap, status, says, stages } }
}

function planWith(plan: Plan, season: Season, lines: readonly Part[]): Plan {
  const parts = new Set(lines.map(({ title }) => title))
  const purchases = [
    ...plan.purchases.filter(({ quote }) => !parts.has(quote)),
    ...lines.map(({ title, quote, dealer, variety, packs, packPounds, packPriceCents }): Purchase => ({
      quote: title,
      dealer,
      variety,
      packs,
      packPounds,
      packPriceCents,
      fromPacks: 0,
      pounds: packs * packPounds,
      cents: packs * packPriceCents,
      onOrderOf: quote,
    })),
  ]
  const orders = season.dealers.flatMap((dealer) => orderOf(dealer, purchases))
  const sum = <Thing>(things: readonly Thing[], amount: (thing: Thing) => number) =>
    things.reduce((total, thing) => total + amount(thing), 0)
  const seedCents = sum(orders, ({ cents }) => cents)
  const more = seedCents - plan.totals.seedCents
  return {
    ...plan,
    purchases,
    orders,
    seed: seedOf(plan, season, purchases),
    totals: {
      ...plan.totals,
      packs: sum(purchases, ({ packs }) => packs),
      seedCents,
      cashCents: plan.totals.cashCents + more,
      costCents: plan.totals.costCents + more,
      ...(plan.totals.marginCents === undefined ? {} : { marginCents: plan.totals.marginCents - more }),
    },
  }
}

function orderOf(dealer: Dealer, purchases: readonly Purchase[]): DealerOrder[] {
  const own = purchases.filter((line) => line.dealer === dealer.name)
  if (own.length === 0) return []
  const pounds = own.reduce((sum, line) => sum + line.pounds, 0)
  const offCents = Math.round(offCentsAt(dealer.breaks, pounds))
  const linesCents = own.reduce((sum, line) => sum + line.cents, 0)
  const feeCents = dealer.orderFeeCents
  return [{ dealer: dealer.name, pounds, feeCents, offCents, cents: linesCents - offCents + feeCents }]
}

/** A variety that is on order and planted nowhere is told too: its seed will come. */
function seedOf(plan: Plan, season: Season, purchases: readonly Purchase[]): SeedBalance[] {
  return season.varieties.flatMap(({ name }) => {
    const boughtPounds = purchases.reduce((sum, line) => (line.variety === name ? sum + line.pounds : sum), 0)
    const balance = plan.seed.find(({ variety }) => variety === name)
    if (balance === undefined && boughtPounds === 0) return []
    const none = { variety: name, acres: 0, neededPounds: 0, reservePounds: 0, carriedPounds: 0 }
    const own = balance ?? none
    return [{ ...own, boughtPounds, leftPounds: boughtPounds + own.carriedPounds - own.neededPounds }]
  })
}

/** The same plan with what is on order counted in with its quote, for a comparison with a plan that buys it anew. */
export function joined(plan: Plan): Plan {
  const byQuote = new Map<string, Purchase>()
  for (const { onOrderOf, ...purchase } of plan.purchases) {
    const quote = onOrderOf ?? purchase.quote
    const other = byQuote.get(quote)
    const sum = (amount: (line: Purchase) => number) => amount(purchase) + (other === undefined ? 0 : amount(other))
    byQuote.set(quote, {
      ...(other ?? purchase),
      quote,
      packs: sum((line) => line.packs),
      pounds: sum((line) => line.pounds),
      cents: sum((line) => line.cents),
    })
  }
  return { ...plan, purchases: [...byQuote.values()] }
}

function withEnded(solved: SolvedPlan, ended: string[]): SolvedPlan {
  if (ended.length === 0) return solved
  const words =
    ended.length === 1
      ? 'One quote has ended and was left out.'
      : `${ended.length} quotes have ended and were left out.`
  return { ...solved, proof: { ...solved.proof, endedQuotes: ended, says: `${solved.proof.says} ${words}` } }
}

const allEnded = {
  code: 'missing' as const,
  what: 'The last day to order of every quote is over.',
  where: { path: 'quotes' },
  remedy: 'Ask the dealers for new quotes, or correct the dates under Quotes.',
}
