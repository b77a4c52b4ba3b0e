/**
 * Planting date → share of the best date's yield: a plateau, little lost before it and about a percent a day after it.
 * What a date does to diseases is counted there and not here. Source: T11, T18.
 */
import { rangeOf, type Book, type Range } from '../assumption.ts'
import { showMonthDay } from '../sheet/day-text.ts'
import { figure, rowFigure, type Calculation } from './calculation.ts'
import { monthDayOr } from './calendar.ts'
import type { End } from './threat.ts'

export interface DateCurve {
  /** Month and day, as `04-20`. */
  from: string
  until: string
  before: Range
  after: Range
  /** [day] */
  usualDays: number
  /** [day per day] */
  earlierEach: number
}

/** A row whose word is no day of the calendar counts as the day it ships with. */
export function readDateCurve(book: Book): DateCurve {
  return {
    from: monthDayOr(book.word('date/best from'), '04-20'),
    until: monthDayOr(book.word('date/best until'), '05-25'),
    before: rangeOf(book.row('date/loss a day before')),
    after: rangeOf(book.row('date/loss a day after')),
    usualDays: book.number('date/usual days to maturity'),
    earlierEach: book.number('date/earlier for each day longer'),
  }
}

const dayMs = 86_400_000

/** Day of the year, 1 for January 1. @param day ISO date */
function dayOfYear(day: string): number {
  return (Date.parse(day) - Date.parse(`${day.slice(0, 4)}-01-01`)) / dayMs + 1
}

/**
 * @param planted ISO date
 * @param daysToMaturity [day] of the variety: a longer one must be planted earlier
 * @param end of the yield: `low` takes the higher loss a day
 * @returns [share] 0–1; June 8 with a plateau to May 25 and 1.25 % a day → 0.825
 */
export function dateShare(
  book: Book,
  curve: DateCurve,
  planted: string,
  daysToMaturity: number,
  calculation: Calculation,
  end: End = 'usual',
): number {
  const year = planted.slice(0, 4)
  const row = (key: string, name: string, value?: number) => rowFigure(book, key, name, value)
  const perDay = (range: Range) => (end === 'low' ? range.high : end === 'high' ? range.low : range.usual)
  const day = figure(dayOfYear(planted), () => `day of the year planted (${showMonthDay(planted.slice(5))})`, 'day')
  const from = row('date/best from', `best from ${curve.from}`, dayOfYear(`${year}-${curve.from}`))
  const until = row('date/best until', `best until ${curve.until}`, dayOfYear(`${year}-${curve.until}`))
  const shift = calculation.line(
    'shortfall',
    [
      figure(daysToMaturity, 'days to maturity', 'day'),
      row('date/usual days to maturity', 'usual days', curve.usualDays),
      row('date/earlier for each day longer', 'earlier for each', curve.earlierEach),
    ],
    () => ({ id: 'date/shift', label: 'A long season ends the best days earlier', unit: 'day' }),
  )
  const late = calculation.line('days past', [day, until, figure(shift, 'earlier for this variety', 'day')], () => ({
    id: 'date/late',
    label: 'Planted after the best days',
    unit: 'day',
  }))
  const early = calculation.line('shortfall', [from, day, figure(1, 'each day', '')], () => ({
    id: 'date/early',
    label: 'Planted before the best days',
    unit: 'day',
  }))
  return calculation.line(
    'days off',
    [
      figure(late, 'days late', 'day'),
      row('date/loss a day after', 'loss a day', perDay(curve.after)),
      figure(early, 'days early', 'day'),
      row('date/loss a day before', 'loss a day', perDay(curve.before)),
    ],
    () => ({ id: 'date share', label: 'Yield of the planting date', unit: 'share of the best date' }),
  )
}
