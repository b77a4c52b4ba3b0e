/** All SQL about loads: as they were written down, what grew in the field, what each weighs net and is worth. */
import type { Kysely } from 'kysely'
import { loadTerms, loadWorth, type LoadTerms } from '../../src-shared/agronomy/load-worth.ts'
import { Book, type Assumption } from '../../src-shared/assumption.ts'
import { starterBook } from '../../src-shared/book/starter.ts'
import { confirmedLoads, type Load, type LoadRow } from '../../src-shared/load.ts'
import { unusualLoad } from '../../src-shared/unusual.ts'
import { withoutNulls } from './db/row.ts'
import type { Tables } from './db/tables.ts'

/** By day, then ticket, as they were hauled. */
export async function listLoads(db: Kysely<Tables>, seasonId: number): Promise<LoadRow[]> {
  const terms = await readLoadTerms(db, seasonId)
  const planted = await plantedVarieties(db, seasonId)
  const confirmed = await readConfirmed(db)
  const rows = await db
    .selectFrom('load')
    .innerJoin('field_season', 'field_season.id', 'load.fieldSeasonId')
    .innerJoin('field', 'field.id', 'field_season.fieldId')
    .leftJoin('variety', 'variety.id', 'load.varietyId')
    .where('load.seasonId', '=', seasonId)
    .selectAll('load')
    .select(['field.name as field', 'field_season.fieldId', 'variety.name as variety'])
    .orderBy('load.hauledOn')
    .orderBy('load.ticket')
    .orderBy('load.id')
    .execute()
  return rows.map(({ id, seasonId: _season, fieldSeasonId, varietyId: _variety, fieldId, ...plain }): LoadRow => {
    const load: Load = withoutNulls(plain)
    const varieties = planted.get(fieldSeasonId) ?? []
    const grown = load.variety ?? (varieties.length === 1 ? (varieties[0] ?? null) : null)
    const { net, cents, from, lacks } = loadWorth(load, terms)
    const { cropYear } = terms
    const unusual = unusualLoad({ ...load, netPounds: net.netPounds }, cropYear)
    const unplanted =
      planted.size > 0 && varieties.length === 0 ? `Nothing is written down as planted in ${load.field}.` : null
    const heed = [heedOf(load, varieties), unplanted, ...unusual].filter((says) => says !== null).join(' ')
    return {
      id,
      fieldId,
      ...load,
      grown,
      net,
      valueCents: cents,
      valueFrom: from,
      ...(lacks === null ? {} : { lacks }),
      ...(heed === '' ? {} : { heed }),
      ...(heed !== '' && confirmed[id] === heed ? { isConfirmed: true as const } : {}),
    }
  })
}

async function readConfirmed(db: Kysely<Tables>): Promise<Record<string, string>> {
  const row = await db.selectFrom('setting').where('key', '=', confirmedLoads).select('value').executeTakeFirst()
  return row ? (JSON.parse(row.value) as Record<string, string>) : {}
}

function heedOf({ field, variety }: Load, planted: readonly string[]): string | null {
  if (variety === undefined) {
    return planted.length > 1 ? `${field} was planted to ${planted.join(' and ')}: say which the load was.` : null
  }
  if (planted.length === 0 || planted.includes(variety)) return null
  return `${variety} was not planted in ${field}; ${planted.join(' and ')} was.`
}

/** Varieties by field of the season, of every entry with a lot. */
async function plantedVarieties(db: Kysely<Tables>, seasonId: number): Promise<Map<number, string[]>> {
  const rows = await db
    .selectFrom('planting_lot')
    .innerJoin('planting', 'planting.id', 'planting_lot.plantingId')
    .innerJoin('field_season', 'field_season.id', 'planting.fieldSeasonId')
    .innerJoin('lot', 'lot.id', 'planting_lot.lotId')
    .innerJoin('variety', 'variety.id', 'lot.varietyId')
    .where('field_season.seasonId', '=', seasonId)
    .select(['planting.fieldSeasonId', 'variety.name'])
    .distinct()
    .orderBy('variety.name')
    .execute()
  const byField = Map.groupBy(rows, (row) => row.fieldSeasonId)
  return new Map([...byField].map(([field, own]) => [field, own.map(({ name }) => name)]))
}

/** The terms that loads of the season are reckoned by, from the house book. */
export async function readLoadTerms(db: Kysely<Tables>, seasonId: number): Promise<LoadTerms> {
  const { year } = await db.selectFrom('season').where('id', '=', seasonId).select('year').executeTakeFirstOrThrow()
  const own = await db
    .selectFrom('assumption')
    .where('seasonId', '=', seasonId)
    .where('key', 'like', 'load/%')
    .select(['key', 'numberValue', 'wordValue', 'sourceKind'])
    .execute()
  const rows = own.map(({ key, numberValue, wordValue, sourceKind }): Assumption => ({
    key,
    value: numberValue ?? wordValue ?? '',
    unit: '',
    source: '',
    sourceKind,
  }))
  return loadTerms(new Book(starterBook, rows), year)
}
