/**
 * Lots as they are read, with their tags, pictures and tests; and which came under which number. A lot that was planted
 * is never deleted.
 */
import type { Kysely } from 'kysely'
import type { GerminationTest } from '../../src-shared/germination-test.ts'
import type { GivenLot, LotRow } from '../../src-shared/lot.ts'
import { byName } from '../../src-shared/name-order.ts'
import type { LineTerms } from '../../src-shared/order.ts'
import { mustBeAsSeen } from '../../src-shared/meanwhile.ts'
import { ProblemError, type Problem } from '../../src-shared/problem.ts'
import { gone } from '../../src-shared/record-problem.ts'
import type { Tag } from '../../src-shared/tag.ts'
import { showWhole } from '../../src-shared/show.ts'
import type { Tables } from './db/tables.ts'

/** A lot without what the house book says of it. */
export type PlainLot = Omit<LotRow, 'checks'>

/** Every lot of the season, by variety and number. */
export async function readLots(db: Kysely<Tables>, seasonId: number): Promise<PlainLot[]> {
  const rows = (await lotRows(db, seasonId)).sort(
    byName(
      ({ variety }) => variety,
      ({ lotNumber }) => lotNumber,
    ),
  )
  const tags = new Map((await tagRows(db, seasonId)).map(({ lotId, ...tag }) => [lotId, asTag(tag)]))
  const tests = await readTests(db, seasonId)
  const photos = Map.groupBy(await photoRows(db, seasonId), ({ lotId }) => lotId)
  const planted = new Map((await plantedRows(db, seasonId)).map(({ lotId, pounds }) => [lotId, pounds]))
  const dealersOf = new Map<string, Set<string | null>>()
  for (const { lotNumber, dealer } of rows) {
    const key = lotNumber.toLowerCase()
    dealersOf.set(key, (dealersOf.get(key) ?? new Set()).add(dealer))
  }
  return rows.map(({ expected, usualCount, isTreated, terms, orderedVarietyId, carriedTest, ...row }): PlainLot => {
    const tag = tags.get(row.id) ?? null
    const own = tests.get(row.id) ?? []
    const line = terms !== null && orderedVarietyId === row.varietyId ? (JSON.parse(terms) as LineTerms) : null
    const promised = {
      germination: line?.germination ?? expected,
      seedsPerPound: line?.seedsPerPound ?? usualCount,
      isTreated: line?.isTreated ?? isTreated === 1,
    }
    const newest = own.at(-1)
    const isShared = (dealersOf.get(row.lotNumber.toLowerCase())?.size ?? 1) > 1
    return {
      ...row,
      name: isShared ? `${row.lotNumber} of ${row.dealer ?? 'the farm'}` : row.lotNumber,
      tag,
      tests: own,
      photos: (photos.get(row.id) ?? []).map(({ lotId: _, ...photo }) => photo),
      plantedPounds: planted.get(row.id) ?? 0,
      // What was typed as a new test of carried seed is younger than its tag.
      germination: newest?.germination ?? carriedTest ?? tag?.germination ?? expected,
      germinationFrom:
        newest || carriedTest !== null ? 'a test' : typeof tag?.germination === 'number' ? 'the tag' : 'the variety',
      seedsCounted: row.seedsPerPound ?? tag?.seedsPerPound ?? usualCount,
      countFrom: row.seedsPerPound !== null ? 'own count' : tag?.seedsPerPound ? 'the tag' : 'the variety',
      isTreated: tag?.isTreated ?? promised.isTreated,
      promised,
    }
  })
}

function lotRows(db: Kysely<Tables>, seasonId: number) {
  return db
    .selectFrom('lot')
    .innerJoin('variety', 'variety.id', 'lot.varietyId')
    .leftJoin('dealer', 'dealer.id', 'lot.dealerId')
    .leftJoin('delivery', 'delivery.id', 'lot.deliveryId')
    .leftJoin('order_line', 'order_line.id', 'lot.orderLineId')
    .leftJoin('carried_seed', 'carried_seed.id', 'lot.carriedSeedId')
    .where('lot.seasonId', '=', seasonId)
    .select('carried_seed.germination as carriedTest')
    .select(['lot.id', 'lot.lotNumber', 'lot.varietyId', 'lot.deliveryId', 'lot.carriedSeedId', 'lot.orderLineId'])
    .select(['lot.state', 'lot.packs', 'lot.packPounds', 'lot.pounds', 'lot.returnedPounds', 'lot.leftPounds'])
    .select(['lot.seedsPerPound', 'lot.note', 'variety.name as variety', 'dealer.name as dealer'])
    .select(['delivery.arrivedOn', 'variety.germination as expected', 'variety.seedsPerPound as usualCount'])
    .select(['variety.isTreated', 'order_line.terms', 'order_line.varietyId as orderedVarietyId'])
    .orderBy('lot.id')
    .execute()
}

