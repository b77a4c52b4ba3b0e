/** All SQL about plantings and stand counts. A half-finished entry is a row like any other. */
import type { Kysely } from 'kysely'
import { missingOf, type GivenPlanting, type GivenStandCount } from '../../src-shared/planting.ts'
import type { Spot } from '../../src-shared/agronomy/stand-count.ts'
import { ProblemError, type Problem } from '../../src-shared/problem.ts'
import { gone, inFuture } from '../../src-shared/record-problem.ts'
import { showDay } from '../../src-shared/show.ts'
import { findFieldSeason } from './db/field-season.ts'
import type { Tables } from './db/tables.ts'

export interface PlainPlanting extends GivenPlanting {
  id: number
  field: string
}

/** What the ids of an entry's measures are called. */
export async function readMeasureNames(db: Kysely<Tables>, seasonId: number): Promise<Map<number, string>> {
  const rows = await db.selectFrom('measure').where('seasonId', '=', seasonId).select(['id', 'name']).execute()
  return new Map(rows.map(({ id, name }) => [id, name]))
}

export interface PlainCount {
  id: number
  plantingId: number
  countedOn: string
  note: string | null
  spots: Spot[]
}

/** Entries of the season: unfinished first, then newest first. */
export async function readPlantings(db: Kysely<Tables>, seasonId: number): Promise<PlainPlanting[]> {
  const rows = await db
    .selectFrom('planting')
    .innerJoin('field_season', 'field_season.id', 'planting.fieldSeasonId')
    .innerJoin('field', 'field.id', 'field_season.fieldId')
    .where('field_season.seasonId', '=', seasonId)
    .select(['planting.id', 'field.id as fieldId', 'field.name as field', 'planting.block', 'planting.isFinished'])
    .select(['planting.plantedOn', 'planting.acres', 'planting.rowPattern', 'planting.rowSpacingIn'])
    .select(['planting.seedsPerFoot', 'planting.depthIn', 'planting.soilTempF', 'planting.operator', 'planting.note'])
    .orderBy('planting.isFinished')
    .orderBy('planting.plantedOn', 'desc')
    .orderBy('planting.id', 'desc')
    .execute()
  const ids = rows.map(({ id }) => id)
  const lots = await db
    .selectFrom('planting_lot')
    .where('plantingId', 'in', ids)
    .select(['plantingId', 'lotId', 'packs', 'pounds'])
    .orderBy('id')
    .execute()
  const measures = await db
    .selectFrom('planting_measure')
    .where('plantingId', 'in', ids)
    .select(['plantingId', 'measureId'])
    .orderBy('id')
    .execute()
  const lotsOf = Map.groupBy(lots, (row) => row.plantingId)
  const measuresOf = Map.groupBy(measures, (row) => row.plantingId)
  return rows.map((row) => ({
    ...row,
    isFinished: row.isFinished === 1,
    lots: (lotsOf.get(row.id) ?? []).map(({ plantingId: _, ...lot }) => lot),
    measureIds: (measuresOf.get(row.id) ?? []).map(({ measureId }) => measureId),
  }))
}

export async function readCounts(db: Kysely<Tables>, seasonId: number): Promise<PlainCount[]> {
  const rows = await db
    .selectFrom('stand_count')
    .innerJoin('planting', 'planting.id', 'stand_count.plantingId')
    .innerJoin('field_season', 'field_season.id', 'planting.fieldSeasonId')
    .where('field_season.seasonId', '=', seasonId)
    .select(['stand_count.id', 'stand_count.plantingId', 'stand_count.countedOn', 'stand_count.note'])
    .orderBy('stand_count.countedOn')
    .orderBy('stand_count.id')
    .execute()
  const spots = await db
    .selectFrom('stand_spot')
    .where(
      'standCountId',
      'in',
      rows.map(({ id }) => id),
    )
    .select(['standCountId', 'feet', 'plants'])
    .orderBy('ordinal')
    .execute()
  const spotsOf = Map.groupBy(spots, (row) => row.standCountId)
  return rows.map((row) => ({
    ...row,
    spots: (spotsOf.get(row.id) ?? []).map(({ feet, plants }) => ({ feet, plants })),
  }))
}

/** A new entry, or with an id a change to one. In the caller's transaction. @returns its id */
export async function savePlanting(
  db: Kysely<Tables>,
  seasonId: number,
  id: number | undefined,
  planting: GivenPlanting,
  today: string,
): Promise<number> {
  if (planting.plantedOn !== null && planting.plantedOn > today) {
    throw new ProblemError([inFuture('The planting', planting.plantedOn, { table: 'planting', column: 'plantedOn' })])
  }
  const missing = missingOf(planting)
  if (planting.isFinished && missing.length > 0) throw new ProblemError([notFinished(missing)])
  const ownSeasonId = await findFieldSeason(db, seasonId, planting.fieldId)
  if (ownSeasonId === undefined) throw new ProblemError([gone('That field', { table: 'planting' })])
  await requireLots(db, seasonId, planting)
  const { fieldId: _, lots, measureIds, ...plain } = planting
  const row = { ...plain, isFinished: Number(planting.isFinished), fieldSeasonId: ownSeasonId }
  const plantingId = id === undefined ? await insert(db, row) : await update(db, seasonId, id, row)
  await db.deleteFrom('planting_lot').where('plantingId', '=', plantingId).execute()
  await db.deleteFrom('planting_measure').where('plantingId', '=', plantingId).execute()
  for (const lot of lots)
    await db
      .insertInto('planting_lot')
      .values({ plantingId, ...lot })
      .execute()
  for (const measureId of new Set(measureIds)) {
    await db.insertInto('planting_measure').values({ plantingId, measureId }).execute()
  }
  return plantingId
}

