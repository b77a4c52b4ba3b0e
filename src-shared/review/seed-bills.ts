/**
 * What the seed cost that really came: the dealers' bills where they were written down, else the orders as they stand;
 * shared over the ground it was planted on, what is left and what went back. Seed carried in was paid for before.
 */
import { line, term } from '../agronomy/working.ts'
import { balanceOf, scaleSlack } from '../lot.ts'
import { breakAt } from '../price-break.ts'
import { sumsOf, type OrderSheet } from '../order.ts'
import { showCents } from '../show.ts'
import { billOf, nowhere, plainLine, type Bill, type From, type Place } from './bill.ts'
import { ownSeed, type Ground } from './ground.ts'
import { entryCents } from './entry-cents.ts'
import type { LotSeed } from './lot-seed.ts'
import type { RecordLot, ReviewInput } from './review-input.ts'
import { creditsOf, perPound } from './seed-credits.ts'
import { shareCents } from './share-cents.ts'

export interface Seed {
  lots: LotSeed[]
  bills: Bill[]
  /** [cent] bills that belong to no lot: of no dealer, or of one that brought nothing. */
  looseBillCents: number
  /** [cent] the same, less credits that belong to no lot with a price. */
  unplacedCents: number
  /** [cent] fees of orders of which something came. */
  feeCents: number
  /** Lots that no price is known of. */
  unpriced: string[]
}

/** Every lot with what it cost, and the bills that come of it; a lot whose price nobody knows has none. */
export function seedOf(record: ReviewInput, ground: Ground): Seed {
  const lots = record.lots.filter(({ state }) => state !== 'refused').map(plainSeed)
  const dealers = new Map<string, LotSeed[]>()
  for (const seed of lots) {
    const key = seed.lot.dealer ?? ownSeed
    dealers.set(key, [...(dealers.get(key) ?? []), seed])
  }
  const fees: Bill[] = []
  for (const [dealer, own] of dealers) {
    if (dealer === ownSeed) for (const seed of own) ownGrown(seed)
    else pay(record, dealer, own, ground, fees)
  }
  const loose = looseBills(record, ground, dealers)
  const credits = creditsOf(record, lots, ground)
  const looseBillCents = loose.reduce((sum, { cents }) => sum + cents, 0)
  // Money back for seed whose price nobody knows cannot be set against it.
  const unpricedCredit = lots.reduce(
    (sum, { paidCents, creditCents }) => (paidCents === null ? sum + creditCents : sum),
    0,
  )
  return {
    lots,
    bills: [...lots.flatMap((seed) => lotBills(seed, ground)), ...fees, ...loose, ...credits.bills],
    looseBillCents,
    unplacedCents: looseBillCents + credits.looseCents - unpricedCredit,
    feeCents: fees.reduce((sum, { cents }) => sum + cents, 0),
    unpriced: lots.filter(({ paidCents }) => paidCents === null).map(({ lot }) => lot.name),
  }
}

function plainSeed(lot: RecordLot): LotSeed {
  const { planted, returned } = balanceOf(lot)
  const returnedPounds = Math.max(0, returned)
  const leftPounds = Math.max(0, lot.pounds - planted - returnedPounds)
  return {
    lot,
    plantedPounds: planted,
    leftPounds: leftPounds > scaleSlack ? leftPounds : 0,
    returnedPounds,
    paidCents: null,
    feeCents: 0,
    creditCents: 0,
    from: null,
    lines: [],
  }
}

/** Nothing is paid this season for what was here before. */
function ownGrown(seed: LotSeed): void {
  seed.paidCents = 0
  seed.from = 'paid in an earlier season'
  seed.lines = [plainLine(`paid/${seed.lot.id}`, `Lot ${seed.lot.name}`, 0, 'It was on the farm before this season.')]
}

/** A dealer's lots at the dealer's bill, or at the order as it stands; its fee is a bill of its own, by pounds. */
function pay(record: ReviewInput, dealer: string, own: LotSeed[], ground: Ground, fees: Bill[]): void {
  const order = record.orders.find((each) => each.dealer === dealer)
  const priced = own.map((seed) => ({ seed, price: priceOf(record, order, seed.lot) }))
  const bills = record.costs.filter(({ kind, dealer: of }) => kind === 'seed' && of === dealer)
  const fee = order && sumsOf(order).packs > 0 ? order.terms.orderFeeCents : 0
  if (bills.length === 0) {
    payByOrder(priced)
    fees.push(...feeBills(dealer, own, ground, fee, 'the order as it stands'))
    return
  }
  const billed = bills.reduce((sum, bill) => sum + entryCents(bill, ground.acres), 0)
  // The fee is in the bills; they may come to less than it.
  const feeCents = Math.max(0, Math.min(fee, billed))
  payByBills(dealer, priced, { billed: billed - feeCents, isLessFee: feeCents > 0, bills })
  fees.push(...feeBills(dealer, own, ground, feeCents, 'the dealer’s bill'))
}

