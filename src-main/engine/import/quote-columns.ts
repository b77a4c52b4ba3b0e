/** The columns of a dealers and of a quotes table. */
import { dealerSchema, quoteSchema, type Dealer, type Quote } from '../../../src-shared/quote.ts'
import {
  readDollars,
  readList,
  readNumber,
  readPercent,
  readWords,
  type Reading,
} from '../../../src-shared/read-text.ts'
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

/** "from 400 packs $47.25": every pack costs this from so many on. */
function readQuoteBreak(text: string): Reading<{ fromPacks: number; packPriceCents: number }> {
  const match = /^from ([\d,]+) packs? \$?([\d.,]+)$/i.exec(text)
  const from = match && readNumber(match[1] as string)
  const price = match && readDollars(match[2] as string)
  if (!from?.ok || !price?.ok) return { ok: false, what: `"${text}" is no price break, as "from 400 packs $47.25"` }
  return { ok: true, value: { fromPacks: from.value, packPriceCents: price.value } }
}

/** "from 60000 lb 1.5 c/lb off": every pound costs so much less. */
function readDealerBreak(text: string): Reading<{ fromPounds: number; offCentsPerPound: number }> {
  const match = /^from ([\d,]+) lb ([\d.]+) c\/lb off$/i.exec(text)
  const from = match && readNumber(match[1] as string)
  const off = match && readNumber(match[2] as string)
  if (!from?.ok || !off?.ok) return { ok: false, what: `"${text}" is no price break, as "from 60000 lb 1.5 c/lb off"` }
  return { ok: true, value: { fromPounds: from.value, offCentsPerPound: off.value } }
}
