/** All that was written down in a season, gathered from its tables into the one value that its review is reckoned from. */
import type { RecordLot, RecordPlanting, ReviewInput } from '../../src-shared/review/review-input.ts'
import { listCosts } from './costs.ts'
import type { OpenFarm } from './farm-file.ts'
import { listLoads } from './loads.ts'
import { readLots } from './lots.ts'
import { readOrders } from './orders.ts'
import { gather } from './plan/gather.ts'
import { planInHand } from './plans.ts'
import { readCounts, readMeasureNames, readPlantings } from './plantings.ts'
import { listSeen } from './seen.ts'

type Place = Pick<OpenFarm, 'db' | 'seasonId'>

export async function readReviewInput(place: Place): Promise<ReviewInput> {
  const { db, seasonId } = place
  const stored = await planInHand(db, seasonId)
  return {
    season: await gather(db, seasonId),
    planned: stored?.plan ? { plan: stored.plan, from: stored.input } : null,
    orders: await readOrders(db, seasonId),
    lots: (await readLots(db, seasonId)).map((lot): RecordLot => {
      const { id, name, variety, dealer, orderLineId, state, packs, pounds, returnedPounds, leftPounds } = lot
      const { plantedPounds, germination, germinationFrom, seedsCounted, countFrom, promised, isTreated } = lot
      return {
        ...{ id, name, variety, dealer, orderLineId, state, packs, pounds, returnedPounds, leftPounds },
        ...{ plantedPounds, germination, germinationFrom, seedsCounted, countFrom, promised, isTreated },
        isCarried: lot.carriedSeedId !== null,
      }
    }),
    plantings: await readRecordPlantings(place),
    loads: await listLoads(db, seasonId),
    costs: await listCosts(db, seasonId),
    seen: await listSeen(db, seasonId),
  }
}

async function readRecordPlantings({ db, seasonId }: Place): Promise<RecordPlanting[]> {
  const nameOf = await readMeasureNames(db, seasonId)
  const counts = Map.groupBy(await readCounts(db, seasonId), ({ plantingId }) => plantingId)
  return (await readPlantings(db, seasonId)).map((entry): RecordPlanting => ({
    id: entry.id,
    field: entry.field,
    isFinished: entry.isFinished,
    plantedOn: entry.plantedOn,
    acres: entry.acres,
    rowPattern: entry.rowPattern,
    seedsPerFoot: entry.seedsPerFoot,
    lots: entry.lots.map(({ lotId, pounds }) => ({ lotId, pounds })),
    measures: entry.measureIds.flatMap((id) => nameOf.get(id) ?? []),
    counts: (counts.get(entry.id) ?? []).map(({ countedOn, spots }) => ({ countedOn, spots })),
  }))
}