/** What seed invoices stand in place of, dealer by dealer, in sentences: a first of two would hide the rest of an order. */
export function replacedOrders({ orders, costs }: ReviewInput, acres: number): string[] {
  return orders.flatMap((order): string[] => {
    const bills = costs.filter(({ kind, dealer }) => kind === 'seed' && dealer === order.dealer)
    const { cents, packs } = sumsOf(order)
    if (bills.length === 0 || packs === 0) return []
    const billed = bills.reduce((sum, bill) => sum + entryCents(bill, acres), 0)
    const invoices = bills.length === 1 ? 'the invoice' : 'the invoices'
    return [
      `Seed from ${order.dealer} is counted at ${showCents(billed)} by ${invoices}, in place of ${showCents(cents)} by the order.`,
    ]
  })
}

interface Priced {
  seed: LotSeed
  price: Price | null
}

/** What a dealer's bills come to, shared by the prices agreed; by pounds where that of a lot is not known. */
function payByBills(
  dealer: string,
  priced: readonly Priced[],
  { billed, isLessFee, bills }: { billed: number; isLessFee: boolean; bills: readonly { says: string }[] },
): void {
  const isByPrice = priced.every(({ price }) => price !== null)
  const worth = priced.map(({ seed, price }) => (isByPrice ? seed.lot.pounds * (price?.cents ?? 0) : seed.lot.pounds))
  const [unit, scale, by] = isByPrice
    ? (['$', 100, 'by what they come to at the order’s prices'] as const)
    : (['lb', 1, 'by pounds'] as const)
  const all = worth.reduce((sum, each) => sum + each, 0)
  const shares = shareCents(billed, worth)
  priced.forEach(({ seed }, at) => {
    const cents = shares[at] as number
    seed.paidCents = cents
    seed.from = 'the dealer’s bill'
    seed.lines = [
      line({
        id: `paid/${seed.lot.id}`,
        label: `Lot ${seed.lot.name}: its share of the bills of ${dealer}`,
        value: cents / 100,
        unit: '$',
        rule: 'over the last',
        terms: [
          term(isLessFee ? 'bills, less the order fee' : 'bills', billed / 100, '$'),
          term(`this lot, ${by}`, (worth[at] as number) / scale, unit),
          term('all its lots', all / scale, unit),
        ],
        note: bills.map(({ says }) => says).join('; '),
      }),
    ]
  })
}

/** Each lot at its own price; one whose price nobody knows stays unpaid. */
function payByOrder(priced: readonly Priced[]): void {
  for (const { seed, price } of priced) {
    if (price === null) continue
    const cents = Math.round(seed.lot.pounds * price.cents)
    seed.paidCents = cents
    seed.from = price.from
    seed.lines = [
      line({
        id: `paid/${seed.lot.id}`,
        label: `Lot ${seed.lot.name} at ${price.says}`,
        value: cents / 100,
        unit: '$',
        rule: 'product',
        terms: [term('came', seed.lot.pounds, 'lb'), term('price', price.cents / 100, '$/lb')],
        note: price.note,
      }),
    ]
  }
}

/** A dealer's order fee, shared by the pounds that came and by what became of them. */
function feeBills(dealer: string, own: readonly LotSeed[], ground: Ground, feeCents: number, from: From): Bill[] {
  if (feeCents === 0) return []
  const shares = shareCents(
    feeCents,
    own.map(({ lot }) => lot.pounds),
  )
  const says = `Order fee of ${dealer}`
  const lines = [plainLine(`fee/${dealer}`, says, feeCents, 'Shared by the pounds that came.')]
  return own.flatMap((seed, at) => {
    seed.feeCents = shares[at] as number
    const split = byUse(seed, ground)
    const cents = shareCents(
      seed.feeCents,
      split.map(({ pounds }) => pounds),
    )
    return split.flatMap(({ part, places, otherwise }, use) => {
      const share = cents[use] as number
      return share === 0
        ? []
        : [billOf({ part, says, from, cents: share, sharedBy: 'pounds', lines }, places, otherwise)]
    })
  })
}

