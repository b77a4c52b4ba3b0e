/**
 * What a variety has too little or too much of at the rates of its real lots, and what to do about it, each priced from
 * the farm's own quotes and book. Pure: days are handed in.
 */
import { leastStand } from './agronomy/lot-rate.ts'
import { standOf, type Emergence } from './agronomy/seed.ts'
import { silent } from './agronomy/calculation.ts'
import { plannedStandShare, readStandCurve } from './agronomy/stand-yield.ts'
import type { Book } from './assumption.ts'
import type { LineReceipt } from './delivery.ts'
import { scaleSlack } from './lot.ts'
import { tierAt } from './price-break.ts'
import type { Quote } from './quote.ts'
import { missingPounds, type RateBlock, type Remedy, type VarietySupply } from './rates.ts'
import { showAcres, showCents, showCount, showDay, showDollars, showNumber, showWhole } from './show.ts'

/** A block with what a lower drop on it forgoes. */
export interface SupplyBlock extends RateBlock {
  emergence: Emergence
  /** [plants/ft] that the house asks for where it is planted early; 0 where it asks for none. */
  earlyStand: number
  /** [lb/acre] expected at the planned stand. */
  yieldLb: number
}

export interface SupplyLot {
  id: number
  name: string
  /** [lb] that can still be planted. */
  pounds: number
  germination: number
}

/** A quote with the packs of it that are not on order yet; null for as many as wanted. */
export interface OpenQuote extends Quote {
  title: string
  leftPacks: number | null
}

export interface SupplyInput {
  variety: string
  blocks: readonly SupplyBlock[]
  lots: readonly SupplyLot[]
  /** Lines of orders of this variety. */
  lines: readonly LineReceipt[]
  /** Last days of returning, by line. */
  returnBy: ReadonlyMap<number, string>
  quotes: readonly OpenQuote[]
  book: Book
  centsPerPound: number
  today: string
  /** Nothing is ordered and nothing has come: winter, and no shortage. */
  isBeforeOrders: boolean
}

/** One variety: what its ground still takes, what is here and to come, and how to get by. */
export function supplyOf(input: SupplyInput): VarietySupply {
  const { variety, blocks, lots, lines } = input
  const open = blocks.map((block) => ({ block, acres: Math.max(0, block.acres - block.plantedAcres) }))
  const acres = sum(open, (each) => each.acres)
  const plannedPounds = sum(open, (each) => each.acres * each.block.plannedPoundsPerAcre)
  const realPounds = sum(open, (each) => each.acres * each.block.set.poundsPerAcre)
  const onHandPounds = sum(lots, (lot) => lot.pounds)
  const owedPounds = sum(lines, (line) => line.owedPounds)
  const unsentPounds = sum(lines, (line) => line.unsentPounds)
  const lotLines = lots.map((lot) => {
    const rate = weighed(open, ({ block }) => block.lots.find(({ lotId }) => lotId === lot.id)?.poundsPerAcre ?? 0)
    return { lot: lot.name, pounds: lot.pounds, poundsPerAcre: rate, acres: rate > 0 ? lot.pounds / rate : 0 }
  })
  const plantsAcres = sum(lotLines, (lot) => lot.acres)
  const leftPounds = onHandPounds - realPounds
  const shortAcres = leftPounds < -scaleSlack ? Math.max(0, acres - plantsAcres) : 0
  const base = { variety, acres, plannedPounds, realPounds, onHandPounds, owedPounds, unsentPounds, plantsAcres }
  const supply: VarietySupply = { ...base, leftPounds, shortAcres, lots: lotLines, remedies: [] }
  if (shortAcres > 0) return { ...supply, remedies: input.isBeforeOrders ? [makeOrders] : ofShortage(input, supply) }
  return { ...supply, remedies: ofSurplus(input, leftPounds) }
}

