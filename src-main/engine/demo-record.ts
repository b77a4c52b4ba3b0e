/** Writes a year that is over into the demo's file, through the same doors as a person's entries: no row of it is special. */
import type { GivenPlanting } from '../../src-shared/planting.ts'
import type { DemoYear } from '../demo/demo-year.ts'
import { idsByName } from './db/names.ts'
import { inTransaction } from './db/transaction.ts'
import { saveDelivery } from './deliveries.ts'
import type { OpenFarm } from './farm-file.ts'
import { listFields } from './fields.ts'
import { saveTag, saveTest } from './lot-tags.ts'
import { readLots, saveLot } from './lots.ts'
import { makeOrders, seasonAtHand } from './ordering.ts'
import { markLines, readOrders } from './orders.ts'
import { saveCount, savePlanting } from './plantings.ts'
import { savePlan } from './plans.ts'
import { stores } from './sheets/stores.ts'
import { Writer } from './sheets/writer.ts'

/** All of it or nothing; no undo step, since nobody did it by hand. */
export async function writeDemoYear(farm: OpenFarm, year: DemoYear): Promise<void> {
  await inTransaction(farm.connection, null, async () => {
    await writeOrders(farm, year)
    await writeDeliveries(farm, year)
    await writePlantings(farm, year)
    await writeSeedLeft(farm, year)
    const writer = new Writer(farm.connection, farm.seasonId)
    for (const seen of year.seen) stores.seen.insert(writer, seen)
    for (const load of year.loads) stores.load.insert(writer, load)
    for (const cost of year.costs) stores.cost.insert(writer, cost)
  })
}

/** What a map has under a name; a demo that names what is not there is a bug. */
function known<Value>(map: ReadonlyMap<string, Value>, name: string): Value {
  const value = map.get(name)
  if (value === undefined) throw new Error(`The demo year names ${name}, which is not there.`)
  return value
}

async function writeOrders(farm: OpenFarm, { solved, answers, season }: DemoYear): Promise<void> {
  const { db, seasonId } = farm
  await savePlan(db, seasonId, (await seasonAtHand(db, seasonId)).season, solved)
  const sent = `${season.season}-01-08`
  await makeOrders(farm, sent)
  const lines = await linesByQuote(farm)
  await markLines(db, seasonId, [...lines.values()], { state: 'ordered', on: sent })
  for (const { quote, mark } of answers) await markLines(db, seasonId, [known(lines, quote)], mark)
}

async function linesByQuote({ db, seasonId }: OpenFarm): Promise<Map<string, number>> {
  const orders = await readOrders(db, seasonId)
  return new Map(orders.flatMap((order) => order.lines.map((line) => [line.quote, line.id] as const)))
}

async function writeDeliveries(farm: OpenFarm, { deliveries, tests, endsOn }: DemoYear): Promise<void> {
  const { db, seasonId } = farm
  const dealers = await idsByName(db, 'dealer', seasonId)
  const varieties = await idsByName(db, 'variety', seasonId)
  const lines = await linesByQuote(farm)
  const lotIds = new Map<string, number>()
  for (const { dealer, lots, ...plain } of deliveries) {
    const delivery = { ...plain, dealerId: known(dealers, dealer) }
    const deliveryId = await saveDelivery(db, seasonId, undefined, delivery, endsOn)
    for (const { variety, quote, isSecondPart, tag, ...lot } of lots) {
      const own = {
        ...lot,
        deliveryId,
        varietyId: known(varieties, variety),
        orderLineId: quote === undefined ? null : known(lines, quote),
        carriedSeedId: null,
      }
      const lotId = await saveLot(db, seasonId, undefined, own, isSecondPart)
      lotIds.set(lot.lotNumber, lotId)
      if (tag) await saveTag(db, seasonId, lotId, tag, endsOn)
    }
  }
  for (const { lot, testedOn, seeds, sprouted } of tests) {
    const replicates = sprouted.map((count) => ({ seeds, sprouted: count }))
    const test = { testedOn, laboratory: null, germination: null, hardSeed: null, replicates, note: null }
    await saveTest(db, seasonId, { lotId: known(lotIds, lot), test, today: endsOn })
  }
}

async function writePlantings({ db, seasonId }: OpenFarm, year: DemoYear): Promise<void> {
  const fields = new Map((await listFields(db, seasonId)).map((field) => [field.name, field]))
  const lots = new Map((await readLots(db, seasonId)).map((lot) => [lot.lotNumber, lot.id]))
  const measures = await idsByName(db, 'measure', seasonId)
  for (const planting of year.plantings) {
    const field = known(fields, planting.field)
    const { field: _, lots: planted, measures: used, stands, block, note, ...plain } = planting
    const entry: GivenPlanting = {
      ...plain,
      fieldId: field.id,
      block: block ?? null,
      note: note ?? null,
      isFinished: true,
      rowPattern: field.rowPattern,
      rowSpacingIn: field.rowSpacingIn,
      lots: planted.map(({ lot, packs, pounds }) => ({ lotId: known(lots, lot), packs: packs ?? null, pounds })),
      measureIds: used.map((name) => known(measures, name)),
    }
    const plantingId = await savePlanting(db, seasonId, undefined, entry, year.endsOn)
    for (const { countedOn, feet, plants } of stands) {
      const spots = plants.map((count) => ({ feet, plants: count }))
      await saveCount(db, seasonId, { count: { plantingId, countedOn, spots, note: null }, today: year.endsOn })
    }
  }
}

async function writeSeedLeft({ db, seasonId }: OpenFarm, { seedLeft }: DemoYear): Promise<void> {
  for (const { lot, returnedPounds, leftPounds } of seedLeft) {
    await db
      .updateTable('lot')
      .set({ returnedPounds, leftPounds })
      .where('seasonId', '=', seasonId)
      .where('lotNumber', '=', lot)
      .execute()
  }
}
