/**
 * The house book as a reader sees it: rows by topic, the default and the farm's own value side by side, and what each
 * row bears on. Pure; nothing is stored here.
 */
import type { Assumption } from '../assumption.ts'
import { contextOf } from '../agronomy/context.ts'
import { possibleRows, topicOf, topicOrder } from './topic.ts'
import { fail, type Result } from '../problem.ts'
import type { Season } from '../season.ts'
import { atMost } from '../show.ts'
import { bearsOn, type BearsOn } from './bears-on.ts'
import { changeRow, type RowChange } from './change.ts'
import { starterBook } from './starter.ts'

/** One row, both ways. At least one of `default`, `own` and `otherwise` says what is counted with. */
export interface LedgerRow {
  key: string
  topic: string
  unit: string
  affects: string
  /** From the starter set; null for rows that only this farm has. */
  default: Assumption | null
  /** The farm's; null where the default holds. */
  own: Assumption | null
  /** What is counted with now. */
  value: number | string
  isChanged: boolean
  /** What holds where no row was written, for a threat of the farm's own; null elsewhere. */
  otherwise: number | null
}

export interface LedgerTopic {
  topic: string
  rows: LedgerRow[]
}

/** “usually 353.9 to 630” where the farm's own value lies beyond the range of the default; null elsewhere. */
export function unusualOwn({ default: known, own }: Pick<LedgerRow, 'default' | 'own'>): string | null {
  if (typeof own?.value !== 'number' || known?.low === undefined || known.high === undefined) return null
  if (own.value >= known.low && own.value <= known.high) return null
  return `usually ${atMost(known.low, 4)} to ${atMost(known.high, 4)}`
}

/** The book of a season by topic: the starter set's rows, the farm's, and what a threat of its own could have. */
export function ledgerOf(season: Season): LedgerTopic[] {
  const topics = new Map<string, LedgerRow[]>(topicOrder.map((topic) => [topic, []]))
  for (const row of ledgerRows(season)) {
    const rows = topics.get(row.topic)
    if (rows) rows.push(row)
    else topics.set(row.topic, [row])
  }
  return [...topics].filter(([, rows]) => rows.length > 0).map(([topic, rows]) => ({ topic, rows }))
}

function ledgerRows(season: Season): LedgerRow[] {
  const defaults = new Map(starterBook.map((row) => [row.key, row]))
  const owns = new Map(season.assumptions.map((row) => [row.key, row]))
  const possible = season.threats
    // Threats that the starter set knows have their rows; only one that it does not know needs to be offered them.
    .filter((threat) => !starterBook.some((row) => row.key.startsWith(`threat/${threat.name}/`)))
    .flatMap(possibleRows)
  const otherwise = new Map(possible.map((row) => [row.key, row]))
  const keys = new Set([...defaults.keys(), ...owns.keys(), ...otherwise.keys()])
  return [...keys].map((key): LedgerRow => {
    const [known, own, blank] = [defaults.get(key) ?? null, owns.get(key) ?? null, otherwise.get(key)]
    return {
      key,
      topic: topicOf(key),
      unit: known?.unit ?? own?.unit ?? blank?.unit ?? '',
      affects: known?.affects ?? own?.affects ?? blank?.affects ?? '',
      default: known,
      own,
      value: own?.value ?? known?.value ?? blank?.otherwise ?? '',
      isChanged: own !== null,
      otherwise: blank?.otherwise ?? null,
    }
  })
}

/** What a row bears on: what it says itself, and what in this season uses it now. */
export interface Bearing extends BearsOn {
  affects: string
}

/** For the note beside a change: what it will be felt in; ground that rests is not planned, so nothing is felt there. A key that the book does not have bears on nothing. */
export function bearingOf(season: Season, key: string): Bearing {
  const affects = ledgerRows(season).find((row) => row.key === key)?.affects ?? ''
  const planned = { ...season, fields: season.fields.filter(({ rests }) => !rests) }
  return { affects, ...bearsOn(contextOf(planned), key) }
}

/**
 * Sets the farm's own value in a row.
 * @returns the season with the row replaced, its source kind `the farm`; or why it cannot be
 */
export function setAssumption(season: Season, key: string, change: RowChange): Result<Season> {
  const row = ledgerRows(season).find((each) => each.key === key)
  if (!row) {
    return fail({
      code: 'unknown-name',
      what: `The book has no row ${key}.`,
      where: { table: 'assumption', path: key },
      remedy: 'Choose a row of the book.',
    })
  }
  const isWord = typeof row.value === 'string'
  const found = row.default ?? row.own ?? { key, unit: row.unit, affects: row.affects }
  const from = row.own ? { ...found, low: row.own.low, high: row.own.high } : found
  const rows = changeRow(season.assumptions, from, isWord, change)
  return rows.ok ? { ok: true, value: { ...season, assumptions: rows.value } } : rows
}
