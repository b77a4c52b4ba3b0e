/** All SQL about which lot goes to which field, and what was found when they were placed. */
import type { Kysely } from 'kysely'
import type { LotPlacing, PlacedRow, VarietyPlacing } from '../../src-shared/lot-placing.ts'
import { byName } from '../../src-shared/name-order.ts'
import { ProblemError } from '../../src-shared/problem.ts'
import { findFieldSeason } from './db/field-season.ts'
import type { Tables } from './db/tables.ts'

export type StoredRow = Omit<PlacedRow, 'lot'>

/** Every lot on a field, by variety, field and lot. */
export async function readLotFields(db: Kysely<Tables>, seasonId: number): Promise<StoredRow[]> {
  const rows = await db
    .selectFrom('lot_field')
    .innerJoin('lot', 'lot.id', 'lot_field.lotId')
    .innerJoin('variety', 'variety.id', 'lot.varietyId')
    .innerJoin('field_season', 'field_season.id', 'lot_field.fieldSeasonId')
    .innerJoin('field', 'field.id', 'field_season.fieldId')
    .where('lot.seasonId', '=', seasonId)
    .select(['lot_field.lotId', 'lot_field.acres', 'lot_field.pounds', 'lot_field.isLocked'])
    .select(['field.id as fieldId', 'field.name as field', 'variety.name as variety'])
    .orderBy('lot_field.lotId')
    .execute()
  const sorted = rows.sort(
    byName(
      ({ variety }) => variety,
      ({ field }) => field,
    ),
  )
  return sorted.map(({ isLocked, ...row }) => ({ ...row, isKept: isLocked === 1 }))
}

export type Found = NonNullable<VarietyPlacing['found']>

/** What was found, by variety. */
export async function readPlacings(
  db: Kysely<Tables>,
  seasonId: number,
): Promise<Map<string, { found: Found; dataHash: string }>> {
  const rows = await db
    .selectFrom('lot_placing')
    .innerJoin('variety', 'variety.id', 'lot_placing.varietyId')
    .where('lot_placing.seasonId', '=', seasonId)
    .select(['variety.name as variety', 'result', 'dataHash'])
    .execute()
  return new Map(
    rows.map(({ variety, result, dataHash }) => [variety, { found: JSON.parse(result) as Found, dataHash }]),
  )
}

export interface NewPlacing {
  varietyId: number
  placing: LotPlacing
  dataHash: string
  rows: { lotId: number; fieldId: number; acres: number; pounds: number }[]
}

/** In place of what was placed of the variety before; what is kept where it is stays kept. In the caller's transaction. */
export async function writePlacing(db: Kysely<Tables>, seasonId: number, made: NewPlacing): Promise<void> {
  const { varietyId, placing, dataHash, rows } = made
  const ofVariety = db
    .selectFrom('lot')
    .where('seasonId', '=', seasonId)
    .where('varietyId', '=', varietyId)
    .select('id')
  const kept = await db
    .selectFrom('lot_field')
    .where('lotId', 'in', ofVariety)
    .where('isLocked', '=', 1)
    .selectAll()
    .execute()
  await db.deleteFrom('lot_field').where('lotId', 'in', ofVariety).execute()
  const isLocked = (lotId: number, fieldSeasonId: number) =>
    kept.some((row) => row.lotId === lotId && row.fieldSeasonId === fieldSeasonId) ? 1 : 0
  for (const { fieldId, ...row } of rows) {
    const fieldSeasonId = await fieldSeasonOf(db, seasonId, fieldId)
    await db
      .insertInto('lot_field')
      .values({ ...row, fieldSeasonId, isLocked: isLocked(row.lotId, fieldSeasonId) })
      .execute()
  }
  const { says, gap, costCents, short, why, left, endedBy } = placing
  const result = JSON.stringify({ says, gap, costCents, short, why, left, endedBy } satisfies Found)
  await db
    .insertInto('lot_placing')
    .values({ seasonId, varietyId, result, dataHash })
    .onConflict((conflict) => conflict.columns(['seasonId', 'varietyId']).doUpdateSet({ result, dataHash }))
    .execute()
}

/** Keeps a lot on a field in every placing, or lets it go. In the caller's transaction. */
export async function keepLot(
  db: Kysely<Tables>,
  seasonId: number,
  { lotId, fieldId, isKept }: { lotId: number; fieldId: number; isKept: boolean },
): Promise<null> {
  const lot = await db
    .selectFrom('lot')
    .where('id', '=', lotId)
    .where('seasonId', '=', seasonId)
    .select('id')
    .executeTakeFirst()
  if (lot === undefined) {
    throw new ProblemError([
      { code: 'missing', what: 'This lot is not there any more.', remedy: 'Look at the lots again.' },
    ])
  }
  const fieldSeasonId = await fieldSeasonOf(db, seasonId, fieldId)
  const isLocked = isKept ? 1 : 0
  const at = await db
    .updateTable('lot_field')
    .set({ isLocked })
    .where('lotId', '=', lotId)
    .where('fieldSeasonId', '=', fieldSeasonId)
    .executeTakeFirst()
  if (Number(at.numUpdatedRows) > 0 || !isKept) return null
  const { acres } = await db
    .selectFrom('field_season')
    .where('id', '=', fieldSeasonId)
    .select('acres')
    .executeTakeFirstOrThrow()
  // Pounds are known when lots are placed next.
  await db.insertInto('lot_field').values({ lotId, fieldSeasonId, acres, pounds: 0, isLocked }).execute()
  return null
}

async function fieldSeasonOf(db: Kysely<Tables>, seasonId: number, fieldId: number): Promise<number> {
  const id = await findFieldSeason(db, seasonId, fieldId)
  if (id !== undefined) return id
  throw new ProblemError([
    { code: 'missing', what: 'This field is not there any more.', remedy: 'Look at the fields again.' },
  ])
}
