/**
 * A number as people write it in a cell: “~140”, “145–150”, “1/2”, `36"`, “1,400 bags”, “$47.25/bag”. What was read otherwise
 * than it stands is said, so that it can be shown. Pure.
 */
import { unitOf, type Unit } from './units.ts'

export interface Figure {
  value: number
  /** As it stands in the cell, and as what it was known; null where none stands there. */
  unit: Unit | null
  unitText: string
  /** How it is not plainly a number. */
  as: 'plain' | 'about' | 'range' | 'fraction'
  /** [its own unit] of a range. */
  low?: number
  high?: number
}

/** What stands before the decimals. */
export type Decimals = 'point' | 'comma'

const about =
  /^(?:[~≈±<>≤≥]|(?:approx(?:imately)?|about|abt|around|roughly|est(?:imated)?|circa|ca|near|nearly|appx|avg|up to|only|at least|min|max)\b\.?:?)\s*/i
const quarters: Record<string, number> = {
  '½': 1 / 2,
  '¼': 1 / 4,
  '¾': 3 / 4,
  '⅓': 1 / 3,
  '⅔': 2 / 3,
  '⅛': 1 / 8,
  '⅜': 3 / 8,
  '⅝': 5 / 8,
  '⅞': 7 / 8,
}
const digits = String.raw`(?:\d[\d,.' \u00a0\u202f]*\d|\d)(?:[½¼¾⅓⅔⅛⅜⅝⅞])?|[½¼¾⅓⅔⅛⅜⅝⅞]|\.\d+`
const fraction = String.raw`(?:\d+[ -])?\d+\s*\/\s*\d+`
const one = new RegExp(String.raw`^([-+−(]?)\s*(\$?)\s*(${fraction}(?![\d/])|${digits})`)
const between = /^\s*(?:-|–|—|to\b|thru\b|through\b|\.\.+)\s*(?=[$.\d½¼¾])/i

/** The digits with thousands and decimals in the order given; null where they are none in it. */
export function plainNumber(text: string, decimals: Decimals): number | null {
  const tight = text.replace(/(\d)[ \u00a0\u202f'](?=\d{3}(?!\d))/g, '$1').trim()
  const [thousand, point] = decimals === 'point' ? [',', '.'] : ['.', ',']
  const whole = String.raw`(?:\d{1,3}(?:[${thousand}]\d{3})+|\d+)`
  if (!new RegExp(String.raw`^(?:${whole}(?:[${point}]\d*)?|[${point}]\d+)$`).test(tight)) return null
  const value = Number(tight.replaceAll(thousand, '').replace(point, '.'))
  return Number.isFinite(value) ? value : null
}

function amountOf(text: string, decimals: Decimals): { value: number; isFraction: boolean } | null {
  const parts = /^(?:(\d+)[ -])?(\d+)\s*\/\s*(\d+)$/.exec(text)
  if (parts) {
    const [whole, above, below] = [Number(parts[1] ?? 0), Number(parts[2]), Number(parts[3])]
    // 3/15 is a day, not a fifth: halves, thirds, quarters, eighths, sixteenths only.
    if (![2, 3, 4, 8, 16].includes(below) || above >= below) return null
    return { value: whole + above / below, isFraction: true }
  }
  const quarter = quarters[text.at(-1) ?? '']
  if (quarter !== undefined) {
    const before = text.slice(0, -1).trim()
    const whole = before === '' ? 0 : plainNumber(before, decimals)
    return whole === null ? null : { value: whole + quarter, isFraction: true }
  }
  const value = plainNumber(text, decimals)
  return value === null ? null : { value, isFraction: false }
}

/** Words in brackets beside a number say how it is known, as (GPS) or (est). */
const aside = /\s*[([][^)\]]*[)\]]\s*$/

