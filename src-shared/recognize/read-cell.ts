/** One cell of one column → a value, a word to be asked about, or why it is neither. Pure. Long because it is one switch of all readings. */
import { readDollars } from '../read-text.ts'
import type { Kind } from '../sheet/kind.ts'
import type { DayOrder } from '../sheet/day-text.ts'
import { readMonthDay } from '../sheet/day-text.ts'
import { showDay } from '../show.ts'
import { ratingWords } from './choices.ts'
import { toIndex, type Shares } from './cell-sense.ts'
import { cropOf, cropSlip, readHistory, type Grown, type HistoryOrder } from './crops.ts'
import { readDayText } from './days.ts'
import { clean, readFigure, readFigureAmong, type Decimals, type Figure } from './figure.ts'
import { textOf, type Cell } from './grid.ts'
import type { HeadColumn } from './head-book.ts'
import { nearest } from './near.ts'
import { packsOfPounds } from './price-text.ts'
import { plainWord, wordKey, type Answers } from './question.ts'
import { senseOfWord, valuesOf, yesOrNo } from './read-word.ts'
import { toLevel, toRating, type Scale } from './scales.ts'
import { plainName } from './tokens.ts'

/** Names that are there, each under its plain form. */
export type NameBook = ReadonlyMap<string, string>

const books = new WeakMap<readonly string[], { size: number; book: NameBook }>()

/** Made once for a list of names, and again when names were added to it. */
export function nameBook(names: readonly string[]): NameBook {
  const known = books.get(names)
  if (known && known.size === names.length) return known.book
  const book: NameBook = new Map(names.map((name) => [plainName(name), name]))
  books.set(names, { size: names.length, book })
  return book
}

const choiceLists = new WeakMap<NameBook, string[]>()

function choicesIn(book: NameBook): string[] {
  let choices = choiceLists.get(book)
  if (!choices) choiceLists.set(book, (choices = [...new Set(book.values())]))
  return choices
}

export interface Sense {
  column: HeadColumn
  heading: string
  season: number
  isFall: boolean
  decimals: Decimals
  factor: number
  shares: Shares | null
  index: 'delta' | 'whole'
  order: DayOrder | 'both' | undefined
  scale: Scale | null
  history: HistoryOrder | undefined
  /** Names that a cell of it may mean. */
  names: NameBook
  /** What the column of the sheet itself reads. */
  kind: Kind | null
  /** What the table's own key says of its short words. */
  legend?: ReadonlyMap<string, string>
  answers: Answers
}

export type CellRead =
  | { is: 'empty' }
  /** `says`: how it was read, where that is not as it stands. */
  | { is: 'value'; value: unknown; says?: string; word?: AskedWord }
  | { is: 'asked'; word: AskedWord }
  /** Waits for an answer about its column or table. */
  | { is: 'open'; key: string }
  | { is: 'bad'; what: string }

export interface AskedWord {
  kind: string
  word: string
  suggestion: string | null
  choices: readonly string[]
}

const empty: CellRead = { is: 'empty' }
const bad = (what: string): CellRead => ({ is: 'bad', what })
const value = (given: unknown, says?: string): CellRead => ({
  is: 'value',
  value: given,
  ...(says === undefined ? {} : { says }),
})

