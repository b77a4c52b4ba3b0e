/** Crop words and whole histories of a cell → season and crop. Pure. */
import { cropKind } from '../crop.ts'
import { cropLetters, cropWords, emptyWords } from './choices.ts'
import { isSlip } from './near.ts'

export interface Grown {
  season: number
  crop: string
}

/** @returns the crop as it is kept, and whether its word is known */
export function cropOf(text: string): { crop: string; isKnown: boolean } {
  const plain = text.trim().toLowerCase().replace(/\s+/g, ' ').replace(/\.$/, '')
  // One letter: P is the farm's crop; C may be cotton or corn, and is asked about.
  const letter = plain.length === 1 ? cropLetters[plain] : undefined
  if (letter !== undefined) return { crop: letter, isKnown: plain === 'p' }
  const known = Object.hasOwn(cropWords, plain) ? cropWords[plain] : undefined
  if (known !== undefined) return { crop: known, isKnown: true }
  // Two crops of a year, as wheat/soybeans: both are kept.
  const parts = plain.split(/\s*(?:\/|&|\+|\band\b|\bthen\b|,)\s*/)
  if (parts.length > 1 && parts.every((part) => Object.hasOwn(cropWords, part)))
    return { crop: parts.map((part) => cropWords[part]).join('/'), isKnown: true }
  return { crop: text.trim(), isKnown: cropKind(text) !== 'unknown' }
}

/** A crop with a slip of typing in it, where it can be one crop only: “cottin”. */
export function cropSlip(text: string): string | null {
  const plain = text.trim().toLowerCase().replace(/\.$/, '')
  const near = new Set(
    Object.entries(cropWords).flatMap(([word, crop]) => (word.length >= 6 && isSlip(plain, word) ? [crop] : [])),
  )
  const [only] = near
  return near.size === 1 && only !== undefined ? only : null
}

