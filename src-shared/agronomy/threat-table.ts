/**
 * What the assumptions say of one disease or pest, read once: a season's options ask for it half a million times. One
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
  /** What its share is of: of the leaves, where severity is told by missing leaves; otherwise of the yield. */
  takes: 'leaves' | 'yield'
  /** [share] of a variety rated 9 without sprays, by pressure level. */
  base: Record<PressureLevel, Range>
  /** [share prevented] by the spray program that yield goals have in them. */
  usualControl: number
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
  /** [plants/ft] The stands that were studied; beyond them a stand counts as the nearest. */
  standMeasured: { from: number; to: number }
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

/** True where the rows tell how many leaves it takes and not what yield: those go through the canopy. */
export function takesLeaves(rows: Pick<ReadonlySet<string>, 'has'>, threat: Pick<Threat, 'name' | 'kind'>): boolean {
  const at = (rest: string) => threatKey(threat.name, rest)
  return threat.kind === 'leaf' && !rows.has(at('loss/severe')) && rows.has(at('severity/severe'))
}

/**
 * Rows that give the share at a level: a loss as such, missing leaves, or a severity and the slope of loss on it. Empty
 * where there is none.
 */
export function lossKeys(
  rows: Pick<ReadonlySet<string>, 'has'>,
  threat: string,
  level: PressureLevel,
  isOfLeaves = false,
): string[] {
  const at = (rest: string) => threatKey(threat, rest)
  if (isOfLeaves) return rows.has(at(`severity/${level}`)) ? [at(`severity/${level}`)] : []
  if (rows.has(at(`loss/${level}`))) return [at(`loss/${level}`)]
  const both = [at(`severity/${level}`), at('slope')]
  return both.every((key) => rows.has(key)) ? both : []
}

/**
 * Reads the rows of one disease or pest. Its share at a level stands there itself (`loss/high`), as missing leaves
 * (`severity/high` of a leaf disease), or as severity × slope; a loss that stands there goes before. A factor without a
 * row is 1.
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
  const isOfLeaves = takesLeaves(book.rows, threat)
  const counted = pressureLevels.some((level) => book.rows.has(at(`count from/${level}`)))
  return {
    name: threat.name,
    isLeaf: threat.kind === 'leaf',
    isNematode: threat.kind === 'nematode',
    share: Array.from({ length: 10 }, (_, rating) =>
      rating === 0 ? 0 : book.number(shareKey(book.rows, threat.name, rating)),
    ),
    takes: isOfLeaves ? 'leaves' : 'yield',
    base: byLevel((level) => shareAtLevel(book, threat.name, level, isOfLeaves)),
    usualControl: book.numberOr(at('usual control'), 0),
    window: each(windowKinds, 'window'),
    rows: each(rowPatterns, 'rows'),
    water: each(waters, 'water'),
    tillage: each(tillages, 'tillage'),
    yearsOut,
    perMissingPlant: Object.fromEntries(
      rowPatterns.map((rows) => [rows, book.numberOr(at(`per missing plant/${rows}`), 0)]),
    ) as Record<RowPattern, number>,
    referenceStand: book.number('stand/reference'),
    standMeasured: { from: book.number('stand/measured from'), to: book.number('stand/measured to') },
    countFrom: counted ? byLevel((level) => book.numberOr(at(`count from/${level}`), Number.POSITIVE_INFINITY)) : null,
    keys: new Set([...book.rows.keys()].filter((key) => key.startsWith(at('')))),
  }
}

/** Product of the rows' values, and of their ends where these are known, held to a whole crop or canopy. */
function shareAtLevel(book: Book, threat: string, level: PressureLevel, isOfLeaves: boolean): Range {
  const ranges = lossKeys(book.rows, threat, level, isOfLeaves).map((key) => rangeOf(book.row(key)))
  // Missing leaves stand in points of a hundred.
  const unit = isOfLeaves ? 0.01 : 1
  const product = (end: keyof Range) =>
    ranges.length === 0
      ? 0
      : Math.min(
          1,
          ranges.reduce((share, range) => share * range[end], unit),
        )
  return { low: product('low'), usual: product('usual'), high: product('high') }
}

/** What has to be said of the threats of a season: those that nothing in the book gives a loss for. */
export function threatNotices(tables: readonly ThreatTable[]): Problem[] {
  return tables
    .filter(({ name, keys, takes }) =>
      pressureLevels.every((level) => lossKeys(keys, name, level, takes === 'leaves').length === 0),
    )
    .map((table) => ({
      code: 'missing',
      what: `The book does not say what ${table.name} takes, so it counts as no loss.`,
      where: { table: 'threat', name: table.name, path: threatKey(table.name, 'loss/high') },
      remedy: 'Enter the share of yield lost at each level in the book, or leave it out of account.',
    }))
}
