/**
 * Ripeness by heat, beside days to maturity. The published totals disagree, so the answer is a range of days; it
 * needs the weather of the place, which nobody ships: without it only the days to maturity are known.
 */
import type { Book } from '../assumption.ts'
import { addDays } from './harvest.ts'

/** One day's weather. */
export interface DayHeat {
  /** [°F] */
  maxF: number
  minF: number
}

/**
 * Degree days of one day: (max + min) / 2 − base, not below 0. Above the ceiling a temperature counts as the ceiling.
 * Source: Faircloth, Southeast Farm Press (base 56 °F); ceiling: CS 462 heat-unit notes, NC State.
 * @returns [°F·day]; 90 / 70 °F, base 56 → 24
 */
export function degreeDays(maxF: number, minF: number, baseF: number, ceilingF = Number.POSITIVE_INFINITY): number {
  return Math.max(0, (Math.min(maxF, ceilingF) + Math.min(minF, ceilingF)) / 2 - baseF)
}

/** [°F·day] from [°C·day]: 1,400 → 2,520. */
export function fahrenheitDegreeDays(celsiusDegreeDays: number): number {
  return celsiusDegreeDays * 1.8
}

/**
 * Day on which a sum of heat is reached.
 * @param from ISO date of the first day of `weather`, which has one entry a day
 * @param wanted [°F·day] > 0
 * @returns ISO date; null where the weather ends before
 */
export function dayOfHeat(
  from: string,
  weather: readonly DayHeat[],
  wanted: number,
  baseF: number,
  ceilingF?: number,
): string | null {
  let sum = 0
  for (const [day, { maxF, minF }] of weather.entries()) {
    sum += degreeDays(maxF, minF, baseF, ceilingF)
    // A hair, since fifty days of 50.4 do not add to 2,520 in binary.
    if (sum >= wanted - 1e-9) return addDays(from, day)
  }
  return null
}

/** When a field is ripe, both ways. */
export interface Ripeness {
  /** ISO date: planting and the variety's days. */
  byDays: string
  /** ISO dates by the published totals, from planting and, later, from emergence; null where weather is lacking. */
  byHeat: { early: string | null; usual: string | null; late: string | null }
}

/**
 * Ripeness by the book's rows `maturity/…`: the low total is counted from planting, the high one from emergence, as
 * their sources count them; the usual one is the book's value from planting.
 * @param planted ISO date
 * @param daysToMaturity [day] planting to digging
 * @param weather one entry a day from the day of planting on; may be empty
 */
export function ripenessOf(
  book: Book,
  planted: string,
  daysToMaturity: number,
  weather: readonly DayHeat[] = [],
): Ripeness {
  const total = book.row('maturity/degree days')
  const usual = book.number('maturity/degree days')
  const [base, ceiling] = [book.number('maturity/base temperature'), book.number('maturity/ceiling temperature')]
  const emergence = Math.round(book.number('maturity/days to emergence'))
  const day = (wanted: number, after = 0) =>
    dayOfHeat(addDays(planted, after), weather.slice(after), wanted, base, ceiling)
  return {
    byDays: addDays(planted, daysToMaturity),
    byHeat: { early: day(total.low ?? usual), usual: day(usual), late: day(total.high ?? usual, emergence) },
  }
}
