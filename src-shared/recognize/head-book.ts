/** Every head of every noun as tokens, ready to be compared; the farm’s own diseases and pests have columns of their own. Pure. */
import { isShort, isSlip } from './near.ts'
import { nouns, type ColumnWords, type Noun, type NounWords } from './nouns.ts'
import { headsOfThreat, sharedHeads, speciesIn } from './threats.ts'
import { plainText, tokensOf } from './tokens.ts'
import { unitOf } from './units.ts'

export interface HeadColumn extends ColumnWords {
  /** A shared head, as “leaf spot”: the paths that one cell is written to. */
  paths?: readonly string[]
  tokens: readonly (readonly string[])[]
}

export interface HeadBook extends Omit<NounWords, 'columns'> {
  columns: readonly HeadColumn[]
  /** What every column of it may have beside its head. */
  fillers: ReadonlySet<string>
}

const always =
  'peanut the of in for our my est approx current is a and or by each estimated this i we use value about grown number flag indicator code status yn y n they have can'.split(
    ' ',
  )
const beside: Partial<Record<Noun, string>> = {
  field: 'field farm pressure history risk level problem disease last goal incidence severity hist trouble issue',
  variety: 'rating resistance score reaction to disease susceptibility res',
  quote: 'seed peanut quote',
  load: 'percent pound lb',
  soil: 'per soil j2 juvenile count cc',
}
/** Words that make another thing of a head: last year’s yield is no goal. */
const turns = new Set(
  'last previous actual old irrigated dryland landlord rent insurance base loan irr non not break early volume ss smk discount'.split(
    ' ',
  ),
)

/** Words that are part of many heads and say nothing alone. */
const general = new Set(
  'number name date type pound acre per price year code id status size weight count in on by'.split(' '),
)

const title = (name: string) => name.charAt(0).toUpperCase() + name.slice(1)

function perThreat(noun: Noun, threats: readonly string[]): ColumnWords[] {
  if (noun === 'measure')
    return threats.map((threat) => ({
      id: `efficacy/${threat}`,
      label: title(threat),
      reads: 'share',
      heads: headsOfThreat(threat)
        .split('|')
        .flatMap((head) => [head, `stops ${head}`])
        .join('|'),
    }))
  if (noun !== 'field' && noun !== 'variety') return []
  const [record, reads] = noun === 'field' ? (['pressure', 'level'] as const) : (['ratings', 'rating'] as const)
  return threats.map((threat) => ({
    id: `${record}/${threat}`,
    label: title(threat),
    reads,
    heads: headsOfThreat(threat),
  }))
}

function shared(noun: Noun, threats: readonly string[]): (ColumnWords & { paths: string[] })[] {
  if (noun !== 'field' && noun !== 'variety') return []
  const [record, reads] = noun === 'field' ? (['pressure', 'level'] as const) : (['ratings', 'rating'] as const)
  return sharedHeads
    .filter((each) => each.threats.every((threat) => threats.includes(threat)))
    .map((each) => ({
      id: 'leafspot',
      label: 'Leaf spot (early and late)',
      reads,
      heads: each.heads,
      paths: each.threats.map((threat) => `${record}/${threat}`),
    }))
}

/** Of the farm asked for last: a file is looked at, looked at again with other choices, and taken. */
let last: { of: string; books: readonly HeadBook[] } | null = null

/** @param threats names of the farm’s diseases and pests */
export function headBooks(threats: readonly string[]): readonly HeadBook[] {
  const of = JSON.stringify(threats)
  if (last?.of !== of) last = { of, books: makeBooks(threats) }
  return last.books
}

function makeBooks(threats: readonly string[]): HeadBook[] {
  return nouns.map((noun) => ({
    ...noun,
    columns: [...noun.columns, ...perThreat(noun.noun, threats), ...shared(noun.noun, threats)].map((column) => ({
      ...column,
      tokens: [column.label, ...column.heads.split('|')].map(tokensOf).filter((tokens) => tokens.length > 0),
    })),
    fillers: new Set([...always, ...tokensOf(beside[noun.noun] ?? ''), ...(beside[noun.noun] ?? '').split(' ')]),
  }))
}

export interface Heading {
  text: string
  tokens: string[]
  /** Without what stands in brackets. */
  core: string[]
  /** Years that it names. */
  years: number[]
}

export function headingOf(text: string): Heading {
  const plain = text.replace(/\s+/g, ' ').trim()
  const outside = plain.replace(/[([{][^)\]}]*[)\]}]?/g, ' ')
  const isYear = (token: string) => /^(?:19|20)\d{2}$/.test(token)
  const tokens = tokensOf(plain)
  const core = tokensOf(outside.trim() === '' ? plain : outside)
  return {
    text: plain,
    tokens: tokens.filter((token) => !isYear(token)),
    core: core.filter((token) => !isYear(token)),
    years: tokens.filter(isYear).map(Number),
  }
}

