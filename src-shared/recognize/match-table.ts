/** Which noun a table is of and which of its columns is which, by headings first and by what stands in the cells. Pure. Long because both are weighed together. */
import { columnsOf } from '../sheet/columns.ts'
import type { SheetName } from '../sheet/sheet.ts'
import { emptyWords } from './choices.ts'
import type { Decimals } from './figure.ts'
import { cropOf, seasonOfHeading } from './crops.ts'
import { variantsOf, type FoundTable } from './find-tables.ts'
import { isBlank, textOf, type Cell } from './grid.ts'
import { headingOf, isNamed, matchesOf, type HeadBook, type HeadColumn } from './head-book.ts'
import type { Noun } from './nouns.ts'
import { dayIn, dealerHeading, isBusiness, readPack, readFrom, readTiers } from './price-text.ts'
import { readCell, type NameBook, type Sense } from './read-cell.ts'
import { senseOfWord, yesOrNo } from './read-word.ts'
import { indexSense, sharesSense, unitSense } from './cell-sense.ts'
import { plainName } from './tokens.ts'

export interface ColumnGuess {
  /** Place in the table. */
  at: number
  heading: string
  id: string | null
  /** [share] 1 sure. */
  score: number
  /** Chosen by the person, or answered before under the same heading. */
  isChosen: boolean
  /** Another column that it may be as well, or too little speaks for it: it is asked about. */
  isAsked: boolean
}

export interface TableMatch {
  noun: Noun | null
  /** Every noun that it could be, the likeliest first. */
  nouns: { noun: Noun; score: number }[]
  /** Two fit about as well. */
  isAsked: boolean
  columns: ColumnGuess[]
}

export interface MatchGiven {
  season: number
  threats: readonly string[]
  /** Title, sheet and file in words. */
  names: string
  /** Of the page that the file was dropped on. */
  sheet?: SheetName | undefined
  noun?: Noun | undefined
  /** Place → id, or null to leave it out. */
  match?: Readonly<Record<number, string | null>> | undefined
  /** Heading in small letters → id, as it was chosen before; null: left out. */
  before?: ((noun: Noun, heading: string) => string | null | undefined) | undefined
  dealers: readonly string[]
  decimals: Decimals
}

const noNames: NameBook = new Map()

/** [row] looked at to see what a column holds. */
const looked = 60

function sampleOf(found: FoundTable, at: number): Cell[] {
  const out: Cell[] = []
  for (const { cells } of found.rows) {
    const cell = cells[at] ?? ''
    if (isBlank(cell) || emptyWords.has(textOf(cell).toLowerCase())) continue
    out.push(cell)
    if (out.length >= looked) break
  }
  return out
}

const isCount = (cell: Cell) => Number(textOf(cell)) > 10

