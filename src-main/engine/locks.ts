/** All SQL about what is held fixed: a variety on a field, or never there. */
import type { Kysely } from 'kysely'
import type { Input } from '../../src-shared/api.ts'
import { ProblemError } from '../../src-shared/problem.ts'
import { isReplaced, type Lock } from '../../src-shared/lock.ts'
import type { Exclusion } from '../../src-shared/season.ts'
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
    .select(['field.name as field', 'variety.name as variety', 'planting_window.name as window'])
    .select(['field_lock.week', 'field_lock.acres'])
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

/** Holds a field to one variety, in place of whatever held it before; null lets it go. */
export async function setLock(
  db: Kysely<Tables>,
  seasonId: number,
  fieldId: number,
  variety: string | null,
): Promise<void> {
  const fieldSeasonId = await fieldSeasonOf(db, seasonId, fieldId)
  await db.deleteFrom('field_lock').where('fieldSeasonId', '=', fieldSeasonId).execute()
  if (variety === null) return
  const { varietyId } = await rowsMeant(db, seasonId, fieldId, variety)
  await db.insertInto('field_lock').values({ fieldSeasonId, varietyId }).execute()
}

/** Holds acres of a field in a planting week, in place of the week that they were kept in, and of another variety on the whole field. */
export async function keepWeek(
  db: Kysely<Tables>,
  seasonId: number,
  { fieldId, variety, from, week, acres }: Input<'calendar.keep'>,
): Promise<void> {
  const { fieldSeasonId, varietyId } = await rowsMeant(db, seasonId, fieldId, variety)
  const before = await db
    .selectFrom('field_lock')
    .innerJoin('variety', 'variety.id', 'field_lock.varietyId')
    .where('fieldSeasonId', '=', fieldSeasonId)
    .select(['field_lock.id', 'variety.name as variety', 'week', 'acres'])
    .execute()
  const kept = { field: '', variety, weeks: [from, week], acres }
  const replaced = before.filter((lock) => isReplaced({ field: '', ...withoutNulls(lock) }, kept)).map(({ id }) => id)
  await db.deleteFrom('field_lock').where('id', 'in', replaced).execute()
  await db.insertInto('field_lock').values({ fieldSeasonId, varietyId, week, acres }).execute()
}

export async function letWeekGo(
  db: Kysely<Tables>,
  seasonId: number,
  { fieldId, variety, week }: Input<'calendar.letGo'>,
): Promise<void> {
  const { fieldSeasonId, varietyId } = await rowsMeant(db, seasonId, fieldId, variety)
  await db
    .deleteFrom('field_lock')
    .where('fieldSeasonId', '=', fieldSeasonId)
    .where('varietyId', '=', varietyId)
    .where('week', '=', week)
    .execute()
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
