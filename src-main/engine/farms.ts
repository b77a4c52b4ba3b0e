/** The farm's own row and the season that is open: what the window's head shows. */
import type { Kysely } from 'kysely'
import { basename } from 'node:path'
import type { Farm, FarmSummary } from '../../src-shared/farm.ts'
import { withoutNulls } from './db/row.ts'
import type { Tables } from './db/tables.ts'
import type { OpenFarm } from './farm-file.ts'

export async function farmSummary(farm: OpenFarm): Promise<FarmSummary> {
  const row = await farm.db
    .selectFrom('farm')
    .innerJoin('season', 'season.farmId', 'farm.id')
    .where('season.id', '=', farm.seasonId)
    .select(['farm.name', 'farm.county', 'farm.isDemo', 'season.year'])
    .executeTakeFirstOrThrow()
  const fields = await farm.db
    .selectFrom('field_season')
    .where('seasonId', '=', farm.seasonId)
    .select(({ fn }) => [fn.countAll<number>().as('count'), fn.sum<number | null>('acres').as('acres')])
    .executeTakeFirstOrThrow()
  const seasons = await farm.db.selectFrom('season').select(['id', 'year', 'state']).orderBy('year', 'desc').execute()
  return {
    name: row.name,
    county: row.county,
    fileName: basename(farm.path),
    season: row.year,
    isReadOnly: farm.isReadOnly,
    copyOf: farm.copyOf,
    refusal: farm.refusal?.what ?? null,
    seasons: seasons.map(({ id, year, state }) => ({
      id,
      year,
      isOpen: state === 'open',
      isAtHand: id === farm.seasonId,
    })),
    isDemo: row.isDemo === 1,
    fields: fields.count,
    acres: fields.acres ?? 0,
  }
}

/** The farm and crop year as a season file has them. */
export async function readFarm(db: Kysely<Tables>, seasonId: number): Promise<{ farm: Farm; season: number }> {
  const { year, ...farm } = await db
    .selectFrom('farm')
    .innerJoin('season', 'season.farmId', 'farm.id')
    .where('season.id', '=', seasonId)
    .select(['farm.name', 'farm.county', 'farm.state', 'season.year'])
    .executeTakeFirstOrThrow()
  return { farm: withoutNulls(farm), season: year }
}
