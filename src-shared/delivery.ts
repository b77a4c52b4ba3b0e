/** What came from a dealer against what was ordered of it. All arithmetic of receiving stands here, once. */
import * as v from 'valibot'
import { poundsOnHand, scaleSlack, type LotRow } from './lot.ts'
import { standing, type OrderLine } from './order.ts'
import { between, isoDate, nameText, note, rowId } from './primitive.ts'

export const deliverySchema = v.strictObject({
  dealerId: rowId,
  arrivedOn: isoDate,
  /** Number of the load on the dealer's paper. */
  ticket: v.nullable(nameText),
  /** [lb] of seed by the scale. */
  scalePounds: v.nullable(between(0, 10_000_000)),
  note: v.nullable(note),
})
export type GivenDelivery = v.InferOutput<typeof deliverySchema>

export interface DeliveryRow extends GivenDelivery {
  id: number
  dealer: string
  lots: LotRow[]
}

/** What the dealer says of the rest of a line. */
export const promiseSchema = v.strictObject({
  says: v.picklist(['later', 'not coming'], 'must be later or not coming'),
  expectedOn: v.nullable(isoDate),
  note: v.nullable(note),
})
export type Promised = v.InferOutput<typeof promiseSchema>

export interface LineReceipt {
  lineId: number
  quote: string
  variety: string
  varietyId: number
  state: OrderLine['state']
  packPounds: number
  /** As agreed, else as asked. */
  packs: number
  pounds: number
  packPriceCents: number
  returnCredit: number
  /** [lb] of the right variety that came and were taken. */
  camePounds: number
  /** [lb] that came for this line and were turned away. */
  refusedPounds: number
  /** [lb] of another variety that came in its place and were kept. */
  otherPounds: number
  /** [lb] taken and sent back. */
  returnedPounds: number
  /** [lb] the dealer still has to bring: of a line that was sent or agreed. */
  owedPounds: number
  /** [lb] still to come of a line that was not sent: the dealer does not know of it yet. */
  unsentPounds: number
  /** [lb] taken beyond what was agreed. */
  overPounds: number
  promise: Promised | null
  /** [cent] at the order's price, less a break on the whole order: what is refused or will not come, and returns. */
  creditCents: number
}

export interface DealerReceipt {
  dealerId: number
  dealer: string
  lines: LineReceipt[]
  deliveries: DeliveryRow[]
  owedPounds: number
  creditCents: number
}

export interface DeliveriesNow {
  dealers: DealerReceipt[]
  /** Seed that was on the farm before: carried lots taken into the record. */
  onHand: LotRow[]
  /** Carried seed that is in no lot yet. */
  carried: {
    id: number
    variety: string
    varietyId: number
    lot: string | null
    pounds: number
    germination: number | null
  }[]
  varieties: { id: number; name: string; isTreated: boolean }[]
  allDealers: { id: number; name: string }[]
}

/**
 * One line of an order against the lots that came for it.
 * @param offCentsPerPound [cent/lb] by the break that the whole order reached: what does not come was never paid at more
 */
export function receiptOf(
  line: OrderLine & { varietyId: number },
  lots: readonly LotRow[],
  promise: Promised | null,
  offCentsPerPound: number,
): LineReceipt {
  const { packs, packPriceCents } = standing(line)
  const own = lots.filter(({ orderLineId }) => orderLineId === line.id)
  const sum = (of: readonly LotRow[], pounds: (lot: LotRow) => number) => of.reduce((all, lot) => all + pounds(lot), 0)
  const right = own.filter(({ varietyId }) => varietyId === line.varietyId)
  const taken = right.filter(({ state }) => state !== 'refused')
  const pounds = packs * line.packPounds
  const camePounds = sum(taken, (lot) => lot.pounds)
  const refusedPounds = sum(
    own.filter(({ state }) => state === 'refused'),
    (lot) => lot.pounds,
  )
  const otherPounds = sum(
    own.filter(({ state, varietyId }) => state !== 'refused' && varietyId !== line.varietyId),
    (lot) => lot.pounds,
  )
  const returnedPounds = sum(taken, (lot) => (lot.state === 'returned' ? lot.pounds : lot.returnedPounds))
  const missing = Math.max(0, pounds - camePounds)
  const comingPounds = missing <= scaleSlack || promise?.says === 'not coming' ? 0 : missing
  const isSent = line.state !== 'to order'
  const perPound = packPriceCents / line.packPounds - offCentsPerPound
  const lost = missing > scaleSlack && promise?.says === 'not coming' ? missing : 0
  return {
    lineId: line.id,
    quote: line.quote,
    variety: line.variety,
    varietyId: line.varietyId,
    state: line.state,
    packPounds: line.packPounds,
    packs,
    pounds,
    packPriceCents,
    returnCredit: line.terms.returnCredit,
    camePounds,
    refusedPounds,
    otherPounds,
    returnedPounds,
    owedPounds: isSent ? comingPounds : 0,
    unsentPounds: isSent ? 0 : comingPounds,
    overPounds: camePounds - pounds > scaleSlack ? camePounds - pounds : 0,
    promise,
    creditCents: Math.round(lost * perPound + returnedPounds * perPound * line.terms.returnCredit),
  }
}

/** How a line stands, in words. */
export function receiptWords(line: LineReceipt): string {
  if (line.packs === 0) return 'nothing agreed'
  if (line.overPounds > 0) return 'over'
  if (line.unsentPounds > 0) return 'not sent yet'
  if (line.owedPounds > 0) return line.camePounds > 0 ? 'short' : 'not here yet'
  return line.promise?.says === 'not coming' && line.camePounds < line.pounds - scaleSlack
    ? 'will not come'
    : 'all here'
}

/** [lb] the scale says beyond what the lots of a load add up to; null where it was not weighed. */
export function scaleDifference({ scalePounds, lots }: DeliveryRow): number | null {
  return scalePounds === null ? null : scalePounds - lots.reduce((sum, lot) => sum + lot.pounds, 0)
}

/** For the rail. */
export interface SpringWaiting {
  /** Lines agreed of which something is still to come; lines in all. */
  owedLines: number
  lines: number
  lots: number
  /** Lots on the farm without a tag, and lots with a check that fails. */
  untagged: number
  failing: number
  /** Varieties short at the real rates. */
  short: number
  plantings: number
  unfinished: number
  plantedAcres: number
  plannedAcres: number
  lowStands: number
}

/** Lots on the farm with something left to plant. */
export function onHandOf(lots: readonly LotRow[]): LotRow[] {
  return lots.filter((lot) => lot.state === 'received' && poundsOnHand(lot) > 0)
}