/** [share] of the cells that can be read so. */
function fitOf(
  column: HeadColumn,
  heading: string,
  cells: readonly Cell[],
  sheet: SheetName,
  { season, threats, decimals }: MatchGiven,
): number {
  if (cells.length === 0) return 0.75
  if (column.reads === 'price')
    return share(
      cells,
      (cell) =>
        typeof cell === 'number' ||
        readTiers(textOf(cell), decimals) !== null ||
        /^(call|n\/?a|-|tbd|sold out)/i.test(textOf(cell)),
    )
  // A weight of a pack is whole; a price is not.
  if (column.reads === 'pack')
    return share(cells, (cell) => readPack(textOf(cell)) !== null && !/^\$|\d\.\d/.test(textOf(cell)))
  if (column.reads === 'packs')
    return share(
      cells,
      (cell) => /\d|unlim|plenty|none|sold|any|open|need|call|limited/i.test(textOf(cell)) && !/%/.test(textOf(cell)),
    )
  if (column.reads === 'breaks')
    return share(cells, (cell) => /\d/.test(textOf(cell)) && !/^[\d.]+\s*%$/.test(textOf(cell)))
  if (column.id === 'farmNumber' || column.id === 'tract') return share(cells, (cell) => /\d/.test(textOf(cell)))
  // No scale of levels goes beyond 10: such figures are counts.
  if (column.reads === 'level' && cells.some(isCount)) return 0
  // Below “Treated” may stand prices.
  if (column.id === 'treatment') return share(cells, (cell) => !/^\$?\d/.test(textOf(cell)))
  if (column.id === 'cashDiscount') return share(cells, (cell) => /\d|net|none/i.test(textOf(cell)))
  if (column.id === 'landlord' || column.id === 'place') return share(cells, (cell) => /\p{L}{2}/u.test(textOf(cell)))
  // One word alone is no history: under “Crop” it is what is to be planted.
  if (column.reads === 'history' && !/histor|rotation|previous|past|prior|before|last|hx/i.test(heading))
    return share(cells, (cell) => /[;,/|→>-]|\d{2}/.test(textOf(cell)))
  if (column.reads === 'crop') {
    // What is answered yes or no is no crop.
    if (cells.every((cell) => yesOrNo(textOf(cell)) !== null)) return 0
    return (
      share(
        cells,
        (cell) => typeof cell === 'string' && /[a-z]/i.test(cell) && cell.length <= 40 && !/\d{3}/.test(cell),
      ) * (cells.some((cell) => cropOf(textOf(cell)).isKnown || textOf(cell).length === 1) ? 1 : 0.5)
    )
  }
  if (
    (['name', 'field', 'variety', 'dealer'].includes(column.reads) && column.isNeeded === true) ||
    column.id === 'soil'
  ) {
    const words = share(cells, (cell) => typeof cell === 'string' && /\p{L}/u.test(cell))
    // Field numbers are names too, where nothing else is.
    if (column.id === 'soil' || column.reads === 'dealer') return words
    return column.reads === 'variety' ? 0.3 + 0.7 * words : 0.6 + 0.4 * words
  }
  const sense: Sense = {
    column,
    heading,
    season,
    isFall: true,
    decimals,
    factor: unitSense(
      {
        at: 0,
        heading,
        column: column.reads === 'rows' ? { ...column, dimension: 'length', usual: [15, 60] } : column,
      },
      cells,
      decimals,
    ).factor,
    shares:
      column.reads === 'share' ? (sharesSense({ at: 0, heading, column }, cells, decimals) ?? 'percent') : 'percent',
    index: column.reads === 'index' ? indexSense(cells) : 'whole',
    order: 'mdy',
    scale: { low: 0, high: 10, highIsGood: false },
    history: 'newest',
    names: noNames,
    kind: columnsOf(sheet, { threats }).find(({ id }) => id === column.id)?.kind ?? null,
    answers: {},
  }
  const { usual } = column
  return share(cells, (cell) => {
    const read = readCell(cell, sense)
    if (read.is === 'asked') return read.word.suggestion === null ? 0.3 : 0.9
    if (read.is !== 'value') return read.is === 'bad' ? 0 : 1
    if (
      usual &&
      column.reads !== 'share' &&
      typeof read.value === 'number' &&
      (read.value < usual[0] * 0.8 || read.value > usual[1] * 1.25)
    )
      return 0.2
    if (column.reads === 'share' && usual && typeof read.value === 'number' && read.value > 1) return 0
    return 1
  })
}

function share(cells: readonly Cell[], fits: (cell: Cell) => number | boolean): number {
  return cells.reduce((sum: number, cell) => sum + Number(fits(cell)), 0) / cells.length
}

interface Pair {
  at: number
  id: string
  score: number
  head: number
  heading: string
}