function tagRows(db: Kysely<Tables>, seasonId: number) {
  return db
    .selectFrom('tag')
    .innerJoin('lot', 'lot.id', 'tag.lotId')
    .where('lot.seasonId', '=', seasonId)
    .selectAll('tag')
    .execute()
}

function asTag({ id: _, ...tag }: Omit<Awaited<ReturnType<typeof tagRows>>[number], 'lotId'>): Tag {
  return { ...tag, isHermetic: tag.isHermetic === 1, isTreated: tag.isTreated === 1 }
}

function photoRows(db: Kysely<Tables>, seasonId: number) {
  return db
    .selectFrom('tag_photo')
    .innerJoin('lot', 'lot.id', 'tag_photo.lotId')
    .where('lot.seasonId', '=', seasonId)
    .select(['tag_photo.lotId', 'tag_photo.id', 'tag_photo.fileName', 'tag_photo.mediaType', 'tag_photo.sha256'])
    .select('tag_photo.size')
    .orderBy('tag_photo.id')
    .execute()
}

function plantedRows(db: Kysely<Tables>, seasonId: number) {
  return db
    .selectFrom('planting_lot')
    .innerJoin('lot', 'lot.id', 'planting_lot.lotId')
    .where('lot.seasonId', '=', seasonId)
    .groupBy('planting_lot.lotId')
    .select('planting_lot.lotId')
    .select(({ fn }) => fn.sum<number>('planting_lot.pounds').as('pounds'))
    .execute()
}

/** Tests by lot, oldest first. */
async function readTests(db: Kysely<Tables>, seasonId: number): Promise<Map<number, GerminationTest[]>> {
  const rows = await db
    .selectFrom('germination_test')
    .innerJoin('lot', 'lot.id', 'germination_test.lotId')
    .where('lot.seasonId', '=', seasonId)
    .selectAll('germination_test')
    .orderBy('germination_test.testedOn')
    .orderBy('germination_test.id')
    .execute()
  const replicates = await db
    .selectFrom('germination_replicate')
    .innerJoin('germination_test', 'germination_test.id', 'germination_replicate.germinationTestId')
    .innerJoin('lot', 'lot.id', 'germination_test.lotId')
    .where('lot.seasonId', '=', seasonId)
    .select([
      'germination_replicate.germinationTestId',
      'germination_replicate.seeds',
      'germination_replicate.sprouted',
    ])
    .orderBy('germination_replicate.ordinal')
    .execute()
  const replicatesOf = Map.groupBy(replicates, (row) => row.germinationTestId)
  const tests = Map.groupBy(rows, ({ lotId }) => lotId)
  return new Map(
    [...tests].map(([lotId, own]) => [
      lotId,
      own.map(({ lotId: _, ...test }) => ({
        ...test,
        replicates: (replicatesOf.get(test.id) ?? []).map(({ seeds, sprouted }) => ({ seeds, sprouted })),
      })),
    ]),
  )
}

/**
 * A new lot, or with an id a change to one. The same number from one dealer is asked about, from two it is allowed.
 * In the caller's transaction. @returns its id
 */
export async function saveLot(
  db: Kysely<Tables>,
  seasonId: number,
  id: number | undefined,
  lot: GivenLot,
  isSecondPart: boolean,
): Promise<number> {
  const dealerId = await dealerOf(db, seasonId, lot)
  const pounds = lot.pounds === 0 ? (lot.packs ?? 0) * (lot.packPounds ?? 0) : lot.pounds
  const before = id === undefined ? undefined : await findLot(db, seasonId, id)
  if (!isSecondPart) await askIfRepeated(db, seasonId, id, lot.lotNumber, dealerId)
  mustFit({ ...lot, pounds }, before)
  const row = { ...lot, pounds, dealerId }
  if (id === undefined) {
    const values = { seasonId, ...row }
    return (await db.insertInto('lot').values(values).returning('id').executeTakeFirstOrThrow()).id
  }
  await db.updateTable('lot').set(row).where('id', '=', id).execute()
  return id
}

/** Some values of a lot. What is not named is not written, so that two edits in one breath both stand. */
export async function setLot(
  db: Kysely<Tables>,
  seasonId: number,
  id: number,
  values: { [Name in 'state' | 'returnedPounds' | 'leftPounds']?: GivenLot[Name] | undefined },
  was?: typeof values,
): Promise<void> {
  const before = await findLot(db, seasonId, id)
  mustBeAsSeen(before, was, { table: 'lot', id })
  const named = Object.fromEntries(Object.entries(values).filter(([, value]) => value !== undefined))
  if (Object.keys(named).length === 0) return
  mustFit({ ...before, ...named }, before)
  await db.updateTable('lot').set(named).where('id', '=', id).execute()
}

