/** Changing a row of the house book: the farm's own value takes the place of the default, and says so. Pure. */
import type { Assumption } from '../assumption.ts'
import { vineActions } from '../agronomy/vine.ts'
import { pressureLevels } from '../field.ts'
import { vineClasses } from '../variety.ts'
import { marketTypes } from './loan-rates.ts'
import { fail, ok, type Problem, type Result } from '../problem.ts'

/** What the farm wants in a row. `source` is why, in its own words. */
export interface RowChange {
  value: number | string
  source?: string
  /** Ends of the range; absent: as they are, null: none. */
  low?: number | null
  high?: number | null
}

/** Least and most that a row of this unit takes. Both allowed. */
export function limitsOf(row: Pick<Assumption, 'key' | 'unit'>): { least: number; most: number } {
  const { key, unit } = row
  if (unit.startsWith('share per')) return { least: -1, most: 1 }
  if (unit.startsWith('share')) return { least: 0, most: 1 }
  if (unit.startsWith('×')) return { least: 0, most: 10 }
  // A vine's cost may be a saving; a regulator may also cost yield.
  if (key.startsWith('vine/')) return { least: -10_000, most: 10_000 }
  if (unit.startsWith('points of')) return { least: 0, most: 100 }
  if (unit.startsWith('seeds/ft') || unit.startsWith('plants/ft')) return { least: 0.5, most: 30 }
  if (unit === 'power') return { least: 1, most: 5 }
  if (unit === 'whole seasons') return { least: 0, most: 20 }
  if (unit === 'rating') return { least: 1, most: 9 }
  if (unit === '°F') return { least: 0, most: 130 }
  // Fifty years: further on, a calendar has no day to name.
  if (unit.startsWith('calendar months')) return { least: 0, most: 600 }
  return { least: 0, most: 1_000_000 }
}

/** The words that a row of words takes; null where it takes any name, or a day of the calendar. */
export function wordsOf(key: string): readonly string[] | null {
  if (key === 'load/market type') return marketTypes
  if (key === 'usual/vine') return vineClasses
  if (key === 'rotation/trial/pressure') return pressureLevels
  return key.startsWith('vine/') ? vineActions : null
}

/** True where the row holds a month and a day. */
export const isMonthDayRow = (key: string) =>
  /^(date\/best (from|until)|ripening\/(usual planting day|counts from|counts until|cool from)|calendar\/last .*)$/.test(
    key,
  )

/**
 * The farm's rows with one changed. Unit and what it affects stay the default's, and so does the range until the farm
 * gives its own: they still say what others found. The source becomes the farm's.
 * @param rows the farm's own rows @param row the row in force, or a possible one, that is changed
 * @returns all of the farm's rows, the changed one last; or why the value does not fit
 */
export function changeRow(
  rows: readonly Assumption[],
  row: Omit<Assumption, 'value' | 'source' | 'sourceKind'>,
  isWord: boolean,
  change: RowChange,
): Result<Assumption[]> {
  const problem = isWord ? wordProblem(row.key, change.value) : numberProblem(row, change.value)
  if (problem) return fail(problem)
  const { key, unit, affects } = row
  const low = change.low === undefined ? row.low : (change.low ?? undefined)
  const high = change.high === undefined ? row.high : (change.high ?? undefined)
  const askew = rangeProblem(row, isWord, change, low, high)
  if (askew) return fail(askew)
  const changed: Assumption = {
    key,
    value: change.value,
    unit,
    ...(low === undefined ? {} : { low }),
    ...(high === undefined ? {} : { high }),
    ...(affects === undefined ? {} : { affects }),
    source: change.source?.trim() || 'Set by the farm',
    sourceKind: 'the farm',
  }
  return ok([...resetRow(rows, key), changed])
}

/** The farm's rows without this one: the default holds again. */
export function resetRow(rows: readonly Assumption[], key: string): Assumption[] {
  return rows.filter((row) => row.key !== key)
}

function numberProblem(row: Pick<Assumption, 'key' | 'unit'>, value: number | string): Problem | null {
  const { least, most } = limitsOf(row)
  if (typeof value === 'number' && value >= least && value <= most) return null
  return {
    code: 'bad-value',
    what: `${String(value)} is not a number from ${least.toLocaleString('en-US')} to ${most.toLocaleString('en-US')}.`,
    where: { table: 'assumption', path: row.key },
    remedy: row.unit === '' ? 'Enter a number in that range.' : `Enter a number in that range, in ${row.unit}.`,
  }
}

function rangeProblem(
  row: Pick<Assumption, 'key' | 'unit'>,
  isWord: boolean,
  change: RowChange,
  low: number | undefined,
  high: number | undefined,
): Problem | null {
  const given = [change.low, change.high].filter((end) => typeof end === 'number')
  if (given.length === 0) return null
  const where = { table: 'assumption', path: row.key }
  if (isWord)
    return { code: 'bad-value', what: 'A word has no range.', where, remedy: 'Leave both ends of the range empty.' }
  const wrong = given.map((end) => numberProblem(row, end)).find((problem) => problem !== null)
  if (wrong) return wrong
  if (low === undefined || high === undefined || low <= high) return null
  return {
    code: 'bad-value',
    what: `The range would run from ${low} down to ${high}.`,
    where,
    remedy: 'Give the lower end first.',
  }
}

function wordProblem(key: string, value: number | string): Problem | null {
  const words = wordsOf(key)
  const where = { table: 'assumption', path: key }
  if (isMonthDayRow(key)) {
    const isDay = /^\d{2}-\d{2}$/.test(String(value)) && !Number.isNaN(Date.parse(`2000-${value}`))
    return isDay
      ? null
      : { code: 'bad-value', what: `“${String(value)}” is not a month and a day.`, where, remedy: 'Type it as 04-20.' }
  }
  if (words === null) {
    const isName = typeof value === 'string' && value.trim() !== ''
    return isName
      ? null
      : { code: 'bad-value', what: 'The name is empty.', where, remedy: 'Type the name as it stands in your list.' }
  }
  if (words.some((word) => word === value)) return null
  return {
    code: 'bad-value',
    what: `“${String(value)}” is no ${key.startsWith('vine/') ? 'action that the vine table knows' : 'word that this row takes'}.`,
    where,
    remedy: `Choose one of: ${words.join(', ')}.`,
  }
}
