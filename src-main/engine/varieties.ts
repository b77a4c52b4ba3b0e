/** All SQL about varieties of one season and their ratings. */
import type { Kysely } from 'kysely'
import { byPosition } from '../../src-shared/name-order.ts'
import type { VarietyRow } from '../../src-shared/variety.ts'
import { byText, withoutNulls } from './db/row.ts'
import type { Tables } from './db/tables.ts'

/** Every variety with its ratings, by name. */
export async function listVarieties(db: Kysely<Tables>, seasonId: number): Promise<VarietyRow[]> {
  const rows = await db.selectFrom('variety').where('seasonId', '=', seasonId).selectAll().execute()
  const ratings = await db
    .selectFrom('rating')
    .innerJoin('threat', 'threat.id', 'rating.threatId')
    .where('threat.seasonId', '=', seasonId)
    .select(['rating.varietyId', 'threat.name', 'rating.rating'])
    .execute()
  const ratingsOf = Map.groupBy(ratings, (row) => row.varietyId)
  return rows
    .map(({ seasonId: _, isTreated, ...plain }): VarietyRow => {
      const own = (ratingsOf.get(plain.id) ?? []).sort(byText((entry) => entry.name))
      return {
        ...withoutNulls(plain),
        isTreated: isTreated === 1,
        ratings: Object.fromEntries(own.map((entry) => [entry.name, entry.rating])),
      }
    })
    .sort(byPosition((variety) => variety.name))
}