const yearIn = /(?:^|[^\d])((?:19|20)\d{2}|'\d{2}|\d{2}(?=\s*[-:= ]\s*[a-z]))/i

const fullYear = (text: string) => {
  const digits = text.replace(/\D/g, '')
  return digits.length === 4 ? Number(digits) : 2000 + Number(digits)
}

/**
 * Season of each crop column of a table, by heading. “Crop before” is of last season where no other column is, and of the one
 * before it beside “Last crop”.
 */
export function seasonsOfHeadings(headings: readonly string[], season: number): Map<string, number | null> {
  const out = new Map(headings.map((heading) => [heading, seasonOfHeading(heading, season)]))
  const before = headings.filter((heading) => /\bbefore\b/i.test(heading) && out.get(heading) === season - 2)
  const isLastThere = [...out].some(([heading, year]) => year === season - 1 && !before.includes(heading))
  const [only] = before
  if (before.length === 1 && only !== undefined && !isLastThere) out.set(only, season - 1)
  return out
}

/** Which season a heading’s crop is of: “2025”, “’25 Crop”, “Crop 25”, “Last year”, “2 yrs ago”. Null where it says none. */
export function seasonOfHeading(heading: string, season: number): number | null {
  const text = heading
    .replace(/([a-z])([A-Z0-9])/g, '$1 $2')
    .replace(/[_.]+/g, ' ')
    .toLowerCase()
  const four = /(?:^|\D)((?:19|20)\d{2})(?!\d)/.exec(text)
  if (four) return Number(four[1])
  const two = /(?:^|[^\d])(?:'|’|fy|cy|crop\s*|^)(\d{2})(?!\d)/.exec(text) ?? /^(\d{2})\s*(?:crop|$)/.exec(text.trim())
  if (two) return 2000 + Number(two[1])
  const ago = /(\d|one|two|three|four)\s*(?:yrs?|years?)\.?\s*(?:ago|back|prior)/.exec(text)
  if (ago)
    return (
      season -
      (['', 'one', 'two', 'three', 'four'].indexOf(ago[1] as string) > 0
        ? ['', 'one', 'two', 'three', 'four'].indexOf(ago[1] as string)
        : Number(ago[1]))
    )
  if (/(?:year|yr|crop|one) before|before (?:last|that)/.test(text)) return season - 2
  const minus = /(?:prev(?:ious)?|prior|last|crop|yr|year)?\s*-\s*(\d)$/.exec(text.trim())
  if (minus) return season - Number(minus[1])
  if (/\b(last|previous|prev|prior)\b/.test(text)) {
    const nth = /(\d)\s*$/.exec(text.trim())
    return season - (nth ? Number(nth[1]) : 1)
  }
  return null
}

export type HistoryOrder = 'newest' | 'oldest'

export type HistoryRead = { ok: true; crops: Grown[]; unknown: string[] } | { ok: false; why: 'order' | 'none' }

/** A whole history in one cell: “2026 cotton; 2025 corn” · “26 ctn, 25 crn” · “cotton/corn/peanut” · “C-C-P”. */
export function readHistory(cell: string, season: number, order: HistoryOrder | undefined): HistoryRead {
  const text = cell.trim()
  const parts = text.split(/\s*(?:;|,|\n|\||→|->|>)\s*|\s+-\s+/).filter((part) => part !== '')
  const dated = parts.map((part) => datedCrop(part))
  if (dated.every((part) => part !== null)) return done(dated)
  // Years run on without marks between them: “26 cotton 25 corn 24 peanuts”.
  const runs = [
    ...text.matchAll(
      /((?:19|20)\d{2}|'?\d{2})\s*[-:=]?\s*([a-z][a-z .]*?)(?=[\s,;/]*(?:(?:19|20)\d{2}|'?\d{2})\b|[\s,;/]*$)/gi,
    ),
  ]
  if (
    runs.length > 1 &&
    runs
      .map(([found]) => found)
      .join('')
      .replace(/[\s,;/]/g, '').length === text.replace(/[\s,;/]/g, '').length
  )
    return done(runs.map(([, year = '', crop = '']) => ({ season: fullYear(year), crop: crop.trim() })))
  if (/\d/.test(text)) return { ok: false, why: 'none' }
  const words = text.split(/\s*[;,\n|→>/-]+\s*/).filter((part) => part !== '')
  const isLetters = words.length > 1 && words.every((word) => word.length === 1)
  if (words.length === 0 || (isLetters && words.some((word) => cropLetters[word.toLowerCase()] === undefined)))
    return { ok: false, why: 'none' }
  const several = words
  if (several.length > 1 && order === undefined && new Set(several.map((crop) => cropOf(crop).crop)).size > 1)
    return { ok: false, why: 'order' }
  const newestFirst = order === 'oldest' ? several.toReversed() : several
  return done(newestFirst.map((crop, at) => ({ season: season - 1 - at, crop })))

  function done(grown: (Grown | null)[]): HistoryRead {
    const crops = (grown as Grown[]).filter(({ crop }) => !emptyWords.has(crop.toLowerCase()))
    if (crops.some(({ season: year }) => year < 1950 || year > season + 1)) return { ok: false, why: 'none' }
    const read = crops.map(({ season: year, crop }) => ({ season: year, written: crop, ...cropOf(crop) }))
    return {
      ok: true,
      crops: read.map(({ season: year, crop, written, isKnown }) => ({ season: year, crop: isKnown ? crop : written })),
      unknown: read.filter(({ isKnown }) => !isKnown).map(({ crop }) => crop),
    }
  }
}

function datedCrop(part: string): Grown | null {
  const before = /^'?(\d{4}|\d{2})\s*[-:=.]?\s*([a-z].*)$/i.exec(part)
  const after = /^([a-z][a-z ./]*?)\s*[-:=(]?\s*'?(\d{4}|\d{2})\)?$/i.exec(part)
  const [year, crop] = before ? [before[1], before[2]] : after ? [after[2], after[1]] : []
  return year === undefined || crop === undefined || yearIn.test(crop)
    ? null
    : { season: fullYear(year), crop: crop.trim() }
}