/** @param cell that is not empty */
export function readCell(cell: Cell, sense: Sense): CellRead {
  const text = textOf(cell)
  const { column } = sense
  const keyed = byLegend(text, sense)
  if (keyed) return keyed
  switch (column.reads) {
    case 'name':
    case 'place':
      return [...text].length > 80
        ? bad(`“${text.slice(0, 40)}…” is longer than 80 characters`)
        : value(text.normalize('NFC'))
    case 'note':
      return value(text.normalize('NFC').slice(0, 2000))
    case 'field':
    case 'variety':
    case 'dealer':
    case 'threat':
      return readName(text, column.reads, sense)
    case 'figure':
    case 'whole':
    case 'count':
      return readAmount(cell, sense)
    case 'share':
      return readShare(cell, sense)
    case 'index': {
      if (/^(?:avg|average|usual|same|check|std|standard|normal|equal|par)$/i.test(plainWord(text)))
        return value(1, `${text} → 1`)
      const figure = figureOf(cell, sense)
      if (!figure) return bad(`“${text}” is not a number`)
      if (figure.unit && figure.unit.dimension !== 'share') return bad(`“${text}” is not against the usual`)
      const read = toIndex(figure.value, sense.index, figure.unit !== null && sense.index !== 'delta')
      return value(read, read === figure.value ? undefined : `${text} → ${read}`)
    }
    case 'money':
      return readMoney(cell, sense)
    case 'day':
      return readADay(cell, sense)
    case 'monthDay':
      return readAMonthDay(cell, sense)
    case 'word':
      return readChoice(text, column.choices ?? column.id, sense)
    case 'yesNo': {
      const is = yesOrNo(text)
      return is === null ? askOr('yesNo', text, ['yes', 'no'], null, sense, (word) => word === 'yes') : value(is)
    }
    case 'rating':
      return readRating(cell, sense)
    case 'level':
      return readLevel(cell, sense)
    case 'crop':
      return readCrop(text, sense)
    case 'history': {
      const read = readHistory(text, sense.season, sense.history)
      if (read.ok) return read.unknown.length === 0 ? value(read.crops) : cropsAsked(read.crops, sense)
      return read.why === 'order'
        ? { is: 'open', key: 'history order' }
        : bad(`“${text}” is no crop history, as 2026 cotton; 2025 corn`)
    }
    case 'rows':
      return readRows(cell, sense)
    case 'own': {
      const read = sense.kind?.read(text)
      return read?.ok ? value(read.value) : bad(read?.what ?? `“${text}” is not taken here`)
    }
    default:
      return value(text)
  }
}

const legendReads = new Set(['word', 'yesNo', 'rating', 'level', 'crop', 'rows'])

/** A short word as the table's own key has it, before what it means elsewhere; null where the key does not say, or says nothing that is read here. */
function byLegend(text: string, sense: Sense): CellRead | null {
  const { legend, column, answers } = sense
  if (legend === undefined || legend.size === 0 || !legendReads.has(column.reads)) return null
  const meaning = legend.get(plainWord(text))
  // Letters of ratings mean the same in every key.
  if (column.reads === 'rating' && Object.hasOwn(ratingWords, plainWord(text))) return null
  if (meaning === undefined || answers[wordKey(column.reads, text)] !== undefined) return null
  const read = readCell(meaning, { ...sense, legend: new Map() })
  return read.is === 'value' ? value(read.value, `${text} → ${meaning}, as the key says`) : null
}

export function figureOf(cell: Cell, { decimals }: Pick<Sense, 'decimals'>): Figure | null {
  if (typeof cell === 'number') return { value: clean(cell), unit: null, unitText: '', as: 'plain' }
  return typeof cell === 'string' ? readFigure(cell, decimals) : null
}

const told = (figure: Figure, text: string, read: number) =>
  figure.as === 'range'
    ? `${text} → ${read}, the middle`
    : figure.as === 'about' || figure.as === 'fraction'
      ? `${text} → ${read}`
      : undefined

function readAmount(cell: Cell, sense: Sense): CellRead {
  const { column, factor } = sense
  const text = textOf(cell)
  if (column.reads === 'count' && /^(?:none|none (?:found|detected|seen)|not (?:found|detected))$/i.test(text))
    return value(0, `${text} → 0`)
  const whole = figureOf(cell, sense)
  const figure = whole ?? readFigureAmong(text, sense.decimals)
  if (column.dimension === 'mass') {
    // “46 bags of 50#”
    const packs = packsOfPounds(text)
    if (packs !== null) return value(packs, `${text} → ${packs} lb`)
  }
  if (!figure) return bad(`“${text}” is not a number`)
  const { unit } = figure
  let times = factor
  if (unit !== null) {
    // Of a goal, pounds alone are pounds an acre.
    const isBare = (column.dimension === 'mass/area' || column.dimension === 'mass/pack') && unit.dimension === 'mass'
    const isCount =
      column.dimension === 'seeds/mass' &&
      (['each', 'mass', 'money/mass'].includes(unit.dimension) || /^cn?ts?\.?$/i.test(figure.unitText))
    if (isCount) times = 1
    else if (unit.dimension === column.dimension || isBare) times = unit.factor / (column.oneIs ?? 1)
    else return bad(`“${text}” is in another unit`)
  }
  // A hundredth of what is converted is as exact as anyone measures.
  let read = times === 1 ? clean(figure.value) : Math.round(figure.value * times * 100) / 100
  let says = whole ? told(figure, text, read) : `${text} → ${read}`
  // A year of two digits.
  if (column.id === 'year' && read >= 0 && read < 100) read += 2000
  if (times !== 1) says = `${text} → ${read}`
  if (column.reads === 'whole' && !Number.isInteger(read)) {
    read = Math.round(read)
    says = `${text} → ${read}`
  }
  return value(read, says)
}

