/** All SQL about what is held fixed: a variety on a field, or never there. */
import type { Kysely } from 'kysely'
import { ProblemError } from '../../src-shared/problem.ts'
import type { Exclusion, Lock } from '../../src-shared/season.ts'
import { findFieldSeason } from './db/field-season.ts'
import { byText, withoutNulls } from './db/row.ts'
import type { Tables } from './db/tables.ts'

/** Every lock by names, sorted. */
export async function readLocks(db: Kysely<Tables>, seasonId: number): Promise<Lock[]> {
  const rows = await db
    .selectFrom('field_lock')
    .innerJoin('field_season', 'field_season.id', 'field_lock.fieldSeasonId')
    .innerJoin('field', 'field.id', 'field_season.fieldId')
    .innerJoin('variety', 'variety.id', 'field_lock.varietyId')
    .leftJoin('planting_window', 'planting_window.id', 'field_lock.windowId')
    .where('field_season.seasonId', '=', seasonId)
    .select(['field.name as field', 'variety.name as variety', 'planting_window.name as window', 'field_lock.week'])
    .execute()
  const key = ({ field, variety, window = '', week = '' }: Lock) => JSON.stringify([field, variety, window, week])
  return rows.map(withoutNulls).sort(byText(key))
}

/** Every exclusion by names, sorted. */
export async function readExclusions(db: Kysely<Tables>, seasonId: number): Promise<Exclusion[]> {
  const rows = await db
    .selectFrom('exclusion')
    .leftJoin('field_season', 'field_season.id', 'exclusion.fieldSeasonId')
    .leftJoin('field', 'field.id', 'field_season.fieldId')
    .leftJoin('variety', 'variety.id', 'exclusion.varietyId')
    .leftJoin('planting_window', 'planting_window.id', 'exclusion.windowId')
    .where('exclusion.seasonId', '=', seasonId)
    .select(['field.name as field', 'variety.name as variety', 'planting_window.name as window'])
    .execute()
  const key = ({ field = '', variety = '', window = '' }: Exclusion) => JSON.stringify([field, variety, window])
  return rows.map(withoutNulls).sort(byText(key))
}

/** Holds a field to one variety, and to a planting week where one is given, in place of whatever held it before; null lets it go. */
export async function setLock(
  db: Kysely<Tables>,
  seasonId: number,
  fieldId: number,
  variety: string | null,
  week: string | null = null,
): Promise<void> {
  const fieldSeasonId = await fieldSeasonOf(db, seasonId, fieldId)
  await db.deleteFrom('field_lock').where('fieldSeasonId', '=', fieldSeasonId).execute()
  if (variety === null) return
  const { varietyId } = await rowsMeant(db, seasonId, fieldId, variety)
  await db.insertInto('field_lock').values({ fieldSeasonId, varietyId, week }).execute()
}

/** Keeps a variety off a field in every window, or lets it back where it was kept off so. */
export async function setExclusion(
  db: Kysely<Tables>,
  seasonId: number,
  fieldId: number,
  variety: string,
  isOut: boolean,
): Promise<void> {
  const { fieldSeasonId, varietyId } = await rowsMeant(db, seasonId, fieldId, variety)
  await db
    .deleteFrom('exclusion')
    .where('fieldSeasonId', '=', fieldSeasonId)
    .where('varietyId', '=', varietyId)
    .where('windowId', 'is', null)
    .execute()
  if (isOut) await db.insertInto('exclusion').values({ seasonId, fieldSeasonId, varietyId }).execute()
}

async function rowsMeant(db: Kysely<Tables>, seasonId: number, fieldId: number, variety: string) {
  const fieldSeasonId = await fieldSeasonOf(db, seasonId, fieldId)
  const own = await db
    .selectFrom('variety')
    .where('seasonId', '=', seasonId)
    .where('name', '=', variety)
    .select('id')
    .executeTakeFirst()
  if (!own) throw new ProblemError([unknown('variety', { table: 'variety', name: variety })])
  return { fieldSeasonId, varietyId: own.id }
}

async function fieldSeasonOf(db: Kysely<Tables>, seasonId: number, fieldId: number): Promise<number> {
  const id = await findFieldSeason(db, seasonId, fieldId)
  if (id === undefined) throw new ProblemError([unknown('field', { table: 'field', id: fieldId })])
  return id
}

function unknown(kind: string, where: { table: string; id?: number; name?: string }) {
  return {
    code: 'unknown-name' as const,
    what:
      where.name === undefined ? `That ${kind} is not there any more.` : `There is no ${kind} named “${where.name}”.`,
    where,
    remedy: 'Look at the list again and choose one that is on it.',
  }
}
