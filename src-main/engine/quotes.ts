/** All SQL about quotes and their price breaks. */
import type { Kysely } from 'kysely'
import { ProblemError } from '../../src-shared/problem.ts'
import { quoteTitle, type QuoteColumn, type QuoteRow } from '../../src-shared/quote.ts'
import { byText, groupBy, withoutNulls } from './db/row.ts'
import type { Tables } from './db/tables.ts'

/** Every quote with its breaks, sorted by title. */
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
  const breaksOf = groupBy(breaks, (row) => row.quoteId)
  return rows
    .map(({ seasonId: _season, dealerId: _dealer, varietyId: _variety, seedsPerPound, ...plain }): QuoteRow => ({
      ...withoutNulls(plain),
      breaks: (breaksOf.get(plain.id) ?? []).map(({ fromPacks, packPriceCents }) => ({ fromPacks, packPriceCents })),
      centsPerThousandSeeds: (plain.packPriceCents / (plain.packPounds * seedsPerPound)) * 1000,
    }))
    .sort(byText(quoteTitle))
}

/** Writes one cell. The value is one that the column takes; null empties it. */
export async function setQuote(
  db: Kysely<Tables>,
  seasonId: number,
  id: number,
  column: QuoteColumn,
  value: string | number | null,
): Promise<void> {
  const quotes = await db
    .selectFrom('quote')
    .where('seasonId', '=', seasonId)
    .select(['id', 'dealerId', 'varietyId', 'name'])
    .execute()
  const quote = quotes.find((row) => row.id === id)
  if (!quote) {
    throw new ProblemError([
      {
        code: 'unknown-name',
        what: 'That quote is not there any more.',
        where: { table: 'quote', id },
        remedy: 'Look at the list again; someone may have removed it.',
      },
    ])
  }
  const isSame = (row: typeof quote) =>
    row.id !== id && row.dealerId === quote.dealerId && row.varietyId === quote.varietyId && row.name === value
  if (column === 'name' && quotes.some(isSame)) {
    throw new ProblemError([
      {
        code: 'repeated-name',
        what: 'This dealer has another quote for the variety under that name.',
        where: { table: 'quote', id, column },
        remedy: 'Give the two quotes different names, as “early order”.',
      },
    ])
  }
  await db
    .updateTable('quote')
    .set({ [column]: value })
    .where('id', '=', id)
    .execute()
}
