/** All SQL about costs that were written down. */
import type { Kysely } from 'kysely'
import type { Cost, CostRow } from '../../src-shared/cost.ts'
import { withoutNulls } from './db/row.ts'
import type { Tables } from './db/tables.ts'

/** By kind as the list of kinds has them, then as they were entered. */
export async function listCosts(db: Kysely<Tables>, seasonId: number): Promise<CostRow[]> {
  const rows = await db
    .selectFrom('cost_entry')
    .leftJoin('field_season', 'field_season.id', 'cost_entry.fieldSeasonId')
    .leftJoin('field', 'field.id', 'field_season.fieldId')
    .leftJoin('dealer', 'dealer.id', 'cost_entry.dealerId')
    .where('cost_entry.seasonId', '=', seasonId)
    .selectAll('cost_entry')
    .select(['field_season.fieldId', 'field.name as field', 'dealer.name as dealer'])
    .orderBy('cost_entry.kind')
    .orderBy('cost_entry.id')
    .execute()
  return rows.map(
    ({ id, fieldId, perAcre, seasonId: _, fieldSeasonId: _field, dealerId: _dealer, ...plain }): CostRow => {
      const cost: Cost = { ...withoutNulls(plain), perAcre: perAcre === 1 }
      return { id, fieldId, ...cost }
    },
  )
}