async function insert(db: Kysely<Tables>, row: PlantingValues): Promise<number> {
  return (await db.insertInto('planting').values(row).returning('id').executeTakeFirstOrThrow()).id
}

type PlantingValues = Omit<GivenPlanting, 'fieldId' | 'lots' | 'measureIds' | 'isFinished'> & {
  isFinished: number
  fieldSeasonId: number
}

async function update(db: Kysely<Tables>, seasonId: number, id: number, row: PlantingValues): Promise<number> {
  await requirePlanting(db, seasonId, id)
  await db.updateTable('planting').set(row).where('id', '=', id).execute()
  return id
}

/** Lots that are on the farm, each once; measures that are in the book. */
async function requireLots(db: Kysely<Tables>, seasonId: number, { lots, measureIds }: GivenPlanting): Promise<void> {
  const there = await db
    .selectFrom('lot')
    .where('seasonId', '=', seasonId)
    .select(['id', 'lotNumber', 'state'])
    .execute()
  const seen = new Set<number>()
  for (const { lotId } of lots) {
    const lot = there.find(({ id }) => id === lotId)
    if (lot === undefined) throw new ProblemError([gone('That lot', { table: 'planting' })])
    if (lot.state !== 'received') throw new ProblemError([notHere(lot.lotNumber, lot.state)])
    if (seen.has(lotId)) throw new ProblemError([twice(lot.lotNumber)])
    seen.add(lotId)
  }
  const measures = await db.selectFrom('measure').where('seasonId', '=', seasonId).select('id').execute()
  if (measureIds.some((id) => !measures.some((measure) => measure.id === id))) {
    throw new ProblemError([gone('That measure', { table: 'planting' })])
  }
}

/** Takes an entry away, with its lots and counts. */
export async function removePlanting(db: Kysely<Tables>, seasonId: number, id: number): Promise<void> {
  await requirePlanting(db, seasonId, id)
  await db.deleteFrom('planting').where('id', '=', id).execute()
}

async function requirePlanting(db: Kysely<Tables>, seasonId: number, id: number) {
  const row = await db
    .selectFrom('planting')
    .innerJoin('field_season', 'field_season.id', 'planting.fieldSeasonId')
    .where('field_season.seasonId', '=', seasonId)
    .where('planting.id', '=', id)
    .select(['planting.plantedOn', 'planting.isFinished'])
    .executeTakeFirst()
  if (row === undefined) throw new ProblemError([gone('That planting', { table: 'planting' })])
  return row
}

/** A count of a stand, new or in place of one. @returns its id */
export async function saveCount(
  db: Kysely<Tables>,
  seasonId: number,
  { id, count, today }: { id?: number | undefined; count: GivenStandCount; today: string },
): Promise<number> {
  const { plantingId, countedOn, spots, note } = count
  const { plantedOn } = await requirePlanting(db, seasonId, plantingId)
  if (countedOn > today)
    throw new ProblemError([inFuture('The count', countedOn, { table: 'planting', column: 'countedOn' })])
  if (plantedOn !== null && countedOn < plantedOn) throw new ProblemError([tooEarly(countedOn, plantedOn)])
  if (id !== undefined) await removeCount(db, seasonId, id)
  const made = await db
    .insertInto('stand_count')
    .values({ ...(id === undefined ? {} : { id }), plantingId, countedOn, note })
    .returning('id')
    .executeTakeFirstOrThrow()
  for (const [at, spot] of spots.entries()) {
    await db
      .insertInto('stand_spot')
      .values({ standCountId: made.id, ordinal: at + 1, ...spot })
      .execute()
  }
  return made.id
}

export async function removeCount(db: Kysely<Tables>, seasonId: number, id: number): Promise<void> {
  const counts = await readCounts(db, seasonId)
  if (!counts.some((count) => count.id === id)) throw new ProblemError([gone('That count', { table: 'planting' })])
  await db.deleteFrom('stand_count').where('id', '=', id).execute()
}

function notFinished(missing: readonly string[]): Problem {
  return {
    code: 'missing',
    what: `The entry cannot be finished yet; still missing: ${missing.join(', ')}.`,
    where: { table: 'planting' },
    remedy: 'Fill that in, or keep the entry half-finished.',
  }
}

function notHere(lotNumber: string, state: string): Problem {
  return {
    code: 'bad-value',
    what: `Lot ${lotNumber} was ${state}: it is not on the farm.`,
    where: { table: 'lot', name: lotNumber },
    remedy: 'Choose another lot, or correct its state under Deliveries.',
  }
}

function twice(lotNumber: string): Problem {
  return {
    code: 'repeated-name',
    what: `Lot ${lotNumber} stands twice in this entry.`,
    where: { table: 'planting', name: lotNumber },
    remedy: 'Write its pounds together in one line.',
  }
}

function tooEarly(countedOn: string, plantedOn: string): Problem {
  return {
    code: 'bad-value',
    what: `The count is dated ${showDay(countedOn)}, before the planting on ${showDay(plantedOn)}.`,
    where: { table: 'planting', column: 'countedOn' },
    remedy: 'Correct the day of the count, or that of the planting.',
  }
}