/** @returns null where the cell holds no number, or more than one that are no range */
export function readFigure(cell: string, decimals: Decimals = 'point'): Figure | null {
  let text = cell.trim().replace(/\s+/g, ' ')
  let as: Figure['as'] = 'plain'
  const isNegative = /^\(\s*\$?[\d.,]+\s*\)$/.test(text)
  if (isNegative) text = `-${text.slice(1, -1)}`
  for (let before = about.exec(text); before; before = about.exec(text)) {
    text = text.slice(before[0].length)
    as = 'about'
  }
  const first = one.exec(text)
  if (!first) return null
  const [found, sign = '', dollar = '', digitsFound = ''] = first
  const amount = amountOf(digitsFound.trim(), decimals)
  if (!amount) return null
  let rest = text.slice(found.length)
  let value = amount.value
  if (amount.isFraction) as = as === 'plain' ? 'fraction' : as
  let range: { low: number; high: number } | null = null
  // A unit may stand at both ends: 145 lb – 150 lb.
  const gap = between.exec(rest) ?? /^\s*[a-z"#/%]{1,8}\s*(?:-|–|—|to)\s*(?=[$.\d])/i.exec(rest)
  if (gap) {
    const second = one.exec(rest.slice(gap[0].length).trim())
    const other = second && amountOf((second[3] ?? '').trim(), decimals)
    if (!second || !other) return null
    // 145–50 is 145–150; a second that is less is no range.
    let high = other.value
    if (high < value && Number.isInteger(value) && Number.isInteger(high)) {
      const places = String(high).length
      if (String(value).length > places) high += Math.floor(value / 10 ** places) * 10 ** places
    }
    if (high < value) return null
    range = { low: value, high }
    value = (value + high) / 2
    as = 'range'
    rest = rest.slice(gap[0].length).trim().slice(second[0].length)
  }
  const spread = /^\s*(?:\+\s*\/\s*-|±|\+-)\s*[\d.]+/.exec(rest)
  if (spread) {
    rest = rest.slice(spread[0].length)
    as = 'about'
  }
  if (/^\s*k\b/i.test(rest)) {
    value *= 1000
    rest = rest.replace(/^\s*k\b/i, '')
  }
  rest = rest.replace(aside, '').trim()
  if (
    /^\+(?!\d)|[+*?†‡!]+$|^\s*(?:or so|plus|approx\.?|est\.?|or more|\(est\)|avg\.?|roughly|ish|max\.?|min\.?|total|gps|fsa|each way)$/i.test(
      rest,
    )
  ) {
    rest = rest
      .replace(/^\+(?!\d)/, '')
      .replace(/[+*?†‡!]+$/, '')
      .replace(/^(?:or so|plus|approx\.?|est\.?|or more|avg\.?|roughly|ish|max\.?|min\.?|total|gps|fsa|each way)$/i, '')
      .trim()
    as = as === 'plain' ? 'about' : as
  }
  rest = rest.replace(/^[,;:.]+|[.,;:]+$/g, '').trim()
  const unitText =
    rest === ''
      ? dollar === ''
        ? ''
        : '$'
      : dollar === ''
        ? rest
        : /^(\/|per|an?\b|each|ea)/i.test(rest)
          ? `$${/^(each|ea)/i.test(rest) ? '/ea' : rest}`
          : `$/${rest}`
  const unit = unitText === '' ? null : unitOf(unitText)
  if (unitText !== '' && unit === null) return null
  if (/[-−(]/.test(sign)) value = -value
  return { value: clean(value), unit, unitText, as, ...(range ?? {}) }
}

/** Words that say how much of it there is, beside the figure itself: “Medium (140)”, “Lg 640/lb”. */
const beside =
  /\b(?:very|extra|early|mid|med|medium|late|full|season|small|sm|large|lg|lrg|big|short|long|high|low|average|avg|normal|standard|runner|type|abt|days?|loose|bulk|left)\b\.?/gi

/** As `readFigure`, also where words of size or season stand beside the figure. */
export function readFigureAmong(cell: string, decimals: Decimals = 'point'): Figure | null {
  const plain = readFigure(cell, decimals)
  if (plain) return plain
  const bare = cell
    .replace(beside, ' ')
    .replace(/[()[\]/,;:–-]+(?=\s|$)|(?:^|\s)[()[\]/,;:–-]+/g, ' ')
    .replace(/[()[\]]/g, ' ')
    .replace(/\s+/g, ' ')
    .trim()
  return bare === cell.trim() || bare === '' ? null : readFigure(bare, decimals)
}

/** Without what binary fractions add in the last places. */
export const clean = (value: number) => Number(value.toPrecision(12))