/** A planted lot stays what it was; no more goes back than came. */
function mustFit(lot: GivenLot, before: PlainLot | undefined): void {
  const planted = before?.plantedPounds ?? 0
  if (planted > 0 && (lot.state !== 'received' || lot.varietyId !== before?.varietyId)) {
    throw new ProblemError([wasPlanted(before?.name ?? lot.lotNumber, planted)])
  }
  if (lot.returnedPounds > lot.pounds) {
    throw new ProblemError([moreReturned(lot.lotNumber, lot.returnedPounds, lot.pounds)])
  }
}

/** The dealer of the load that the lot came with; null for seed that was here. What the lot names must be there. */
async function dealerOf(db: Kysely<Tables>, seasonId: number, lot: GivenLot): Promise<number | null> {
  const has = async (table: 'variety' | 'carried_seed', id: number) =>
    (await db
      .selectFrom(table)
      .where('id', '=', id)
      .where('seasonId', '=', seasonId)
      .select('id')
      .executeTakeFirst()) !== undefined
  if (!(await has('variety', lot.varietyId))) throw new ProblemError([gone('That variety', { table: 'lot' })])
  if (lot.carriedSeedId !== null && !(await has('carried_seed', lot.carriedSeedId))) {
    throw new ProblemError([gone('That carried seed', { table: 'lot' })])
  }
  if (lot.orderLineId !== null) {
    const line = await db
      .selectFrom('order_line')
      .innerJoin('purchase_order', 'purchase_order.id', 'order_line.purchaseOrderId')
      .where('purchase_order.seasonId', '=', seasonId)
      .where('order_line.id', '=', lot.orderLineId)
      .select('order_line.id')
      .executeTakeFirst()
    if (line === undefined) throw new ProblemError([gone('That order line', { table: 'lot' })])
  }
  if (lot.deliveryId === null) return null
  const delivery = await db
    .selectFrom('delivery')
    .where('id', '=', lot.deliveryId)
    .where('seasonId', '=', seasonId)
    .select('dealerId')
    .executeTakeFirst()
  if (delivery === undefined) throw new ProblemError([gone('That delivery', { table: 'lot' })])
  return delivery.dealerId
}

async function askIfRepeated(
  db: Kysely<Tables>,
  seasonId: number,
  id: number | undefined,
  lotNumber: string,
  dealerId: number | null,
): Promise<void> {
  const rows = await db
    .selectFrom('lot')
    .leftJoin('dealer', 'dealer.id', 'lot.dealerId')
    .where('lot.seasonId', '=', seasonId)
    .select(['lot.id', 'lot.lotNumber', 'lot.dealerId', 'dealer.name as dealer'])
    .execute()
  const number = lotNumber.toLowerCase()
  const same = rows.find((row) => row.id !== id && row.dealerId === dealerId && row.lotNumber.toLowerCase() === number)
  if (same === undefined) return
  throw new ProblemError([
    {
      code: 'repeated-name',
      what: `${same.dealer ?? 'The farm'} has a lot ${same.lotNumber} already.`,
      where: { table: 'lot', column: 'lotNumber', name: same.lotNumber, id: same.id },
      remedy: 'If this is a further part of the same lot, say so; else correct the number.',
    },
  ])
}

/** Takes a lot away with its tag and tests; one that was planted is kept. */
export async function removeLot(db: Kysely<Tables>, seasonId: number, id: number): Promise<void> {
  const lot = await findLot(db, seasonId, id)
  const plantings = await db.selectFrom('planting_lot').where('lotId', '=', id).select('id').execute()
  if (plantings.length > 0) throw new ProblemError([wasPlanted(lot.name, lot.plantedPounds)])
  await db.deleteFrom('lot').where('id', '=', id).execute()
}

function wasPlanted(name: string, pounds: number): Problem {
  return {
    code: 'bad-value',
    what: `Lot ${name} was planted (${showWhole(pounds)} lb): the record of it is kept.`,
    where: { table: 'lot', name },
    remedy: 'Correct the planting first if it was written down by mistake.',
  }
}

function moreReturned(name: string, returned: number, pounds: number): Problem {
  return {
    code: 'bad-value',
    what: `Lot ${name}: ${showWhole(returned)} lb returned of ${showWhole(pounds)} lb that came.`,
    where: { table: 'lot', column: 'returnedPounds', name },
    remedy: 'Correct the pounds returned, or the pounds that came.',
  }
}

/** @throws ProblemError where the season has none of that id */
export async function findLot(db: Kysely<Tables>, seasonId: number, id: number): Promise<PlainLot> {
  const lot = (await readLots(db, seasonId)).find((each) => each.id === id)
  if (lot === undefined) throw new ProblemError([gone('That lot', { table: 'lot', id })])
  return lot
}
