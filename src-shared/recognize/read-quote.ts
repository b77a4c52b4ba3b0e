/** The cells of a price list that are no plain values: prices, packs, amounts, breaks; and the quotes that a row of them makes. Pure. */
import type { CellValue } from '../sheet/sheet.ts'
import type { Context, KnownColumn, ReadRow } from './context.ts'
import { provenOrder } from './days.ts'
import { textOf, type Cell } from './grid.ts'
import { unitOfHeading } from './head-book.ts'
import { dealerHeading, packIn, readFrom, readPack, readPacks, readTiers, type PackRead } from './price-text.ts'
import { poundsOf, quoteRows, type PriceSense, type QuoteParts } from './quote-rows.ts'
import { readCell, type Sense } from './read-cell.ts'
import { treatmentText, type ReturnTerms } from './settle-quotes.ts'
import { plainName } from './tokens.ts'
import { showDate } from '../show.ts'

/** What a price list settles as a whole. */
export interface ListSense {
  price: PriceSense
  /** Whose list it is, where no row says. */
  dealer: string | undefined
  treatments: ReadonlySet<string>
  /** What is said of discounts above or below it. */
  discounts: readonly string[]
  /** Returns, as a line below it says. */
  terms: ReturnTerms
  senses: ReadonlyMap<number, Sense>
}

/** A price below a dealer’s name. */
export interface DealerPrice {
  /** Undefined: the list's own. */
  dealer: string | undefined
  /** As its heading says. */
  pack: PackRead | null
  at: number
  heading: string
  /** As its heading says. */
  treatment?: string
  tiers: NonNullable<ReturnType<typeof readTiers>>
}

/** @returns whether the cell was one of a quote’s own kinds */
export function takeQuoteCell(
  { decimals, given, columns }: Context,
  { price, treatments }: ListSense,
  { at, column, heading }: KnownColumn,
  cell: Cell,
  parts: QuoteParts,
  dealerPrices: DealerPrice[],
  out: ReadRow,
): boolean {
  const text = textOf(cell)
  const isBad = (what: string) => out.problems.push({ at, what })
  if (column.reads === 'price') {
    if (/^(call|tbd|n\/?a|none|ask|sold out|-+|market)/i.test(text)) return true
    const tiers = readTiers(text, decimals)
    if (!tiers) isBad(`“${text}” is not a price`)
    else if (column.id === 'treatmentPrice')
      dealerPrices.push({ dealer: undefined, pack: null, at, heading, tiers, treatment: treatmentOf(heading) })
    else if (column.id === 'packPrice')
      dealerPrices.push({ dealer: undefined, pack: dealerHeading(heading).pack, at, heading, tiers })
    else if (column.id === 'dealerPrice') {
      const { dealer, pack } = dealerHeading(heading)
      const known = given.names.dealers.find((name) => plainName(name).startsWith(plainName(dealer)))
      dealerPrices.push({ dealer: known ?? dealer, pack, at, heading, tiers })
    } else
      parts.prices.push({
        heading,
        tiers,
        as:
          column.id === 'earlyPrice'
            ? 'early'
            : column.id === 'tier' && (readFrom(heading)?.count ?? 2) > 1
              ? 'tier'
              : 'price',
      })
    out.places['packPriceCents'] ??= at
    return true
  }
  if (column.reads === 'pack') {
    const pack = typeof cell === 'number' ? { pounds: cell, kind: null } : readPack(text)
    if (!pack) isBad(`“${text}” is no pack, as 50 lb bag`)
    else {
      parts.pack = pack
      if (pack.pounds === null && pack.kind !== null) {
        const pounds = poundsOf(pack, { packPounds: price.packPounds }, parts.prices)
        out.says.push({ at, what: `${text} → ${pounds} lb` })
      }
    }
    out.places['packPounds'] ??= at
    return true
  }
  if (column.reads === 'packs') {
    const packs = typeof cell === 'number' ? { count: cell, in: null } : readPacks(text, decimals)
    const headed = unitOfHeading(heading)?.unit.dimension === 'mass' ? ('lb' as const) : null
    const factor = unitOfHeading(heading)?.unit.dimension === 'mass' ? (unitOfHeading(heading)?.unit.factor ?? 1) : 1
    if (packs === null) isBad(`“${text}” is no number of packs`)
    else if (packs !== 'any') {
      const amount = packs.in === null && headed !== null ? { count: packs.count * factor, in: headed } : packs
      const kind = packIn(heading)?.kind ?? null
      // “Bags on hand” says nothing of the totes beside them.
      const isOneOf =
        columns.filter((other) => other.column.id === 'availablePacks').length > 1 ||
        columns.some((other) => other.column.id === 'packPrice')
      if (column.id === 'availablePacks' && kind !== null && isOneOf)
        parts.availableOf = { ...parts.availableOf, [kind]: amount }
      else if (column.id === 'availablePacks') parts.available = amount
      else if (column.id === 'leastPacks') parts.least = amount
      else parts.tierFrom = amount
    }
    return true
  }
  if (column.reads === 'breaks') {
    const tiers = readTiers(text, decimals)
    // The price alone, beside a column that says from how many.
    if (tiers?.every(({ from }) => from === null) && columns.some((other) => other.column.id === 'tierFrom')) {
      parts.prices.push({ heading, tiers, as: 'tier' })
      return true
    }
    if (/\boff\b|%|disc|less/i.test(text) || !tiers || tiers.some(({ from }) => from === null)) {
      if (!/^(none|no|-)$/i.test(text)) isBad(`“${text}” is no price break, as “$47.25 over 400 bags”`)
    } else parts.breaks = tiers
    return true
  }
  if (column.id === 'treatment') {
    const treatment = treatmentText(text)
    if (treatments.size > 1) parts.treatment = treatment
    return true
  }
  if (column.id === 'cashDiscount') {
    parts.cashDiscount =
      (typeof cell === 'number' && cell < 1 && cell > 0 ? `${Number((cell * 100).toFixed(2))} %` : text) +
      (/early|prepay|book/i.test(heading) ? ' for paying early' : '')
    return true
  }
  return false
}

