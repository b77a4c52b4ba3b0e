/**
 * What the house book says of one threat, read once: a season's options ask for it half a million times. A threat
 * that a farm adds itself has the same rows to fill in; what has no row takes nothing away and adds nothing.
 */
import { rangeOf, type Book, type Range } from '../assumption.ts'
import {
  pressureLevels,
  rowPatterns,
  tillages,
  waters,
  type PressureLevel,
  type RowPattern,
  type Tillage,
  type Water,
} from '../field.ts'
import type { Problem } from '../problem.ts'
import type { Threat } from '../threat.ts'
import { windowKinds, type WindowKind } from '../window.ts'

export interface ThreatTable {
  name: string
  /** Losses of leaf diseases also go by the vine. */
  isLeaf: boolean
  isNematode: boolean
  /** [share] by rating; index 1–9, index 0 unused. */
  share: number[]
  /** [share of yield] of a variety rated 9 under reference practices, by pressure level. */
  loss: Record<PressureLevel, Range>
  window: Record<WindowKind, number>
  rows: Record<RowPattern, number>
  water: Record<Water, number>
  tillage: Record<Tillage, number>
  /** By whole seasons since the last crop, the last entry for that many or more. */
  yearsOut: number[]
  /** [share per plant/ft] more loss for each plant a foot below the reference stand, less above. */
  perMissingPlant: Record<RowPattern, number>
  /** [plants/ft] */
  referenceStand: number
  /** [×] that the stand can do at the least and at the most. */
  standEffect: { least: number; most: number }
  /** [per 100 cc] count from which each level holds; null where a soil count does not speak of this threat. */
  countFrom: Record<PressureLevel, number> | null
  /** Keys of the rows that the book has for this threat. */
  keys: ReadonlySet<string>
}

/** Key of a threat's row: `threat/spotted wilt/loss/high`. */
export function threatKey(threat: string, rest: string): string {
  return `threat/${threat}/${rest}`
}

/** Key of the row that S(rating) of a threat comes from: its own, or the one for all threats. */
export function shareKey(rows: Pick<ReadonlySet<string>, 'has'>, threat: string, rating: number): string {
  const own = threatKey(threat, `share/${rating}`)
  return rows.has(own) ? own : `share/${rating}`
}

/** Rows that give B at a level: a loss as such, or a severity and the slope of loss on it. Empty where there is none. */
export function lossKeys(rows: Pick<ReadonlySet<string>, 'has'>, threat: string, level: PressureLevel): string[] {
  const at = (rest: string) => threatKey(threat, rest)
  if (rows.has(at(`loss/${level}`))) return [at(`loss/${level}`)]
  const both = [at(`severity/${level}`), at('slope')]
  return both.every((key) => rows.has(key)) ? both : []
}

/**
 * Reads one threat's rows. B(level) stands in the book itself (`loss/high`) or, where the literature has a slope, is
 * severity × slope (`severity/high`, `slope`); a loss that stands there goes before. A factor without a row is 1.
 */
export function readThreat(book: Book, threat: Threat): ThreatTable {
  const at = (rest: string) => threatKey(threat.name, rest)
  const each = <Key extends string>(keys: readonly Key[], topic: string) =>
    Object.fromEntries(keys.map((key) => [key, book.numberOr(at(`${topic}/${key}`), 1)])) as Record<Key, number>
  const byLevel = <Value>(value: (level: PressureLevel) => Value) =>
    Object.fromEntries(pressureLevels.map((level) => [level, value(level)])) as Record<PressureLevel, Value>
  const yearsOut: number[] = []
  while (book.rows.has(at(`years out/${yearsOut.length}`))) {
    yearsOut.push(book.number(at(`years out/${yearsOut.length}`)))
  }
  const counted = pressureLevels.some((level) => book.rows.has(at(`count from/${level}`)))
  return {
    name: threat.name,
    isLeaf: threat.kind === 'leaf',
    isNematode: threat.kind === 'nematode',
    share: Array.from({ length: 10 }, (_, rating) =>
      rating === 0 ? 0 : book.number(shareKey(book.rows, threat.name, rating)),
    ),
    loss: byLevel((level) => lossAt(book, threat.name, level)),
    window: each(windowKinds, 'window'),
    rows: each(rowPatterns, 'rows'),
    water: each(waters, 'water'),
    tillage: each(tillages, 'tillage'),
    yearsOut,
    perMissingPlant: Object.fromEntries(
      rowPatterns.map((rows) => [rows, book.numberOr(at(`per missing plant/${rows}`), 0)]),
    ) as Record<RowPattern, number>,
    referenceStand: book.number('stand/reference'),
    standEffect: { least: book.number('stand/effect/least'), most: book.number('stand/effect/most') },
    countFrom: counted ? byLevel((level) => book.numberOr(at(`count from/${level}`), Number.POSITIVE_INFINITY)) : null,
    keys: new Set([...book.rows.keys()].filter((key) => key.startsWith(at('')))),
  }
}

/** Product of the rows' values, and of their ends where these are known, held to a whole crop. */
function lossAt(book: Book, threat: string, level: PressureLevel): Range {
  const ranges = lossKeys(book.rows, threat, level).map((key) => rangeOf(book.row(key)))
  const product = (end: keyof Range) =>
    ranges.length === 0
      ? 0
      : Math.min(
          1,
          ranges.reduce((share, range) => share * range[end], 1),
        )
  return { low: product('low'), usual: product('usual'), high: product('high') }
}

/** What has to be said of the threats of a season: those that nothing in the book gives a loss for. */
export function threatNotices(tables: readonly ThreatTable[]): Problem[] {
  return tables
    .filter(({ name, keys }) => pressureLevels.every((level) => lossKeys(keys, name, level).length === 0))
    .map((table) => ({
      code: 'missing',
      what: `The book does not say what ${table.name} takes, so it counts as no loss.`,
      where: { table: 'threat', name: table.name, path: threatKey(table.name, 'loss/high') },
      remedy: 'Enter the share of yield lost at each level in the book, or leave it out of account.',
    }))
}
