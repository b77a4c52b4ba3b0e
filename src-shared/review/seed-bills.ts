/**
 * What the seed cost that really came: the dealers' bills where they were written down, else the orders as they stand;
 * shared over the ground it was planted on, what is left and what went back. Seed carried in was paid for before.
 */
import { line, term } from '../agronomy/working.ts'
import { balanceOf, scaleSlack } from '../lot.ts'
import { breakAt } from '../price-break.ts'
import { sumsOf, type OrderSheet } from '../order.ts'
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
  const pounds = own.map(({ lot }) => lot.pounds)
  let feeCents = fee
  if (bills.length > 0) {
    const billed = bills.reduce((sum, bill) => sum + entryCents(bill, ground.acres), 0)
    feeCents = Math.max(0, Math.min(fee, billed))
    const worth = priced.every(({ price }) => price !== null)
      ? priced.map(({ seed, price }) => seed.lot.pounds * (price?.cents ?? 0))
      : pounds
    const shares = shareCents(billed - feeCents, worth)
    const by = worth === pounds ? 'by pounds' : 'by what they come to at the order’s prices'
    own.forEach((seed, at) => {
      const cents = shares[at] as number
      seed.paidCents = cents
      seed.from = 'the dealer’s bill'
      const all = worth.reduce((sum, each) => sum + each, 0)
      seed.lines = [
        line({
          id: `paid/${seed.lot.id}`,
          label: `Lot ${seed.lot.name}: its share of the bills of ${dealer}`,
          value: cents / 100,
          unit: '$',
          rule: 'over the last',
          terms: [
            term(feeCents > 0 ? 'bills, less the order fee' : 'bills', (billed - feeCents) / 100, '$'),
            term(
              `this lot, ${by}`,
              (worth[at] as number) / (worth === pounds ? 1 : 100),
              worth === pounds ? 'lb' : '$',
            ),
            term('all its lots', all / (worth === pounds ? 1 : 100), worth === pounds ? 'lb' : '$'),
          ],
          note: bills.map(({ says }) => says).join('; '),
        }),
      ]
    })
  } else {
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
  if (feeCents === 0) return
  const shares = shareCents(feeCents, pounds)
  own.forEach((seed, at) => (seed.feeCents = shares[at] as number))
  const says = `Order fee of ${dealer}`
  const from = bills.length > 0 ? 'the dealer’s bill' : 'the order as it stands'
  const lines = [plainLine(`fee/${dealer}`, says, feeCents, 'Shared by the pounds that came.')]
  for (const seed of own) {
    const split = byUse(seed, ground)
    const cents = shareCents(
      seed.feeCents,
      split.map(({ pounds: each }) => each),
    )
    split.forEach(({ part, places, otherwise }, at) => {
      if (cents[at] !== 0) {
        fees.push(
          billOf({ part, says, from, cents: cents[at] as number, sharedBy: 'pounds', lines }, places, otherwise),
        )
      }
    })
  }
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
