/** The small farm with its orders confirmed, and ways to let seed come: what the tests of spring start from. */
import type { LineReceipt } from '../../src-shared/delivery.ts'
import type { GivenLot, LotRow } from '../../src-shared/lot.ts'
import type { Season } from '../../src-shared/season.ts'
import { emptyTag, type Tag } from '../../src-shared/tag.ts'
import type { GivenPlanting } from '../../src-shared/planting.ts'
import { pick } from '../shared/demo-farm.ts'
import { freeSeason, linesOf, orderedFarm, today as ordering } from './order-farm.ts'

export const spring = '2027-04-20'

/** Every quote takes packs back until mid-May, for nine tenths of their price. */
export const withReturns = () =>
  freeSeason((own) => ({
    ...own,
    quotes: own.quotes.map((quote) => ({ ...quote, returnBy: '2027-05-15', returnCredit: 0.9 })),
  }))

export async function springFarm(own?: Season) {
  const farm = await orderedFarm(own)
  const { must } = farm
  const lines = linesOf(await must('orders.list', {})).map(({ id }) => id)
  await must('orders.mark', { lines, mark: { state: 'confirmed', on: ordering }, says: 'Confirm' })

  const receipts = async (): Promise<LineReceipt[]> =>
    (await must('delivery.list', {})).dealers.flatMap((dealer) => dealer.lines)
  const lots = async (): Promise<LotRow[]> => {
    const { dealers, onHand } = await must('delivery.list', {})
    return [...dealers.flatMap(({ deliveries }) => deliveries.flatMap((delivery) => delivery.lots)), ...onHand]
  }
  const dealerOf = async (lineId: number) =>
    pick((await must('delivery.list', {})).dealers, (dealer) => dealer.lines.some((line) => line.lineId === lineId))

  /** A load with one lot for a line: all of it, unless it is said otherwise. */
  async function receive(line: LineReceipt, change: Partial<GivenLot> = {}, arrivedOn = '2027-04-12') {
    const { dealerId } = await dealerOf(line.lineId)
    const deliveryId = await must('delivery.save', {
      delivery: { dealerId, arrivedOn, ticket: null, scalePounds: null, note: null },
      today: spring,
    })
    const lot = { ...plainLot(line, deliveryId), ...change }
    return { deliveryId, lotId: await must('lot.save', { lot }), lot }
  }

  async function tag(lotId: number, change: Partial<Tag> = {}) {
    const lot = pick(await lots(), ({ id }) => id === lotId)
    const whole = { ...emptyTag({ variety: lot.variety, lotNumber: lot.lotNumber, isTreated: true }), ...change }
    await must('tag.save', { lotId, tag: whole, today: spring })
  }

  return { ...farm, receipts, lots, receive, tag }
}

/** Ordered, received and in part planted: one field of three, with seed left of the lot. */
export async function plantedFarm() {
  const farm = await springFarm(withReturns())
  const line = (await farm.receipts())[0]!
  const { lotId, lot } = await farm.receive(line)
  const field = pick(await farm.must('field.list', {}), ({ name }) => name === 'Hill')
  const lots = [{ lotId, packs: null, pounds: lot.pounds - 300 }]
  await farm.must('planting.save', { planting: entryOf({ fieldId: field.id, lots }), today: spring })
  return { ...farm, line, lotId, lot, field }
}

export function plainLot(line: LineReceipt, deliveryId: number): GivenLot {
  return {
    lotNumber: `${line.variety[0]}-${line.lineId}`,
    varietyId: line.varietyId,
    deliveryId,
    carriedSeedId: null,
    orderLineId: line.lineId,
    state: 'received',
    packs: line.packs,
    packPounds: line.packPounds,
    pounds: line.pounds,
    returnedPounds: 0,
    leftPounds: null,
    seedsPerPound: null,
    note: null,
  }
}

/** A finished entry; a test leaves out what it is about. */
export function entryOf(change: Partial<GivenPlanting> & { fieldId: number }): GivenPlanting {
  return {
    block: null,
    isFinished: true,
    plantedOn: '2027-04-18',
    acres: 20,
    rowPattern: 'single',
    rowSpacingIn: 36,
    seedsPerFoot: 6,
    depthIn: 2,
    soilTempF: 69,
    operator: 'the foreman',
    lots: [],
    measureIds: [],
    note: null,
    ...change,
  }
}