/** What stands in brackets, after a comma or at the end of a heading, where that is a unit. */
export function unitOfHeading(text: string): { text: string; unit: NonNullable<ReturnType<typeof unitOf>> } | null {
  const plain = text.replace(/\s+/g, ' ').trim()
  const inside = [...plain.matchAll(/[([{]([^)\]}]*)[)\]}]/g)].map((match) => (match[1] as string).trim())
  const bare = plain.replace(/[([{][^)\]}]*[)\]}]/g, ' ').trim()
  const words = bare.split(/\s+/)
  const tails = [bare, ...words.map((_, at) => words.slice(at).join(' ')).slice(1)]
  // “lbs available”: a unit before what it measures.
  const fronts = words.map((_, at) => words.slice(0, at).join(' ')).slice(1)
  const parts = [
    ...inside,
    ...inside.flatMap((part) => part.split(/[,;]\s*/)),
    ...bare.split(/,\s*/).slice(1),
    ...tails,
    ...fronts,
  ]
  for (const part of parts) {
    const unit = part === '' || /^(a|c|t|d|m|h|p|count|unit|units|seed)$/i.test(part) ? null : unitOf(part)
    if (unit) return { text: part, unit }
  }
  return null
}

const same = (one: readonly string[], other: readonly string[]) =>
  one.length === other.length && one.every((token, at) => token === other[at])

/**
 * How well a heading fits one head.
 * @returns 1 word for word, down to 0
 */
function headScore(heading: Heading, head: readonly string[], fillers: ReadonlySet<string>): number {
  let best = 0
  for (const tokens of [heading.tokens, heading.core]) {
    if (tokens.length === 0) continue
    if (same(tokens, head)) return 1
    if (tokens.join('') === head.join('')) best = Math.max(best, 0.98)
    const left = [...tokens]
    let slips = 0
    let missing = 0
    for (const token of head) {
      let at = left.indexOf(token)
      if (at < 0) {
        at = left.findIndex((each) => isSlip(each, token) || (head.length > 1 && isShort(each, token)))
        if (at >= 0) slips += 1
      }
      if (at < 0) missing += 1
      else left.splice(at, 1)
    }
    if (missing === 0) {
      const extra = left.filter((token) => !fillers.has(token) && unitOf(token) === null && !/^\d+$/.test(token))
      const turned = extra.some((token) => turns.has(token)) ? 0.4 : 0
      best = Math.max(
        best,
        (left.length === 0 ? 0.97 : 0.94) -
          0.13 * extra.length -
          0.06 * slips -
          turned -
          0.004 * (left.length - extra.length),
      )
    } else if (left.length === 0 && missing < head.length && tokens.some((token) => !general.has(token))) {
      // The heading says less than the head: “Spacing” for row spacing.
      best = Math.max(best, 0.5 + 0.2 * ((head.length - missing) / head.length) - 0.06 * slips)
    }
  }
  return best
}

export interface HeadMatch {
  column: HeadColumn
  score: number
}

const least = 0.6

/** What was found, by season and heading: each heading of a table is asked about a dozen times, for each row that may be its header. */
const found = new WeakMap<HeadBook, Map<string, readonly HeadMatch[]>>()
const mostFound = 2000

/** Columns of a noun that a heading may be, the best first. @param season years other than it make another thing of a figure */
export function matchesOf(book: HeadBook, heading: Heading, season: number): readonly HeadMatch[] {
  if (heading.text === '' || heading.text.length > 80) return []
  let known = found.get(book)
  if (known === undefined || known.size > mostFound) found.set(book, (known = new Map()))
  const key = `${season} ${heading.text}`
  let matches = known.get(key)
  if (matches === undefined) known.set(key, (matches = findMatches(book, heading, season)))
  return matches
}

function findMatches(book: HeadBook, heading: Heading, season: number): HeadMatch[] {
  const out: HeadMatch[] = []
  const isPerPack = /(?:\/|\bper|\ban?)\s*(?:bags?|bgs?|sacks?|totes?|units?|packs?|pkgs?|boxe?s?)\b|\beach\b/i.test(
    heading.text,
  )
  for (const column of book.columns) {
    let score = 0
    column.tokens.forEach((head, at) => {
      score = Math.max(score, headScore(heading, head, book.fillers) - 0.002 * Math.max(0, at - 3))
    })
    const another = heading.years.some((year) => year !== season)
    if (another && column.reads !== 'crop' && column.reads !== 'history') score -= 0.4
    // Counted in so much soil it is a count, and no level of anything.
    if (
      (column.reads === 'level' || column.reads === 'rating') &&
      /\d\s*(?:cc|cm3|ml)\b|\bj2\b|juvenile|\bcounts?\b/i.test(heading.text)
    )
      score -= 0.5
    // Pounds a bag are no pounds on hand.
    if (isPerPack && column.dimension === 'mass') score -= 0.5
    // A count of another species comes after one of peanut's own.
    if (column.reads === 'count' && ['southern root-knot', 'other'].includes(speciesIn(heading.text) ?? ''))
      score -= 0.06
    // Acres under water are acres, and so are those of an agency.
    if (['word', 'place', 'name'].includes(column.reads) && heading.tokens.includes('acre')) score -= 0.5
    // What share of the plants was sick is no rating.
    if (column.reads === 'rating' && /%|percent|incidence/i.test(heading.text)) score -= 0.5
    // One year is one crop.
    if (heading.years.length === 1 && column.reads === 'history') score -= 0.4
    if (score >= least) out.push({ column, score })
  }
  return out.toSorted((one, other) => other.score - one.score)
}

/** What a title, a sheet’s name or a file’s name says of the noun. */
export function isNamed(book: HeadBook, text: string): boolean {
  const tokens = tokensOf(plainText(text))
  return book.names.split('|').some((name) => {
    const words = tokensOf(name)
    return words.length > 0 && words.every((word) => tokens.includes(word))
  })
}