function readShare(cell: Cell, sense: Sense): CellRead {
  const text = textOf(cell)
  if (/^(?:none|no)$/i.test(text)) return empty
  const figure = figureOf(cell, sense)
  if (!figure || (figure.unit && figure.unit.dimension !== 'share')) return bad(`“${text}” is not a percentage`)
  if (figure.unit) return value(clean(figure.value / 100), told(figure, text, clean(figure.value)))
  if (sense.shares === null && figure.value !== 0) return { is: 'open', key: `shares/${sense.heading}` }
  // 0.9 among 88 and 84: nobody has nine tenths of a percent.
  const [low = 0] = sense.column.usual ?? []
  if (sense.shares === 'percent' && figure.value > low && figure.value <= 1 && figure.value < 50 * low)
    return bad(`“${text}” could be ${clean(figure.value * 100)} % or ${text} %`)
  const read = clean(sense.shares === 'share' && figure.value <= 1 ? figure.value : figure.value / 100)
  return value(
    read,
    sense.shares === 'share' ? `${text} → ${clean(read * 100)} %` : told(figure, text, clean(read * 100)),
  )
}

function readMoney(cell: Cell, sense: Sense): CellRead {
  const text = textOf(cell)
  if (/^(?:free|none|no (?:charge|fee)|included)$/i.test(text)) return value(0, `${text} → $0`)
  const figure = figureOf(cell, sense)
  if (!figure) return bad(`“${text}” is not an amount of dollars`)
  const isTon = sense.column.id === 'centsPerTon'
  const { unit } = figure
  const perPound = isTon && (unit?.dimension === 'money/mass' || unit?.dimension === 'mass')
  if (unit && unit.dimension !== 'money' && !perPound) return bad(`“${text}” is not an amount of dollars`)
  let dollars = figure.value
  if (perPound)
    dollars = figure.value * (unit?.dimension === 'mass' ? 1 / (unit?.factor ?? 1) : (unit?.factor ?? 1)) * 2000
  // By the pound where a ton would cost next to nothing.
  else if (isTon && dollars > 0 && dollars < 2) dollars *= 2000
  const read = readDollars(String(clean(dollars)))
  if (!read.ok) return bad(`“${text}” has a fraction of a cent`)
  return value(read.value, clean(dollars) === figure.value ? undefined : `${text} → $${clean(dollars)} a ton`)
}

/** No day is set. */
const noDay =
  /^(?:none|no|no (?:returns?|refunds?|deadline|date|limit)|(?:non|not)[- ]?returnable|final|all sales final|open)$/i

function readADay(cell: Cell, sense: Sense): CellRead {
  const text = textOf(cell)
  if (noDay.test(text)) return empty
  const order = sense.order === 'both' ? undefined : sense.order
  const read = readDayText(typeof cell === 'boolean' ? text : cell, {
    order,
    season: sense.season,
    isFall: sense.isFall,
  })
  if (read.ok) {
    const isPlain = /^\d{4}-\d{2}-\d{2}$/.test(text)
    return value(read.value, isPlain && !read.addedYear ? undefined : `${text} → ${showDay(read.value)}`)
  }
  if (read.why === 'none') return bad(`“${text}” is not a date such as 2027-03-15`)
  if (sense.order === 'both') return bad(`“${text}” could be month or day first, and the column has both`)
  return { is: 'open', key: 'days' }
}

function readAMonthDay(cell: Cell, sense: Sense): CellRead {
  const own = readMonthDay(textOf(cell))
  if (own.ok) return value(own.value)
  const read = readADay(cell, sense)
  return read.is === 'value' ? value(String(read.value).slice(5), read.says) : read
}

/** The answer to a word, where one was given; else the word is asked about. */
function askOr(
  kind: string,
  word: string,
  choices: readonly string[],
  suggestion: string | null,
  { answers }: Sense,
  of: (answer: string) => unknown,
): CellRead {
  const answer = answers[wordKey(kind, word)]
  const asked: AskedWord = { kind, word, suggestion, choices }
  if (answer === undefined) return { is: 'asked', word: asked }
  return answer === '' ? empty : { is: 'value', value: of(answer), says: `${word} → ${answer}`, word: asked }
}

