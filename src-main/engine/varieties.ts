/** All SQL about varieties of one season and their ratings. */
import type { Kysely } from 'kysely'
import { ProblemError } from '../../src-shared/problem.ts'
import type { VarietyColumn, VarietyRow } from '../../src-shared/variety.ts'
import { byText, groupBy, withoutNulls } from './db/row.ts'
import type { Tables } from './db/tables.ts'

/** Every variety with its ratings, sorted by name. */
export async function listVarieties(db: Kysely<Tables>, seasonId: number): Promise<VarietyRow[]> {
  const rows = await db.selectFrom('variety').where('seasonId', '=', seasonId).selectAll().execute()
  const ratings = await db
    .selectFrom('rating')
    .innerJoin('threat', 'threat.id', 'rating.threatId')
    .where('threat.seasonId', '=', seasonId)
    .select(['rating.varietyId', 'threat.name', 'rating.rating'])
    .execute()
  const ratingsOf = groupBy(ratings, (row) => row.varietyId)
  return rows
    .map(({ seasonId: _, isTreated, ...plain }): VarietyRow => {
      const own = (ratingsOf.get(plain.id) ?? []).sort(byText((entry) => entry.name))
      return {
        ...withoutNulls(plain),
        isTreated: isTreated === 1,
        ratings: Object.fromEntries(own.map((entry) => [entry.name, entry.rating])),
      }
    })
    .sort(byText((variety) => variety.name))
}

/** Writes one cell. The value is one that the column takes; null empties it. */
export async function setVariety(
  db: Kysely<Tables>,
  seasonId: number,
  id: number,
  column: VarietyColumn,
  value: string | number | null,
): Promise<void> {
  const varieties = await db.selectFrom('variety').where('seasonId', '=', seasonId).select(['id', 'name']).execute()
  if (!varieties.some((row) => row.id === id)) {
    throw new ProblemError([
      {
        code: 'unknown-name',
        what: 'That variety is not there any more.',
        where: { table: 'variety', id },
        remedy: 'Look at the list again; someone may have removed it.',
      },
    ])
  }
  const name = String(value).toLowerCase()
  const other =
    column === 'name' ? varieties.find((row) => row.id !== id && row.name.toLowerCase() === name) : undefined
  if (other) {
    throw new ProblemError([
      {
        code: 'repeated-name',
        what: `There is a variety named “${other.name}” already.`,
        where: { table: 'variety', id, column, name: other.name },
        remedy: 'Give this one a name of its own.',
      },
    ])
  }
  await db
    .updateTable('variety')
    .set({ [column]: value })
    .where('id', '=', id)
    .execute()
}