/** A rate over blocks, weighed by the acres still to plant; over all acres where nothing is left to plant. */
function weighed(
  open: readonly { block: SupplyBlock; acres: number }[],
  rate: (each: { block: SupplyBlock }) => number,
): number {
  const all = sum(open, (each) => each.acres)
  if (all > 0) return sum(open, (each) => each.acres * rate(each)) / all
  const acres = sum(open, (each) => each.block.acres)
  return acres > 0 ? sum(open, (each) => each.block.acres * rate(each)) / acres : 0
}

const makeOrders: Remedy = {
  kind: 'send orders',
  says: 'Nothing is ordered yet. Make the orders of your plan.',
  cents: 0,
  acres: null,
  isEnough: true,
}

/** Seed that is on order comes first. Further ways are offered only for what it leaves short. */
function ofShortage(input: SupplyInput, supply: VarietySupply): Remedy[] {
  const { owedPounds, unsentPounds, shortAcres } = supply
  const short = -supply.leftPounds
  const perAcre = supply.realPounds / supply.acres
  const remedies: Remedy[] = []
  const coming = (kind: Remedy['kind'], pounds: number, says: string) => {
    if (pounds <= scaleSlack) return
    const acres = Math.min(shortAcres, pounds / perAcre)
    remedies.push({ kind, says, cents: 0, acres, isEnough: pounds >= short - scaleSlack })
  }
  coming(
    'wait',
    owedPounds,
    `Wait for the ${showWhole(owedPounds)} lb that dealers still owe; they are on order already.`,
  )
  coming('send orders', unsentPounds, `Send the order lines for ${showWhole(unsentPounds)} lb; no dealer has them yet.`)
  const missing = missingPounds(supply)
  if (missing === 0) return remedies
  remedies.push(...orders(input, missing, perAcre))
  const lower = lowerDrop(input, supply, shortAcres)
  if (lower !== null) remedies.push(lower)
  const says = `Plan again with the seed that came: other varieties or fields for ${showAcres(shortAcres)} acres.`
  // Whether a plan is found is not known before it is worked out.
  remedies.push({ kind: 'plan again', says, cents: null, acres: null, isEnough: false })
  return remedies
}

/** Of each quote that can still be ordered, the packs that fill the gap, or as many as there are. */
function orders({ quotes, today }: SupplyInput, short: number, perAcre: number): Remedy[] {
  return quotes
    .filter(({ orderBy, leftPacks }) => (orderBy === undefined || orderBy >= today) && leftPacks !== 0)
    .map((quote): Remedy & { cents: number } => {
      const wanted = Math.max(Math.ceil(short / quote.packPounds - 1e-6), quote.leastPacks)
      const packs = quote.leftPacks === null ? wanted : Math.min(wanted, quote.leftPacks)
      const cents = packs * tierAt(quote, packs).packPriceCents
      const pounds = packs * quote.packPounds
      const until = quote.orderBy === undefined ? '' : `, by ${showDay(quote.orderBy)}`
      const says = `Order ${showCount(packs, 'pack')} of ${showWhole(quote.packPounds)} lb more: ${quote.title}${until}.`
      return { kind: 'order', says, cents, acres: pounds / perAcre, isEnough: pounds >= short - scaleSlack }
    })
    .sort((a, b) => Number(b.isEnough) - Number(a.isEnough) || a.cents - b.cents)
}

/**
 * One drop lower on every block, by what is on hand; no further than the house lets a stand fall. What the thinner
 * stand forgoes is its price.
 */