function readName(text: string, kind: string, sense: Sense): CellRead {
  const known = sense.names.get(plainName(text))
  if (known !== undefined) return value(known, known === text ? undefined : `${text} → ${known}`)
  const choices = choicesIn(sense.names)
  const near = nearest(text, choices)
  const answer = sense.answers[wordKey(kind, text)]
  if (near || answer !== undefined) return askOr(kind, text, choices, near?.name ?? null, sense, (name) => name)
  return value(text.normalize('NFC'))
}

function readChoice(text: string, id: string, sense: Sense): CellRead {
  const heading = sense.heading.toLowerCase()
  const is = yesOrNo(text)
  if (
    id === 'water' &&
    is !== null &&
    (/^(y|yes|true|x|n|no|false|✓|✔)$/i.test(plainWord(text)) ||
      (/irr|pivot|dry|\?/.test(heading) && /^[01]$/.test(text)))
  ) {
    const isDry = /dry|rain/.test(heading) && !/irr|pivot/.test(heading)
    return value(is === isDry ? 'dryland' : 'irrigated')
  }
  if (id === 'oilType' && is !== null && /oleic|ho\b/.test(heading)) return value(is ? 'high oleic' : 'normal')
  if (id === 'tillage' && is !== null && /strip|conv/.test(heading))
    return value(is === /strip/.test(heading) ? 'strip' : 'conventional')
  const answer = sense.answers[wordKey(id, text)]
  const { value: meant, isSure } = senseOfWord(id, text)
  if (meant !== null && isSure && answer === undefined) {
    const asked = { kind: id, word: text, suggestion: meant, choices: valuesOf(id) }
    return plainWord(text) === meant
      ? value(meant)
      : { is: 'value', value: meant, says: `${text} → ${meant}`, word: asked }
  }
  return askOr(id, text, valuesOf(id), meant, sense, (word) => word)
}

function readRating(cell: Cell, sense: Sense): CellRead {
  const text = textOf(cell)
  const figure = figureOf(cell, sense)
  if (figure && (figure.unit === null || figure.unit.dimension === 'each')) {
    const { scale } = sense
    if (scale === null) return { is: 'open', key: 'scale/rating' }
    if (figure.value < scale.low || figure.value > scale.high)
      return bad(`“${text}” is not on the scale ${scale.low}–${scale.high}`)
    const read = toRating(figure.value, scale)
    return value(read, read === figure.value ? undefined : `${text} → ${read}`)
  }
  const word = plainWord(text.replace(/[([][^)\]]*[)\]]/g, ' ')) || text.trim().toLowerCase()
  const answer = sense.answers[wordKey('rating', text)]
  const known = Object.hasOwn(ratingWords, word) ? ratingWords[word] : undefined
  const choices = ['1', '2', '3', '4', '5', '6', '7', '8', '9']
  if (known !== undefined && answer === undefined) {
    return {
      is: 'value',
      value: known,
      says: `${text} → ${known}`,
      word: { kind: 'rating', word: text, suggestion: String(known), choices },
    }
  }
  const parts = word.split(/[\s/-]+/).map((part) => (Object.hasOwn(ratingWords, part) ? ratingWords[part] : undefined))
  const both =
    parts.length > 1 && parts.every((part) => part !== undefined)
      ? Math.round((parts as number[]).reduce((sum, part) => sum + part, 0) / parts.length)
      : null
  return askOr('rating', text, choices, both === null ? null : String(both), sense, Number)
}

function readLevel(cell: Cell, sense: Sense): CellRead {
  const figure = figureOf(cell, sense)
  if (figure && figure.unit === null && figure.value !== 0) {
    const { scale } = sense
    if (scale === null) return { is: 'open', key: 'scale/level' }
    if (figure.value < scale.low || figure.value > scale.high)
      return bad(`“${textOf(cell)}” is not on the scale ${scale.low}–${scale.high}`)
    const read = toLevel(figure.value, scale)
    return value(read, `${textOf(cell)} → ${read}`)
  }
  if (figure && figure.unit === null && sense.scale !== null && sense.scale.low <= 0)
    return value(toLevel(0, sense.scale))
  return readChoice(textOf(cell), 'level', sense)
}

