/** All SQL about quotes and their price breaks. */
import type { Kysely } from 'kysely'
import { byPosition } from '../../src-shared/name-order.ts'
import { quoteTitle, type QuoteRow } from '../../src-shared/quote.ts'
import { withoutNulls } from './db/row.ts'
import type { Tables } from './db/tables.ts'

/** Every quote with its breaks, by title. */
export async function listQuotes(db: Kysely<Tables>, seasonId: number): Promise<QuoteRow[]> {
  const rows = await db
    .selectFrom('quote')
    .innerJoin('dealer', 'dealer.id', 'quote.dealerId')
    .innerJoin('variety', 'variety.id', 'quote.varietyId')
    .where('quote.seasonId', '=', seasonId)
    .selectAll('quote')
    .select(['dealer.name as dealer', 'variety.name as variety', 'variety.seedsPerPound'])
    .execute()
  const breaks = await db
    .selectFrom('quote_break')
    .innerJoin('quote', 'quote.id', 'quote_break.quoteId')
    .where('quote.seasonId', '=', seasonId)
    .select(['quote_break.quoteId', 'quote_break.fromPacks', 'quote_break.packPriceCents'])
    .orderBy('quote_break.fromPacks')
    .orderBy('quote_break.id')
    .execute()
  const breaksOf = Map.groupBy(breaks, (row) => row.quoteId)
  return rows
    .map(({ seasonId: _season, dealerId: _dealer, varietyId: _variety, seedsPerPound, ...plain }): QuoteRow => ({
      ...withoutNulls(plain),
      breaks: (breaksOf.get(plain.id) ?? []).map(({ fromPacks, packPriceCents }) => ({ fromPacks, packPriceCents })),
      centsPerThousandSeeds: (plain.packPriceCents / (plain.packPounds * seedsPerPound)) * 1000,
    }))
    .sort(byPosition(quoteTitle))
}