function lowerDrop(input: SupplyInput, supply: VarietySupply, shortAcres: number): Remedy | null {
  const { blocks, lots, book } = input
  if (supply.onHandPounds <= scaleSlack) return null
  const germination = sum(lots, (lot) => lot.pounds * lot.germination) / supply.onHandPounds
  const wanted = supply.onHandPounds / supply.realPounds
  const parts = blocks.map((block) => {
    const acres = Math.max(0, block.acres - block.plantedAcres)
    const standAt = (share: number) => standOf(block.set.seedsPerFoot * share, germination, block.emergence)
    const least = Math.min(leastStand(book, block.earlyStand), standAt(1))
    // The share of the drop at which the stand is the least: the stand rises with the drop up to here.
    const share = Math.max(wanted, shareFor(standAt, least))
    return { block, acres, share, before: standAt(1), after: standAt(share) }
  })
  const curve = readStandCurve(book)
  const cents = Math.round(
    sum(parts, ({ block, acres, before, after }) => {
      const share = (stand: number) => plannedStandShare(book, curve, block.rowPattern, stand, silent)
      return (1 - share(after) / share(before)) * block.yieldLb * input.centsPerPound * acres
    }),
  )
  const saved = sum(parts, ({ block, acres, share }) => acres * block.set.poundsPerAcre * (1 - share))
  const isEnough = saved >= -supply.leftPounds - scaleSlack
  const acres = Math.min(shortAcres, (saved / supply.realPounds) * supply.acres)
  const stands = parts.map(({ after }) => after)
  const lowest = showNumber(Math.min(...stands), 1)
  const floor = showNumber(leastStand(book, Math.max(0, ...blocks.map((block) => block.earlyStand))), 1)
  const full = cents === 0 ? '; no yield is lost' : ''
  const says = isEnough
    ? `Drop ${showNumber((1 - wanted) * 100, 1)} % fewer seeds a foot: the stand falls to ${lowest} plants/ft${full}.`
    : `A lower drop alone is not enough: the stand may not fall below ${floor} plants/ft in this house.`
  return { kind: 'lower the drop', says, cents, acres, isEnough }
}

/** Share 0–1 of a drop that leaves this stand, by halving; the stand grows with the drop on the way up to it. */
function shareFor(standAt: (share: number) => number, stand: number): number {
  let [low, high] = [0, 1]
  for (let n = 0; n < 50; n++) {
    const middle = (low + high) / 2
    if (standAt(middle) < stand) low = middle
    else high = middle
  }
  return high
}

function ofSurplus({ lines, returnBy, today, book }: SupplyInput, leftPounds: number): Remedy[] {
  const remedies: Remedy[] = []
  if (leftPounds <= scaleSlack) return remedies
  let left = leftPounds
  for (const line of lines) {
    const until = returnBy.get(line.lineId)
    if (until === undefined || until < today || line.returnCredit <= 0) continue
    const kept = line.camePounds - line.returnedPounds
    const packs = Math.floor(Math.min(left, kept) / line.packPounds + 1e-9)
    if (packs <= 0) continue
    left -= packs * line.packPounds
    const cents = -Math.round(packs * line.packPriceCents * line.returnCredit)
    const says = `Return ${showCount(packs, 'unopened pack')} of ${line.quote} by ${showDay(until)}.`
    remedies.push({ kind: 'return', says, cents, acres: null, isEnough: left < line.packPounds })
  }
  const lostCents = Math.round(leftPounds * book.number('reserve/left pound') * 100)
  const perPound = showCents(book.number('reserve/left pound') * 100)
  const says = `Carry ${showWhole(leftPounds)} lb to next winter, with a new germination test (${perPound} a pound is lost).`
  remedies.push({ kind: 'carry', says, cents: lostCents, acres: null, isEnough: true })
  return remedies
}

/** What a remedy costs, in words. */
export function remedyPrice({ kind, cents }: Remedy): string {
  if (cents === null) return 'known when it is worked out'
  if (cents < 0) return `${showDollars(-cents)} back`
  if (kind === 'lower the drop') return cents === 0 ? 'nothing, by the book' : `${showDollars(cents)} of yield at risk`
  if (kind === 'carry') return `${showDollars(cents)} of its worth`
  return cents === 0 ? 'nothing more' : showDollars(cents)
}

function sum<Each>(list: readonly Each[], value: (each: Each) => number): number {
  return list.reduce((total, each) => total + value(each), 0)
}