const usualCrops = ['peanut', 'cotton', 'corn', 'soybean', 'wheat', 'sorghum', 'tobacco', 'watermelon', 'bahiagrass']

function readCrop(text: string, sense: Sense): CellRead {
  const answer = sense.answers[wordKey('crop', text)]
  const { crop, isKnown } = cropOf(text)
  if (answer === undefined && isKnown) {
    const asked = { kind: 'crop', word: text, suggestion: crop, choices: [] }
    return plainWord(text) === plainWord(crop)
      ? value(crop)
      : { is: 'value', value: crop, says: `${text} → ${crop}`, word: asked }
  }
  const slip = answer === undefined ? cropSlip(text) : null
  if (slip !== null)
    return {
      is: 'value',
      value: slip,
      says: `${text} → ${slip}`,
      word: { kind: 'crop', word: text, suggestion: slip, choices: [] },
    }
  const letter = text.trim().length === 1 && crop !== text.trim() ? crop : undefined
  const near = letter === undefined ? nearest(text, usualCrops)?.name : undefined
  return askOr('crop', text, [], near ?? letter ?? text, sense, (word) => word)
}

/** A history with a crop in it that nobody knows: the first of them is asked about. */
function cropsAsked(crops: readonly Grown[], sense: Sense): CellRead {
  const out: Grown[] = []
  for (const { season, crop } of crops) {
    const read = readCrop(crop, sense)
    if (read.is === 'asked') return read
    if (read.is === 'value') out.push({ season, crop: String(read.value) })
  }
  return value(out)
}

export interface RowsRead {
  rowSpacingIn?: number
  rowPattern?: string
}

/** Spacing, pattern or both: 36 · `38"` · twin · “36 in twin” · Y under “Twin?”. */
function readRows(cell: Cell, sense: Sense): CellRead {
  const text = textOf(cell)
  const heading = sense.heading.toLowerCase()
  const is = yesOrNo(text)
  if (
    is !== null &&
    /twin|single/.test(heading) &&
    !/\d{2}/.test(text) &&
    !(/^[12]$/.test(text) && /row|sp/.test(heading))
  ) {
    const isTwin = /twin/.test(heading) === is
    return value({ rowPattern: isTwin ? 'twin' : 'single' } satisfies RowsRead)
  }
  const words = text
    .replace(/[\d.,½]+\s*(?:"|''|″|”|inch(?:es)?|ins?\b\.?|cm\b|ft\b|feet|'|on center|centers?)?/gi, ' ')
    .replace(/\brows?\b|\bx\b|[/,()+&-]|\bin\b\.?|\bcenters?\b|\bspacing\b|\bon\b/gi, ' ')
    .trim()
  // “6-row, 36 in twin”: the planter’s rows are no spacing.
  const spacing = text.replace(/\b\d{1,2}\s*-?\s*rows?\b/gi, ' ')
  const found = /(\d+(?:\.\d+)?)\s*(cm\b|ft\b|feet\b|'(?!'))?/i.exec(spacing)
  const out: RowsRead = {}
  if (found) {
    const inches = clean(
      Number(found[1]) *
        (/cm/i.test(found[2] ?? '') ? 1 / 2.54 : /ft|feet|'/i.test(found[2] ?? '') ? 12 : sense.factor),
    )
    const rounded = Math.round(inches * 10) / 10
    if (rounded < 12 || rounded > 72) return bad(`“${text}” is no row spacing in inches`)
    out.rowSpacingIn = rounded
  }
  if (words !== '') {
    const answer = sense.answers[wordKey('rowPattern', words)]
    const { value: meant, isSure } = senseOfWord('rowPattern', words)
    if (answer !== undefined) {
      if (answer !== '') out.rowPattern = answer
    } else if (meant !== null && isSure) out.rowPattern = meant
    else return askOr('rowPattern', words, valuesOf('rowPattern'), meant, sense, (word) => word)
  }
  if (out.rowSpacingIn === undefined && out.rowPattern === undefined)
    return bad(`“${text}” is neither a row spacing nor single or twin`)
  return value(
    out,
    String(out.rowSpacingIn ?? out.rowPattern) === text
      ? undefined
      : `${text} → ${[out.rowSpacingIn === undefined ? '' : `${out.rowSpacingIn} inches`, out.rowPattern ?? ''].filter((part) => part !== '').join(', ')}`,
  )
}
