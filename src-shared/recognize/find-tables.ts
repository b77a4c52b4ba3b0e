/**
 * Where in a sheet the tables are: title rows above, one or two header rows, units below them, totals, blank rows, sections and
 * notes that are set aside, several tables below or beside one another. Pure. Long because a row is told by what stands around it.
 */
import { noteWords, totalWords } from './choices.ts'
import { isBlank, isBlankRow, isNumeric, textOf, type Cell, type Grid } from './grid.ts'
import { headingOf, matchesOf, type HeadBook } from './head-book.ts'
import { tokensOf } from './tokens.ts'
import { unitOf } from './units.ts'

export type AsideWhy = 'example' | 'title' | 'total' | 'note' | 'section' | 'heading again' | 'units'

export interface AsideRow {
  /** As a spreadsheet counts it. */
  row: number
  why: AsideWhy
  text: string
}

export interface FoundTable {
  /** Places of its columns in the sheet. */
  places: number[]
  headings: string[]
  /** What stands above each heading, over several columns. */
  groups: string[]
  /** As a spreadsheet counts them; empty: none was found. */
  headerRows: number[]
  rows: { row: number; cells: Cell[] }[]
  aside: AsideRow[]
  /** All that stands above and below in words, with what it may say of scales, dealers and days. */
  words: string[]
  blank: number
}

/** A heading and what stands above it, over several columns. */
export interface Headed {
  own: string
  group: string
}

/** A heading alone, and with the group that it stands in. */
export function variantsOf({ own, group }: Headed): string[] {
  if (group === '' || own === group) return [own]
  return own === '' ? [group] : [own, `${group} ${own}`]
}

/** Heads of all nouns. */
export class Heads {
  readonly books: readonly HeadBook[]
  readonly season: number
  readonly #exact: ReadonlySet<string>
  constructor(books: readonly HeadBook[], season: number) {
    this.books = books
    this.season = season
    this.#exact = new Set(
      books.flatMap(({ columns }) => columns.flatMap(({ tokens }) => tokens.map((head) => head.join(' ')))),
    )
  }
  /** A cheap look: at least half of the row is headings word for word. */
  mayHead(row: readonly Cell[]): boolean {
    let filled = 0
    let known = 0
    for (const cell of row) {
      if (isBlank(cell)) continue
      filled += 1
      const text = textOf(cell)
      if (text.length <= 40 && this.#exact.has(tokensOf(text.replace(/[([].*$/, '')).join(' '))) known += 1
      else if (filled - known > row.length / 2) return false
    }
    return known > 1 && known * 2 >= filled
  }
  /** How many of the headings are known, of the noun that knows most of them. */
  known(headings: readonly Headed[]): number {
    let most = 0
    const all = headings
      .filter(({ own, group }) => own !== '' || group !== '')
      .map((each) => variantsOf(each).map((text) => headingOf(text)))
    for (const book of this.books) {
      const used = new Set<string>()
      let sum = 0
      for (const variants of all) {
        let best: { id: string; score: number } | null = null
        for (const heading of variants) {
          const match = matchesOf(book, heading, this.season).find(
            ({ column }) => column.isMany === true || column.id === 'rows' || !used.has(column.id),
          )
          if (match && match.score > (best?.score ?? 0)) best = { id: match.column.id, score: match.score }
        }
        const isYear =
          book.noun === 'field' &&
          variants.some(
            (heading) => (heading.core.length === 0 && heading.years.length > 0) || isYearText(heading.text),
          )
        if (best && best.score >= 0.75) {
          used.add(best.id)
          sum += best.score
        } else if (isYear) sum += 0.5
      }
      most = Math.max(most, sum)
    }
    return most
  }
}