function columnsFor(book: HeadBook, found: FoundTable, given: MatchGiven): { guesses: ColumnGuess[]; score: number } {
  const samples = found.headings.map((_, at) => sampleOf(found, at))
  const pairs: Pair[] = []
  const isMany = new Set(
    book.columns
      .filter(({ isMany: many }) => many)
      .map(({ id }) => id)
      .concat('rows'),
  )
  const chosen = new Map<number, string | null>()
  const shown = [...found.headings]
  found.headings.forEach((own, at) => {
    const variants = variantsOf({ own, group: found.groups[at] ?? '' })
    const text = variants[0] ?? ''
    const given0 = given.match?.[at]
    const before = given0 !== undefined ? given0 : given.before?.(book.noun, plainName(text))
    if (before !== undefined && (before === null || book.columns.some(({ id }) => id === before))) {
      chosen.set(at, before)
      return
    }
    const cells = samples[at] ?? []
    if (text === '' && cells.length === 0) return
    for (const variant of variants) {
      for (const { column, score } of matchesOf(book, headingOf(variant), given.season)) {
        // “Crop” alone is what is to be planted, and no history.
        if (column.id === 'crop' && seasonOfHeading(variant, given.season) === null) continue
        // Of a few cells little can be told: a heading word for word goes before them.
        const isOpen =
          !['place', 'landlord', 'farmNumber', 'tract', 'history'].includes(column.id) &&
          !(column.reads === 'level' && cells.some(isCount)) &&
          !(column.reads === 'pack' && cells.some((cell) => /^\$|\d\.\d/.test(textOf(cell))))
        const least = isOpen && score >= 0.97 && cells.length <= 3 ? 0.34 : 0
        const fit = Math.max(least, fitOf(column, variant, cells, book.sheet, given))
        if (
          column.isWeak &&
          ((fit < 0.6 && least === 0) ||
            (!/count|per|cc|juven|sample|\bj2\b/i.test(variant) && cells.every((cell) => Number(textOf(cell)) <= 10)))
        )
          continue
        if (fit < 0.34) continue
        // “Previous crop” is one crop, of one year.
        const isOneYear =
          column.reads === 'history' &&
          seasonOfHeading(variant, given.season) !== null &&
          !/histor|rotation|crops/i.test(variant)
        pairs.push({
          at,
          id: column.id,
          score: score * (0.55 + 0.45 * fit) - (isOneYear ? 0.3 : 0),
          head: score,
          heading: variant,
        })
      }
      for (const extra of byContent(book, variant, cells, given)) {
        // A pack below a dealer is that dealer's.
        if (extra.id === 'packPrice' && variants.length > 1) continue
        pairs.push({ at, head: 0.9, heading: variant, ...extra })
      }
    }
  })
  pairs.sort((one, other) => other.score - one.score || one.at - other.at)
  const idAt = new Map<number, Pair>()
  const used = new Set<string>([...chosen.values()].filter((id) => id !== null))
  for (const pair of pairs) {
    if (idAt.has(pair.at) || (used.has(pair.id) && !isMany.has(pair.id))) continue
    if (
      pair.id === 'leafspot' &&
      pairs.some((other) => other.at !== pair.at && /leaf spot$/.test(other.id) && other.score > 0.9)
    )
      continue
    idAt.set(pair.at, pair)
    shown[pair.at] = pair.heading
    used.add(pair.id)
  }
  // What has no heading of a name: the first column of words that are each another.
  const named = book.columns.find(({ id, isNeeded }) => id === 'name' && isNeeded)
  if (named && !used.has('name')) {
    const at = found.headings.findIndex((_, place) => {
      const cells = samples[place] ?? []
      const isWords =
        cells.length > 1 && share(cells, (cell) => typeof cell === 'string' && /\p{L}{2}/u.test(cell)) > 0.8
      return !idAt.has(place) && !chosen.has(place) && isWords && new Set(cells.map(textOf)).size === cells.length
    })
    if (at >= 0) idAt.set(at, { at, id: 'name', score: 0.55, head: 0.55, heading: shown[at] ?? '' })
  }
  const guesses = shown.map((heading, at): ColumnGuess => {
    if (chosen.has(at)) return { at, heading, id: chosen.get(at) ?? null, score: 1, isChosen: true, isAsked: false }
    const pair = idAt.get(at)
    if (!pair) return { at, heading, id: null, score: 0, isChosen: false, isAsked: false }
    const column = book.columns.find(({ id }) => id === pair.id)
    const rival = pairs.find(
      (other) =>
        other.id === pair.id &&
        other.at !== pair.at &&
        !idAt.has(other.at) &&
        other.head >= pair.head - 0.05 &&
        other.score >= pair.score - 0.1,
    )
    const isContested = rival !== undefined && pair.head < 0.9999 && !isMany.has(pair.id) && column?.reads === 'figure'
    // What stands for another is not needed beside it, and never the same.
    const isStandIn = column?.standsFor !== undefined
    if (isStandIn && used.has(column.standsFor ?? ''))
      return { at, heading, id: null, score: 0, isChosen: false, isAsked: false }
    const isAsked = pair.score < 0.66 || isContested || isStandIn
    return { at, heading, id: pair.id, score: pair.score, isChosen: false, isAsked }
  })
  let score = 0
  for (const { id, score: each, isChosen } of guesses) {
    if (id === null) continue
    const column = book.columns.find((other) => other.id === id)
    score += (column?.isNeeded ? 1.4 : id === 'note' ? 0.2 : 0.8) * (isChosen ? 1 : each)
  }
  const has = (id: string) =>
    guesses.some((guess) => (id.endsWith('*') ? guess.id?.startsWith(id.slice(0, -1)) : guess.id === id))
  if (!book.needs.every((some) => some.some(has))) score *= 0.35
  for (const id of book.not ?? []) if (found.headings.some((text) => headingOf(text).tokens.includes(id))) score -= 1.2
  if (isNamed(book, given.names)) score += 0.8
  return { guesses, score }
}