const treatmentOf = (heading: string) => (/\bun(?:treated|trt)|\braw\b/i.test(heading) ? 'untreated' : 'treated')

export function finishQuote(
  { columns, questions }: Context,
  { price, dealer: dealerNamed, discounts, terms, senses }: ListSense,
  out: ReadRow,
  parts: QuoteParts,
  dealerPrices: DealerPrice[],
  section: string | undefined,
) {
  const record = out.records[0] as Record<string, CellValue>
  const text = (path: string) => (typeof record[path] === 'string' ? record[path] : undefined)
  const quote: QuoteParts = {
    ...parts,
    dealer:
      text('dealer') ??
      (columns.some(({ column }) => column.id === 'dealer')
        ? undefined
        : (dealerNamed ?? section?.replace(/[:\s]+$/, ''))),
    variety: text('variety'),
    name: text('name'),
    earlyBy: parts.prices.some(({ as }) => as === 'early')
      ? (text('earlyBy') ?? dayInHeading(columns, senses))
      : columns.some(({ column }) => column.id === 'earlyPrice')
        ? undefined
        : text('earlyBy'),
    orderBy:
      text('orderBy') ??
      (columns.some(({ column }) => column.id === 'orderBy' || column.id === 'earlyPrice') ? undefined : terms.orderBy),
    returnBy: text('returnBy') ?? terms.returnBy,
    returnCredit: typeof record['returnCredit'] === 'number' ? record['returnCredit'] : terms.returnCredit,
    note:
      [text('note'), ...discounts]
        .filter((part) => part !== undefined)
        .map((part) => part.replace(/\.$/, ''))
        .join('. ') || undefined,
  }
  // The price of a single pack waits for an answer: that of many does not take its place.
  const isWaiting = columns.some(({ column, isAsked, isChosen }) => column.id === 'price' && isAsked && !isChosen)
  if (isWaiting && !parts.prices.some(({ as }) => as === 'price'))
    quote.prices = parts.prices.filter(({ as }) => as === 'early')
  if (dealerPrices.length > 0) {
    // A price beside one of treated seed is that of seed without.
    const isOther = dealerPrices.some(({ treatment }) => treatment === 'treated')
    const [first] = parts.prices
    // Another price beside those of packs or dealers is told from them by its heading.
    const named = { ...quote, name: quote.name ?? first?.heading }
    const plain = !isOther ? named : quote.treatment === undefined ? { ...quote, treatment: 'untreated' } : quote
    const own = parts.prices.length > 0 ? byDays(plain, senses).flatMap((every) => quoteRows(every, price)) : []
    const each = dealerPrices.flatMap(({ dealer, pack, heading, treatment, tiers }) =>
      quoteRows(
        {
          ...quote,
          dealer: dealer ?? quote.dealer,
          ...(pack ? { pack } : {}),
          ...(treatment === undefined ? {} : { treatment }),
          prices: [{ heading, tiers, as: 'price' }],
        },
        price,
      ),
    )
    out.records = [...own, ...each].map(({ values }) => values as Record<string, CellValue>)
    return
  }
  const made = byDays(quote, senses).flatMap((each) => quoteRows(each, price))
  out.records = made.map(({ values }) => values as Record<string, CellValue>)
  const at = (id: string) => columns.find(({ column }) => column.id === id)?.at ?? -1
  for (const { problems, says } of made) {
    for (const { id, what } of problems)
      if (id !== 'pack' || !questions.has('pack pounds')) out.problems.push({ at: at(id), what })
    for (const { id, what } of says) out.says.push({ at: at(id), what })
  }
}