interface Price {
  /** [cent/lb] */
  cents: number
  from: From
  says: string
  note?: string
}

/** Of the line that it came for, less the break on the whole order; of a quote where nobody ordered it; else unknown. */
function priceOf(record: ReviewInput, order: OrderSheet | undefined, lot: RecordLot): Price | null {
  const own = order?.lines.find(({ id }) => id === lot.orderLineId)
  if (order && own) {
    const off = breakAt(order.terms.breaks, sumsOf(order).pounds)?.offCentsPerPound ?? 0
    return {
      cents: perPound(own) - off,
      from: 'the order as it stands',
      says: `the price of ${own.quote}`,
      note: off > 0 ? `${off} cents a pound off by the break on the whole order.` : undefined,
    }
  }
  const quote = record.season.quotes.find(({ dealer, variety }) => dealer === lot.dealer && variety === lot.variety)
  if (quote === undefined) return null
  return { cents: quote.packPriceCents / quote.packPounds, from: 'the quote', says: 'the quote’s plain price' }
}

interface Use {
  part: 'seed' | 'seed left' | 'seed returned'
  became: string
  pounds: number
  places: (Place & { weight: number })[]
  otherwise: Place
}

/** A lot's pounds by what became of them, with the ground of those planted. */
function byUse({ lot, plantedPounds, leftPounds, returnedPounds }: LotSeed, ground: Ground): Use[] {
  const dealer = lot.dealer ?? ownSeed
  const otherwise: Place = { field: null, variety: lot.variety, lotId: lot.id, dealer }
  const own = ground.parts.filter(({ lotId }) => lotId === lot.id)
  const places = own.map(({ field, pounds }) => ({ ...otherwise, field, weight: pounds }))
  const onGround = own.reduce((sum, part) => sum + part.pounds, 0)
  const left: Use = { part: 'seed left', became: 'left', pounds: leftPounds, places: [], otherwise }
  const uses: Use[] = [
    { part: 'seed', became: 'planted', pounds: onGround, places, otherwise },
    { part: 'seed', became: 'in plantings not finished', pounds: plantedPounds - onGround, places: [], otherwise },
    left,
    { part: 'seed returned', became: 'returned', pounds: returnedPounds, places: [], otherwise },
  ]
  const used = uses.filter(({ pounds }) => pounds > scaleSlack)
  return used.length > 0 ? used : [left]
}

function lotBills(seed: LotSeed, ground: Ground): Bill[] {
  const { paidCents, from, lines, lot } = seed
  if (paidCents === null || from === null) return []
  const uses = byUse(seed, ground)
  const shares = shareCents(
    paidCents,
    uses.map(({ pounds }) => pounds),
  )
  const all = uses.reduce((sum, { pounds }) => sum + pounds, 0)
  return uses.flatMap(({ part, became, pounds, places, otherwise }, at): Bill[] => {
    const cents = shares[at] as number
    if (cents === 0) return []
    const used = line({
      id: `${became}/${lot.id}`,
      label: `Lot ${lot.name}: ${became}`,
      value: cents / 100,
      unit: '$',
      rule: 'over the last',
      terms: [term('paid', paidCents / 100, '$'), term('these', pounds, 'lb'), term('all of it', all, 'lb')],
    })
    const bill = {
      part,
      says: `Lot ${lot.name}`,
      from,
      cents,
      sharedBy: 'pounds' as const,
      lines: uses.length > 1 ? [...lines, used] : lines,
    }
    return [billOf(bill, places, otherwise)]
  })
}

/** Bills of no dealer, and of dealers that brought nothing: seed cost that no lot can be charged with. */
function looseBills(record: ReviewInput, ground: Ground, dealers: ReadonlyMap<string, unknown>): Bill[] {
  return record.costs
    .filter(({ kind, dealer }) => kind === 'seed' && (dealer === undefined || !dealers.has(dealer)))
    .map((entry): Bill => {
      const cents = entryCents(entry, ground.acres)
      const lines = [plainLine(`entry/${entry.id}`, entry.says, cents, 'No lot that it could be for.')]
      const bill = { part: 'seed' as const, says: entry.says, from: 'the dealer’s bill' as const, cents, lines }
      const place = { ...nowhere, field: entry.field ?? null, dealer: entry.dealer ?? null }
      return billOf({ ...bill, sharedBy: 'pounds' }, [], place)
    })
}
