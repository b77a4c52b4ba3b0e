/** The row of a field in a season: what all that is said of a field this year hangs on. */
import type { Kysely } from 'kysely'
import type { Tables } from './tables.ts'

/** Undefined where the field is not in the season. */
export async function findFieldSeason(
  db: Kysely<Tables>,
  seasonId: number,
  fieldId: number,
): Promise<number | undefined> {
  const row = await db
    .selectFrom('field_season')
    .where('seasonId', '=', seasonId)
    .where('fieldId', '=', fieldId)
    .select('id')
    .executeTakeFirst()
  return row?.id
}