/** “Booked by 12/31” beside “Booked by 1/31”: each price has a last day of its own, and so a quote. */
function byDays(quote: QuoteParts, senses: ReadonlyMap<number, Sense>): QuoteParts[] {
  const early = quote.prices.filter(({ as }) => as === 'early')
  if (early.length < 2) return [quote]
  const later = quote.prices.filter(({ as }) => as !== 'early')
  return [
    ...(later.length > 0 ? [{ ...quote, prices: later, earlyBy: undefined }] : []),
    ...early.map((each) => {
      const earlyBy = dayOfHeading(each.heading, senses)
      const name = [quote.name, earlyBy === undefined ? each.heading : `early order by ${showDate(earlyBy)}`]
      return { ...quote, prices: [each], earlyBy, name: name.filter((part) => part !== undefined).join(', ') }
    }),
  ]
}

/** “Early (by 12/15)”: the last day stands in the heading. */
function dayInHeading(columns: readonly KnownColumn[], senses: ReadonlyMap<number, Sense>): string | undefined {
  return dayOfHeading(columns.find(({ column }) => column.id === 'earlyPrice')?.heading ?? '', senses)
}

function dayOfHeading(heading: string, senses: ReadonlyMap<number, Sense>): string | undefined {
  const inside =
    /(?:by|until|til|thru|through|before)\s+([A-Za-z0-9/.\- ,]+?)\s*[)\]]?$/i.exec(heading)?.[1] ??
    /[([]([^)\]]*\d[^)\]]*)[)\]]/.exec(heading)?.[1]
  if (inside === undefined) return undefined
  const sense: Sense = {
    ...(senses.values().next().value as Sense),
    column: { id: 'earlyBy', label: '', reads: 'day', heads: '', tokens: [] },
    isFall: false,
    order: provenOrder([inside]) ?? 'mdy',
  }
  const read = readCell(inside, sense)
  return read.is === 'value' ? String(read.value) : undefined
}

/** Two offers of one dealer and variety that nothing tells apart but their pack are named by it. */
export function nameTwins(all: readonly ReadRow[]) {
  const key = (record: Record<string, CellValue>) =>
    [record['dealer'], record['variety'], record['name'] ?? '']
      .map((part) => String(part ?? '').toLowerCase())
      .join('\n')
  const groups = Map.groupBy(
    all.flatMap(({ records }) => records),
    key,
  )
  for (const group of groups.values()) {
    if (group.length < 2 || new Set(group.map((record) => record['packPounds'])).size !== group.length) continue
    for (const record of group) {
      const pounds = Number(record['packPounds'])
      if (!Number.isFinite(pounds)) continue
      const pack = `${pounds.toLocaleString('en-US')} lb ${pounds >= 1000 ? 'tote' : 'bag'}`
      record['name'] = [record['name'], pack]
        .filter((part) => part !== undefined && part !== null && part !== '')
        .join(', ')
    }
  }
}