/** Columns whose cells say what they are, whatever stands above them. */
function byContent(
  book: HeadBook,
  heading: string,
  cells: readonly Cell[],
  given: MatchGiven,
): { id: string; score: number }[] {
  if (cells.length === 0) return []
  const out: { id: string; score: number }[] = []
  const at = (id: string, score: number) => out.push({ id, score })
  if (book.noun === 'field') {
    const crops = share(
      cells,
      (cell) =>
        typeof cell === 'string' &&
        (cropOf(cell).isKnown || (cell.trim().length === 1 && cropOf(cell).crop !== cell.trim())),
    )
    const season = seasonOfHeading(heading, given.season)
    if (crops > 0.7 && season !== null) at('crop', 0.9)
    // A year alone, above words that the table's own key or an answer explains.
    else if (/^\D{0,3}\d{2,4}$/.test(heading.trim()) && season !== null && season < given.season) {
      if (cells.every((cell) => typeof cell === 'string' && /^\p{L}[\p{L} /&-]{0,19}$/u.test(cell.trim())))
        at('crop', 0.86)
    }
    for (const id of ['water', 'tillage'] as const) {
      const words = share(cells, (cell) => typeof cell === 'string' && cell.length > 2 && senseOfWord(id, cell).isSure)
      if (words > 0.85 && cells.length > 2) at(id, id === 'water' ? 0.7 : 0.62)
    }
    if (
      share(
        cells,
        (cell) =>
          typeof cell === 'string' &&
          cell.length > 2 &&
          senseOfWord('rowPattern', cell).isSure &&
          /twin|single/i.test(cell),
      ) > 0.85
    )
      at('rows', 0.75)
  }
  if (book.noun === 'quote') {
    const isPriced = share(cells, (cell) => typeof cell === 'number' || readTiers(textOf(cell)) !== null) > 0.7
    const from = dayIn(heading) === null ? readFrom(heading) : null
    // “Booked by 12/31”, “After 1/31”: what a price is until or from a day.
    if (isPriced && dayIn(heading) !== null) at(/\b(?:after|from)\b/i.test(heading) ? 'price' : 'earlyPrice', 0.95)
    if (
      isPriced &&
      /^(?:price,? )?(?:(?:w\/|with|incl\.?|including) )?(?:un)?(?:treated|treatment|trt|trtd)(?: (?:price|incl\.?|included))?$|^raw$/i.test(
        heading.trim(),
      ) &&
      cells.every((cell) => priceSized(textOf(cell)))
    )
      at('treatmentPrice', 0.99)
    if (isPriced && from && !(from.in === 'lb' && from.count <= 100)) at('tier', 0.95)
    // “Burrow Bend Bag”: a dealer with a column for each pack.
    const { dealer } = dealerHeading(heading)
    const isDealer = given.dealers.some(
      (name) =>
        plainName(name) === plainName(dealer) ||
        (plainName(dealer).length > 4 && plainName(name).startsWith(plainName(dealer))),
    )
    const { pack } = dealerHeading(heading)
    const isPack = pack !== null && (dealer === '' || /^(?:price|cost|\$)$/i.test(dealer))
    if (isPriced && isPack && cells.every((cell) => priceSized(textOf(cell)))) at('packPrice', 0.93)
    else if (isPriced && isDealer) at('dealerPrice', 0.9)
    // A list with a column a dealer: asked about where no word of a business is in it, since other figures may be of that size.
    else if (
      isPriced &&
      dealer !== '' &&
      !/\b(?:last|prev|previous|prior|old|former|price|cost|total|amount|fee|discount|savings?)\b/i.test(dealer) &&
      readPack(dealer) === null &&
      !/\d|[$%]/.test(dealer) &&
      (matchesOf(book, headingOf(dealer), given.season)[0]?.score ?? 0) < (isBusiness(dealer) ? 0.95 : 0.8) &&
      cells.every((cell) => priceSized(textOf(cell)))
    )
      at('dealerPrice', isBusiness(dealer) ? 0.9 : 0.62)
    if (
      share(cells, (cell) => /\b(bag|tote|bulk)\b|\d\s*(lb|#)/i.test(textOf(cell)) && readPack(textOf(cell)) !== null) >
      0.8
    )
      at('pack', 0.7)
  }
  return out
}

/** [$] of a pound, a bag or a tote of seed. */
function priceSized(text: string): boolean {
  const [tier] = readTiers(text) ?? []
  return (
    tier !== undefined &&
    ((tier.amount > 0.4 && tier.amount < 2) ||
      (tier.amount > 20 && tier.amount < 150) ||
      (tier.amount > 800 && tier.amount < 4000))
  )
}

/** @param books of every noun, as `headBooks` has them */
export function matchTable(books: readonly HeadBook[], found: FoundTable, given: MatchGiven): TableMatch {
  const all = books.map((book) => {
    const fitted = columnsFor(book, found, given)
    return { book, ...fitted, score: fitted.score + (given.sheet === book.sheet ? 1 : 0) }
  })
  const ranked = all.toSorted((one, other) => other.score - one.score)
  const chosen = given.noun === undefined ? ranked[0] : ranked.find(({ book }) => book.noun === given.noun)
  const [first, second] = ranked
  const nouns = ranked.filter(({ score }) => score > 0.5).map(({ book, score }) => ({ noun: book.noun, score }))
  if (!chosen || (given.noun === undefined && chosen.score < 1.2))
    return {
      noun: null,
      nouns,
      isAsked: true,
      columns: found.headings.map((heading, at) => ({
        at,
        heading,
        id: null,
        score: 0,
        isChosen: false,
        isAsked: false,
      })),
    }
  const isClose =
    given.noun === undefined && given.sheet !== chosen.book.sheet && (second?.score ?? 0) > 0.88 * (first?.score ?? 1)
  return { noun: chosen.book.noun, nouns, isAsked: isClose, columns: chosen.guesses }
}
