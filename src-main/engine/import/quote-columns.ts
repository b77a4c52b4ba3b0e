/** The columns of a dealers and of a quotes table. */
import { dealerSchema, quoteSchema, type Dealer, type Quote } from '../../../src-shared/quote.ts'
import { readDollars, readList, readNumber, readPercent, readWords } from '../../../src-shared/read-text.ts'
import { readDealerBreak, readQuoteBreak } from '../../../src-shared/sheet/compound.ts'
import { readRows, type Columns, type RowsRead } from './read-rows.ts'
import type { Table } from './read-table.ts'

const dealerTable: Columns = {
  columns: [
    { header: 'dealer', key: 'name', read: readWords },
    { header: 'order fee $', key: 'orderFeeCents', read: readDollars },
    { header: 'least lb', key: 'leastPounds', read: readNumber },
    { header: 'most lb', key: 'mostPounds', read: readNumber },
    { header: 'breaks', key: 'breaks', read: readList(readDealerBreak) },
    { header: 'note', key: 'note', read: readWords },
  ],
}

const quoteTable: Columns = {
  columns: [
    { header: 'dealer', key: 'dealer', read: readWords },
    { header: 'variety', key: 'variety', read: readWords },
    { header: 'quote', key: 'name', read: readWords },
    { header: 'pack lb', key: 'packPounds', read: readNumber },
    { header: 'price $', key: 'packPriceCents', read: readDollars },
    { header: 'available packs', key: 'availablePacks', read: readNumber },
    { header: 'least packs', key: 'leastPacks', read: readNumber },
    { header: 'breaks', key: 'breaks', read: readList(readQuoteBreak) },
    { header: 'order by', key: 'orderBy', read: readWords },
    { header: 'return by', key: 'returnBy', read: readWords },
    { header: 'return credit %', key: 'returnCredit', read: readPercent },
    { header: 'note', key: 'note', read: readWords },
  ],
}

export function readDealers(table: Table): RowsRead<Dealer> {
  return readRows(table, dealerSchema, dealerTable)
}

export function readQuotes(table: Table): RowsRead<Quote> {
  return readRows(table, quoteSchema, quoteTable)
}
