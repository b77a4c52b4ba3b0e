/** What came against what was ordered: loads, lots with the checks of their tags, what each dealer still owes. */
import type { Kysely } from 'kysely'
import { tagChecks } from '../../src-shared/agronomy/tag-checks.ts'
import { Book } from '../../src-shared/assumption.ts'
import { starterBook } from '../../src-shared/book/starter.ts'
import { receiptOf, type DealerReceipt, type DeliveriesNow, type LineReceipt } from '../../src-shared/delivery.ts'
import type { LotRow } from '../../src-shared/lot.ts'
import { byName } from '../../src-shared/name-order.ts'
import { sumsOf } from '../../src-shared/order.ts'
import type { Tables } from './db/tables.ts'
import { readDeliveries, readPromises } from './deliveries.ts'
import type { OpenFarm } from './farm-file.ts'
import { readLots } from './lots.ts'
import { readOrders } from './orders.ts'
import { readAssumptions } from './rules.ts'
import { listVarieties } from './varieties.ts'

type Place = Pick<OpenFarm, 'db' | 'seasonId'>

/** The farm's book: the defaults with its own rows over them. */
export async function bookOf({ db, seasonId }: Place): Promise<Book> {
  return new Book(starterBook, await readAssumptions(db, seasonId))
}

/** Every lot with what its tag and tests are checked for. */
export async function lotsNow(farm: Place): Promise<LotRow[]> {
  const book = await bookOf(farm)
  return (await readLots(farm.db, farm.seasonId)).map((lot) => ({
    ...lot,
    checks:
      lot.tag === null
        ? []
        : tagChecks(book, { tag: lot.tag, lot, promised: lot.promised, arrivedOn: lot.arrivedOn, tests: lot.tests }),
  }))
}

/** Lines of orders with what came for them, by dealer. */
export async function receiptsNow({ db, seasonId }: Place, lots: readonly LotRow[]) {
  const varieties = new Map((await listVarieties(db, seasonId)).map(({ name, id }) => [name, id]))
  const promises = await readPromises(db, seasonId)
  return (await readOrders(db, seasonId)).map((order) => {
    const off = sumsOf(order).reached?.offCentsPerPound ?? 0
    const receipts = order.lines.map((line): LineReceipt => {
      const varietyId = varieties.get(line.variety) ?? 0
      return receiptOf({ ...line, varietyId }, lots, promises.get(line.id) ?? null, off)
    })
    return { order, receipts }
  })
}

export async function deliveriesNow(farm: Place): Promise<DeliveriesNow> {
  const { db, seasonId } = farm
  const lots = await lotsNow(farm)
  const loads = (await readDeliveries(db, seasonId)).map((delivery) => ({
    ...delivery,
    lots: lots.filter(({ deliveryId }) => deliveryId === delivery.id),
  }))
  const orders = await receiptsNow(farm, lots)
  const allDealers = await dealersOf(db, seasonId)
  const dealers = allDealers.flatMap(({ id, name }): DealerReceipt[] => {
    const lines = orders.filter(({ order }) => order.dealer === name).flatMap(({ receipts }) => receipts)
    const deliveries = loads.filter(({ dealerId }) => dealerId === id)
    if (lines.length === 0 && deliveries.length === 0) return []
    const total = (of: (line: LineReceipt) => number) => lines.reduce((sum, line) => sum + of(line), 0)
    const owedPounds = total((line) => line.owedPounds)
    const creditCents = total((line) => line.creditCents)
    return [{ dealerId: id, dealer: name, lines, deliveries, owedPounds, creditCents }]
  })
  const taken = new Set(lots.map(({ carriedSeedId }) => carriedSeedId))
  return {
    dealers,
    onHand: lots.filter(({ deliveryId }) => deliveryId === null),
    carried: (await carriedOf(db, seasonId)).filter(({ id }) => !taken.has(id)),
    varieties: (await listVarieties(db, seasonId)).map(({ id, name, isTreated }) => ({ id, name, isTreated })),
    allDealers,
  }
}

async function dealersOf(db: Kysely<Tables>, seasonId: number) {
  const rows = await db.selectFrom('dealer').where('seasonId', '=', seasonId).select(['id', 'name']).execute()
  return rows.sort(byName(({ name }) => name))
}

function carriedOf(db: Kysely<Tables>, seasonId: number) {
  return db
    .selectFrom('carried_seed')
    .innerJoin('variety', 'variety.id', 'carried_seed.varietyId')
    .where('carried_seed.seasonId', '=', seasonId)
    .select(['carried_seed.id', 'variety.name as variety', 'carried_seed.varietyId', 'carried_seed.lot'])
    .select(['carried_seed.pounds', 'carried_seed.germination'])
    .orderBy('carried_seed.id')
    .execute()
}