/** A year above a column: 2025, ’25, or 25 where it is of these years. */
const isYearText = (text: string) => /^(?:(?:19|20)\d{2}|['’]\d{2}|[123]\d)$/.test(text)

const isTierText = (text: string) =>
  /^\d[\d,]*\s*(?:\+|or more|(?:-|–|to)\s*\d[\d,]*)\s*(?:bags?|packs?|units?|totes?|lbs?|#)\.?$/i.test(text)

/** A row that could be headings: words, few numbers, each short. */
function couldHead(row: readonly Cell[]): boolean {
  let words = 0
  let numbers = 0
  let years = 0
  for (const cell of row) {
    if (isBlank(cell)) continue
    const text = textOf(cell)
    // “100–399 bags” and “Booked by 1/31” above a price are headings.
    if (
      isTierText(text) ||
      /^(?:19|20)\d{2}\s+[a-z]/i.test(text) ||
      /^[a-z][a-z ]*(?:\(?(?:by|before|after|until|till?|thru|through)) \d{1,2}\/\d{1,2}/i.test(text)
    ) {
      words += 1
      continue
    }
    const isYear = isYearText(text)
    if (isYear) years += 1
    if (isNumeric(cell) && !isYear) numbers += 1
    // Prices and days are seldom headings, and never most of them.
    else if (/\$\s*\d|\d\.\d|\d\/\d|^\d/.test(text) && !isYear) numbers += 0.5
    else if (text.length <= 80 && !isYear) words += 1
  }
  return (words >= 2 || (words === 1 && years > 1)) && numbers * 3 <= words
}

const isUnitWord = (text: string) =>
  unitOf(text.replace(/^[([]|[)\]]$/g, '')) !== null ||
  /^[([].{1,30}[)\]]$/.test(text) ||
  /^(y\/n|yes\/no|text|name|1\s*[-–]\s*(?:9|10|5)|irr\/dry|i\/d|s\/t|number|date|mm\/dd(?:\/yy(?:yy)?)?|low\/(?:mod|med)\/high|none[-–]severe)$/i.test(
    text,
  )

function isUnitsRow(row: readonly Cell[] | undefined): boolean {
  if (!row) return false
  const cells = row.filter((cell) => !isBlank(cell)).map(textOf)
  return cells.length > 0 && cells.every((text) => isUnitWord(text)) && cells.some((text) => /[a-z%$#"]/i.test(text))
}

/** Headings of one row, each with the group above it. */
function joined(
  above: readonly Cell[] | undefined,
  row: readonly Cell[],
  merges: Grid['merges'],
  at: number,
): Headed[] {
  const width = Math.max(row.length, above?.length ?? 0)
  const out: Headed[] = []
  let group = ''
  for (let place = 0; place < width; place += 1) {
    const own = textOf(row[place])
    if (above) {
      const text = textOf(above[place])
      if (text !== '') group = text
      else if (own === '') group = ''
      else if (
        merges.length > 0 &&
        !merges.some(
          ({ top, bottom, left, right }) => top <= at - 1 && bottom >= at - 1 && left <= place && right >= place,
        )
      )
        group = ''
    }
    out.push({ own, group })
  }
  return out
}

interface Header {
  /** Index of the first and the last row of it. */
  first: number
  last: number
  headings: Headed[]
  score: number
}

function headerAt(grid: Grid, at: number, heads: Heads): Header | null {
  const row = grid.rows[at]
  if (!row || !couldHead(row)) return null
  const texts = row.filter((cell) => !isBlank(cell)).map(textOf)
  const alone = joined(undefined, row, [], at)
  const single = heads.known(alone)
  const options: Header[] = [{ first: at, last: at, headings: alone, score: single }]
  const above = grid.rows[at - 1]
  const groupTexts = (above ?? []).filter((cell) => !isBlank(cell))
  // A group stands above some of the columns; a title above one.
  const isGroup = (cell: Cell) =>
    isYearText(textOf(cell)) || (textOf(cell).length <= 40 && !/^[$~]?\d|\d\.\d/.test(textOf(cell)))
  if (above && groupTexts.length > 0 && groupTexts.every(isGroup)) {
    const headings = joined(above, row, grid.merges, at)
    // Packs that stand several times, each below its dealer.
    const packs = texts.filter((text) => /^(?:bags?|totes?|bulk|[\d,]+ ?(?:lbs?|#)[a-z ]*)$/i.test(text)).length
    const score = heads.known(headings) + (packs > 1 && groupTexts.length > 1 ? 1 : 0)
    if (
      score > single + 0.15 &&
      (groupTexts.length > 1 || !isBlank(above[1]) || (groupTexts.length === 1 && isBlank(above[0])))
    )
      options.push({ first: at - 1, last: at, headings, score: score - 0.1 })
  }
  let best = options.reduce((one, other) => (other.score > one.score ? other : one))
  if (isUnitsRow(grid.rows[at + 1])) {
    const units = grid.rows[at + 1] ?? []
    const headings = best.headings.map(({ own, group }, place) => {
      const unit = textOf(units[place]).replace(/^[([]|[)\]]$/g, '')
      return { own: unit === '' || own === '' ? own || unit : `${own} (${unit})`, group }
    })
    best = { ...best, last: at + 1, headings, score: Math.max(best.score, heads.known(headings)) }
  }
  return best.score >= 1.4 && best.score >= 0.3 * texts.length ? best : null
}

/** @param given index of the row that the person pointed at */
export function findTables(grid: Grid, heads: Heads, given?: { first: number; last: number }): FoundTable[] {
  const headers: Header[] = []
  if (given) {
    const row = grid.rows[given.last] ?? []
    const above = given.last > given.first ? grid.rows[given.first] : undefined
    headers.push({ ...given, headings: joined(above, row, grid.merges, given.last), score: 1 })
  } else {
    for (let at = 0; at < grid.rows.length; at += 1) {
      const before = headers.at(-1)
      if (before && hasFigure(grid.rows[at] ?? [])) continue
      // Far down only what is headings word for word is looked at closer: a long table has thousands of rows.
      if (at > 60 && !heads.mayHead(grid.rows[at] ?? [])) continue
      const header = headerAt(grid, at, heads)
      if (!header) continue
      if (before && header.first <= before.last + 1 && before.last < at) {
        // Two rows running that could both head: the better one, unless data stand between.
        if (header.score > before.score) headers[headers.length - 1] = header
        continue
      }
      if (
        before &&
        isAgain(
          before.headings.map(({ own }) => own),
          grid.rows[at] ?? [],
        )
      )
        continue
      // Deep in a table a few cells may happen to be words of headings.
      if (before && !isWholeHeader(grid.rows[at] ?? [], header.score)) continue
      headers.push(header)
      at = Math.max(at, header.last)
    }
  }
  return headers.flatMap((header, index) => {
    const until = headers[index + 1]?.first ?? grid.rows.length
    const from = index === 0 ? 0 : header.first
    return tablesOf(grid, header, from, until, heads)
  })
}

/** Below a table only what is all headings, without a figure among them, begins another. */
function isWholeHeader(row: readonly Cell[], score: number): boolean {
  return score >= 0.6 * row.filter((cell) => !isBlank(cell)).length && !hasFigure(row)
}

function hasFigure(row: readonly Cell[]): boolean {
  return row.some((cell) => {
    if (typeof cell === 'number') return cell < 1900 || cell > 2099
    return (
      typeof cell === 'string' && /^\s*[$~]?\d|\d\.\d/.test(cell) && !/^\s*(?:19|20)\d{2}\b|^\s*\d+\s*[-+]/.test(cell)
    )
  })
}

function isAgain(headings: readonly string[], row: readonly Cell[]): boolean {
  const own = row.map((cell) => textOf(cell).toLowerCase())
  const filled = own.filter((text) => text !== '').length
  const equal = own.filter((text, place) => text !== '' && (headings[place] ?? '').toLowerCase().endsWith(text)).length
  return filled > 1 && equal >= 0.7 * filled
}

function tablesOf(grid: Grid, header: Header, from: number, until: number, heads: Heads): FoundTable[] {
  const width = Math.max(header.headings.length, ...grid.rows.slice(header.first, until).map((row) => row.length))
  const body = grid.rows.slice(header.last + 1, until)
  const isUsed = (place: number) =>
    (header.headings[place]?.own ?? '') !== '' ||
    (header.headings[place]?.group ?? '') !== '' ||
    body.some((row) => !isBlank(row[place]))
  const segments: number[][] = []
  for (let place = 0; place < width; place += 1) {
    if (!isUsed(place)) continue
    const last = segments.at(-1)
    if (last && last.at(-1) === place - 1) last.push(place)
    else segments.push([place])
  }
  // Beside one another only where each is a table for itself.
  const own = (segment: readonly number[]) => heads.known(segment.flatMap((place) => header.headings[place] ?? []))
  const isBeside = segments.length > 1 && segments.every((segment) => segment.length > 1 && own(segment) >= 1.7)
  const groups = isBeside ? segments : [segments.flat()]
  return groups.filter((places) => places.length > 0).map((places) => tableOf(grid, header, from, until, places))
}

function tableOf(grid: Grid, header: Header, from: number, until: number, places: number[]): FoundTable {
  const number = (at: number) => at + grid.firstRow
  const found: FoundTable = {
    places,
    headings: places.map((place) => header.headings[place]?.own ?? ''),
    groups: places.map((place) => header.headings[place]?.group ?? ''),
    headerRows: Array.from({ length: header.last - header.first + 1 }, (_, at) => number(header.first + at)),
    rows: [],
    aside: [],
    words: [],
    blank: 0,
  }
  const textsOf = (row: readonly Cell[]) => row.map(textOf).filter((text) => text !== '')
  const setAside = (at: number, why: AsideWhy, row: readonly Cell[]) => {
    const text = textsOf(row).join(' ').slice(0, 300)
    found.aside.push({ row: number(at), why, text })
    found.words.push(text)
  }
  for (let at = from; at < header.first; at += 1) {
    const row = grid.rows[at] ?? []
    if (!isBlankRow(row)) setAside(at, 'title', row)
  }
  for (let at = header.last + 1; at < until; at += 1) {
    const all = grid.rows[at] ?? []
    const cells = places.map((place) => mergedCell(grid, at, place))
    const filled = cells.map((cell, place) => ({ text: textOf(cell), place })).filter(({ text }) => text !== '')
    if (filled.length === 0) {
      found.blank += 1
      continue
    }
    if (isAgain(found.headings, cells)) {
      setAside(at, 'heading again', cells)
      continue
    }
    const first = filled[0]?.text ?? ''
    const label = filled.find(({ text }) => !isNumeric(text))?.text ?? ''
    if (
      totalWords.test(first) ||
      (totalWords.test(label) && filled.filter(({ text }) => !isNumeric(text)).length <= 2)
    ) {
      if (filled.length === 1 || filled.some(({ text }) => isNumeric(text) || /\d/.test(text))) {
        setAside(at, 'total', cells)
        continue
      }
    }
    const isWide = places.length >= 3
    if (isWide && filled.length === 1) {
      const isNote = noteWords.test(first) || first.length > 40
      const isLast = !grid.rows.slice(at + 1, until).some((row) => textsOf(row).length > 2)
      setAside(at, isNote || isLast ? 'note' : 'section', cells)
      continue
    }
    if (isWide && filled.length === 2 && places.length >= 4 && noteWords.test(first)) {
      setAside(at, 'note', cells)
      continue
    }
    // Figures alone, without a word, that are the sums of what stands above.
    if (
      isWide &&
      filled.every(({ text }) => isNumeric(text)) &&
      isBlank(cells[0]) &&
      filled.some(({ text, place }) => isSumAbove(found.rows, place, text))
    ) {
      setAside(at, 'total', cells)
      continue
    }
    found.rows.push({ row: number(at), cells: all.length === 0 ? [] : cells })
  }
  // Where parts of a table have names, what stands right above its headings is the first of them.
  const above = found.aside.find(({ why, row }) => why === 'title' && row === (found.headerRows[0] ?? 0) - 1)
  const later = found.aside.find(({ why, row }) => why === 'section' && row > (found.headerRows.at(-1) ?? 0))
  const isFirst = later !== undefined && later.row > (found.rows[0]?.row ?? Infinity)
  if (above && isFirst && above.text.length <= 40 && !/\d{4}/.test(above.text)) above.why = 'section'
  // The examples of a template, once there is more in it.
  const isExample = ({ cells }: FoundTable['rows'][number]) =>
    /^example\b/i.test(cells.map(textOf).find((text) => text !== '') ?? '')
  if (found.rows.some((row) => !isExample(row))) {
    for (const row of found.rows.filter(isExample))
      found.aside.push({ row: row.row, why: 'example', text: textsOf(row.cells).join(' ').slice(0, 300) })
    found.rows = found.rows.filter((row) => !isExample(row))
  }
  return found
}

/** What a merged cell holds in each of its rows. */
function mergedCell(grid: Grid, at: number, place: number): Cell {
  const own = grid.rows[at]?.[place] ?? ''
  if (!isBlank(own) || grid.merges.length === 0) return own
  const merge = grid.merges.find(
    ({ top, bottom, left, right }) => top < at && bottom >= at && left <= place && right >= place,
  )
  return merge ? (grid.rows[merge.top]?.[merge.left] ?? '') : own
}

function isSumAbove(rows: FoundTable['rows'], place: number, text: string): boolean {
  const value = Number(text.replace(/[$,\s]/g, ''))
  const sum = rows.reduce((total, { cells }) => total + (Number(textOf(cells[place]).replace(/[$,\s]/g, '')) || 0), 0)
  return rows.length > 1 && Number.isFinite(value) && Math.abs(sum - value) <= 0.006 * Math.abs(value)
}
