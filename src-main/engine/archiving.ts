/** A season with all that happened in it, as one file that `plan` still reads: the season, the plan in hand, the record. */
import { sumsOf, type OrderLine } from '../../src-shared/order.ts'
import type { RecordedLot, RecordedPlanting, SeasonRecord } from '../../src-shared/season-record.ts'
import type { WrittenFile } from '../../src-shared/sheet/bring-in.ts'
import { listCosts } from './costs.ts'
import { readDeliveries } from './deliveries.ts'
import type { OpenFarm } from './farm-file.ts'
import { safeName } from './farm-name.ts'
import { listLoads } from './loads.ts'
import { readLots, type PlainLot } from './lots.ts'
import { readOrders } from './orders.ts'
import { gather } from './plan/gather.ts'
import { planInHand } from './plans.ts'
import { readCounts, readMeasureNames, readPlantings } from './plantings.ts'
import { listSeen } from './seen.ts'

type Place = Pick<OpenFarm, 'db' | 'seasonId'>

/** The open season with all that happened in it, as one file to save. */
export async function archiveFile(farm: Place): Promise<WrittenFile> {
  const season = await archiveOf(farm)
  const text = `${JSON.stringify(season, null, 2)}\n`
  return {
    name: `${safeName(season.farm.name)} ${season.season}.season.json`,
    type: 'application/json',
    base64: Buffer.from(text, 'utf8').toString('base64'),
  }
}

async function archiveOf(farm: Place) {
  const season = await gather(farm.db, farm.seasonId)
  const stored = await planInHand(farm.db, farm.seasonId)
  const plan = stored === null ? {} : { plan: { plan: stored.plan, proof: stored.proof } }
  return { ...season, ...plan, happened: await recordOf(farm) }
}

async function recordOf({ db, seasonId }: Place): Promise<SeasonRecord> {
  const lots = await readLots(db, seasonId)
  return {
    leftOut:
      'Pictures of tags stay in the farm file. Read back is the season itself: ground, varieties, quotes, rules.',
    orders: (await readOrders(db, seasonId)).map((order) => ({
      dealer: order.dealer,
      number: order.number,
      note: order.note,
      madeOn: order.madeOn,
      terms: order.terms,
      lines: order.lines.map(recordedLine),
      cents: sumsOf(order).cents,
    })),
    deliveries: (await readDeliveries(db, seasonId)).map(({ id: _, dealerId: _dealer, ...delivery }) => delivery),
    lots: lots.map(recordedLot),
    plantings: await recordedPlantings({ db, seasonId }, lots),
    loads: (await listLoads(db, seasonId)).map(
      ({ id: _, fieldId: _field, grown: _grown, net, valueFrom: _from, lacks: _lacks, heed: _heed, ...load }) => ({
        ...load,
        netPounds: net.netPounds,
      }),
    ),
    seen: (await listSeen(db, seasonId)).map(({ id: _, fieldId: _field, ...seen }) => seen),
    costs: (await listCosts(db, seasonId)).map(({ id: _, fieldId: _field, ...cost }) => cost),
  }
}

function recordedLine(line: OrderLine): SeasonRecord['orders'][number]['lines'][number] {
  const { quote, variety, packs, packPounds, packPriceCents, terms, state, sentOn, answeredOn, note } = line
  const { confirmedPacks, confirmedPriceCents } = line
  const asked = { quote, variety, packs, packPounds, packPriceCents, terms }
  return { ...asked, state, sentOn, answeredOn, confirmedPacks, confirmedPriceCents, note }
}

function recordedLot(lot: PlainLot): RecordedLot {
  return {
    lotNumber: lot.lotNumber,
    variety: lot.variety,
    dealer: lot.dealer,
    arrivedOn: lot.arrivedOn,
    state: lot.state,
    packs: lot.packs,
    packPounds: lot.packPounds,
    pounds: lot.pounds,
    returnedPounds: lot.returnedPounds,
    leftPounds: lot.leftPounds,
    plantedPounds: lot.plantedPounds,
    seedsPerPound: lot.seedsPerPound,
    note: lot.note,
    tag: lot.tag,
    tests: lot.tests.map(({ id: _, ...test }) => test),
    pictures: lot.photos.map(({ fileName }) => fileName),
  }
}

async function recordedPlantings({ db, seasonId }: Place, lots: readonly PlainLot[]): Promise<RecordedPlanting[]> {
  const lotOf = new Map(lots.map((lot) => [lot.id, lot]))
  const measureOf = await readMeasureNames(db, seasonId)
  const counts = await readCounts(db, seasonId)
  return (await readPlantings(db, seasonId)).map(({ id, fieldId: _, lots: planted, measureIds, ...plain }) => ({
    ...plain,
    lots: planted.map(({ lotId, ...rest }) => ({
      lot: lotOf.get(lotId)?.lotNumber ?? '',
      variety: lotOf.get(lotId)?.variety ?? '',
      ...rest,
    })),
    measures: measureIds.flatMap((measureId) => measureOf.get(measureId) ?? []),
    counts: counts
      .filter(({ plantingId }) => plantingId === id)
      .map(({ countedOn, spots, note }) => ({ countedOn, spots, note })),
  }))
}
