/** All SQL about trouble seen. */
import type { Kysely } from 'kysely'
import { byName } from '../../src-shared/name-order.ts'
import type { Seen, SeenRow } from '../../src-shared/seen.ts'
import { withoutNulls } from './db/row.ts'
import type { Tables } from './db/tables.ts'

/** By field, then threat, then day. */
export async function listSeen(db: Kysely<Tables>, seasonId: number): Promise<SeenRow[]> {
  const rows = await db
    .selectFrom('threat_seen')
    .innerJoin('field_season', 'field_season.id', 'threat_seen.fieldSeasonId')
    .innerJoin('field', 'field.id', 'field_season.fieldId')
    .innerJoin('threat', 'threat.id', 'threat_seen.threatId')
    .where('threat_seen.seasonId', '=', seasonId)
    .selectAll('threat_seen')
    .select(['field_season.fieldId', 'field.name as field', 'threat.name as threat'])
    .orderBy('threat_seen.seenOn')
    .orderBy('threat_seen.id')
    .execute()
  const sorted = rows.sort(
    byName(
      ({ field }) => field,
      ({ threat }) => threat,
    ),
  )
  return sorted.map(({ id, fieldId, seasonId: _, fieldSeasonId: _field, threatId: _threat, ...plain }): SeenRow => {
    const seen: Seen = withoutNulls(plain)
    return { id, fieldId, ...seen }
  })
}
