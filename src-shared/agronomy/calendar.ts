/**
 * The season by weeks: when a field may be planted, when it is ripe, what digging before or after that day costs, and how
 * many days of a week are fit for each work. Source of the shapes: T11, T14, T19 (ripening), T21 (digging), T22 (days).
 */
import type { Book } from '../assumption.ts'
import type { Season } from '../season.ts'
import type { SeasonWeek } from '../week.ts'
import type { PlantingWindow } from '../window.ts'
import { figure, rowFigure, silent, type Calculation } from './calculation.ts'
import { addDays, daysBetween, weekOf } from './harvest.ts'

/** What is done in a week. */
export type FieldWork = 'planting' | 'digging' | 'combining'

export interface Calendar {
  /** Crop year. */
  season: number
  /** Month and day on which a variety's days to maturity are counted as they stand. */
  usualPlanting: string
  /** Month and day before and after which planting moves the days no further. */
  firstPlanting: string
  lastPlanting: string
  /** [day per day] fewer to maturity for each day planted later. */
  fewerDays: number
  /** Month and day from which a day is cool, and what it then counts. */
  coolFrom: string
  coolDay: number
  /** [share of yield per day²] lost by digging before and after the best day. */
  lossEarly: number
  lossLate: number
  /** [day] from digging to combining. */
  lag: number
  /** ISO date of the last day on which digging is safe, and on which planting is insured in full. */
  lastDigging: string
  lastInsured: string
  /** [day] of a week, where the farm says nothing of it. */
  fitDays: Record<FieldWork, number>
  /** Days on which planting windows are open, ISO dates. */
  open: readonly { from: string; until: string }[]
  /** What the farm says, by Monday. */
  weeks: ReadonlyMap<string, SeasonWeek>
}

/** @param season its weeks, and its crop year for month-days */
export function readCalendar(season: Pick<Season, 'season' | 'weeks' | 'windows'>, book: Book): Calendar {
  const day = (key: string, otherwise: string) => monthDayOr(book.word(key), otherwise)
  const harvest = book.number('harvest/fit days a week')
  return {
    season: season.season,
    usualPlanting: day('ripening/usual planting day', '05-08'),
    firstPlanting: day('ripening/counts from', '04-10'),
    lastPlanting: day('ripening/counts until', '05-30'),
    fewerDays: book.number('ripening/fewer days for each day later'),
    coolFrom: day('ripening/cool from', '09-20'),
    coolDay: book.number('ripening/a cool day counts'),
    lossEarly: book.number('digging/loss before the best day'),
    lossLate: book.number('digging/loss after the best day'),
    lag: book.number('harvest/days from digging to combining'),
    lastDigging: `${season.season}-${day('calendar/last safe digging day', '11-05')}`,
    lastInsured: `${season.season}-${day('calendar/last insurable planting day', '06-05')}`,
    fitDays: { planting: book.number('planting/fit days a week'), digging: harvest, combining: harvest },
    open: season.windows.map((window) => openingOf(window, season.season)),
    weeks: new Map(season.weeks.map((week) => [weekOf(`${season.season}-${week.starts}`), week])),
  }
}

/** A word of the assumptions that is no day of the calendar counts as the day that it ships with. */
export function monthDayOr(word: string, otherwise: string): string {
  return /^\d{2}-\d{2}$/.test(word) && !Number.isNaN(Date.parse(`2000-${word}`)) ? word : otherwise
}

/** A week in which a window may be planted. */
export interface PlantingWeek {
  window: PlantingWindow
  /** Monday, ISO date. */
  week: string
  /** The middle of the days that week and window share, ISO date. */
  planted: string
}

function openingOf({ opens, closes }: PlantingWindow, season: number): { from: string; until: string } {
  return { from: `${season}-${opens}`, until: `${season}-${closes < opens ? opens : closes}` }
}

/** [day] Days of a week from which it counts as a week of a window; a window with no such week has its longest. */
const daysOfAWeek = 4

/** Every window's weeks, in the order of the windows and of time. A window that closes before it opens has its opening day. */
export function plantingWeeks({ windows, season }: Pick<Season, 'windows' | 'season'>): PlantingWeek[] {
  return windows.flatMap((window) => weeksOf(window, season))
}

/** The day on which a window's planting of a week is counted; of a week that the window no longer has, its middle. ISO date */
export function plantedIn(window: PlantingWindow, week: string, season: number): string {
  return weeksOf(window, season).find((each) => each.week === week)?.planted ?? addDays(week, 3)
}

function weeksOf(window: PlantingWindow, season: number): PlantingWeek[] {
  const { from: opens, until: closes } = openingOf(window, season)
  const all: (PlantingWeek & { days: number })[] = []
  for (let week = weekOf(opens); week <= closes; week = addDays(week, 7)) {
    const from = week < opens ? opens : week
    const end = addDays(week, 6)
    const until = end > closes ? closes : end
    const days = daysBetween(from, until) + 1
    all.push({ window, week, planted: addDays(from, Math.floor((days - 1) / 2)), days })
  }
  const longest = Math.max(...all.map(({ days }) => days))
  const kept = all.filter(({ days }) => days >= Math.min(daysOfAWeek, longest))
  return kept.map(({ days: _, ...week }) => week)
}

/**
 * [day] of a week that are fit for a work: of planting only on days that a window has, of digging only on safe ones.
 * @param monday ISO date
 */
export function fitDaysIn(calendar: Calendar, work: FieldWork, monday: string): number {
  const own = calendar.weeks.get(monday)
  const days = own?.[`${work}Days`] ?? calendar.fitDays[work]
  if (work === 'combining') return days
  return (days * (work === 'digging' ? safeDays(calendar, monday) : openDays(calendar, monday))) / 7
}

/** [day] 0–7 of a week that are in some planting window. */
function openDays({ open }: Calendar, monday: string): number {
  const days = Array.from({ length: 7 }, (_, day) => addDays(monday, day))
  return days.filter((day) => open.some(({ from, until }) => from <= day && day <= until)).length
}

/** [day] 0–7 of a week in which digging is safe. */
function safeDays({ lastDigging }: Calendar, monday: string): number {
  return Math.min(7, Math.max(0, daysBetween(monday, lastDigging) + 1))
}

/**
 * The day on which a planting is at its best. Planted later it takes fewer days, so ripening moves less than planting;
 * what is not ripe by fall takes more.
 * @param planted ISO date @param daysToMaturity [day] of the variety, planted on the usual day
 * @returns ISO date: a Monday or a Thursday, for a day of ripeness is never known better than to half a week
 */
export function ripeOn(
  calendar: Calendar,
  book: Book,
  planted: string,
  daysToMaturity: number,
  calculation: Calculation = silent,
): string {
  const year = planted.slice(0, 4)
  const held = (day: string) => {
    const [first, last] = [`${year}-${calendar.firstPlanting}`, `${year}-${calendar.lastPlanting}`]
    return day < first ? first : day > last ? last : day
  }
  const days = calculation.line(
    'days to ripen',
    [
      figure(daysToMaturity, 'days to maturity', 'day'),
      figure(daysBetween(`${year}-${calendar.usualPlanting}`, held(planted)), 'days after the usual planting', 'day'),
      rowFigure(book, 'ripening/fewer days for each day later', 'fewer for each', calendar.fewerDays),
    ],
    () => ({ id: 'ripening/warm days', label: 'Days to ripen while it is warm', unit: 'day' }),
  )
  const all = calculation.line(
    'cool days',
    [
      figure(days, 'days while it is warm', 'day'),
      figure(daysBetween(planted, `${year}-${calendar.coolFrom}`), 'days until it is cool', 'day'),
      rowFigure(book, 'ripening/a cool day counts', 'a cool day counts', calendar.coolDay),
    ],
    () => ({ id: 'ripening/days', label: 'Days from planting to ripe', unit: 'day' }),
  )
  return halfWeekOf(addDays(planted, Math.round(all)))
}

/** The nearest Monday or Thursday. @param day ISO date @returns ISO date */
export function halfWeekOf(day: string): string {
  const monday = weekOf(day)
  const past = daysBetween(monday, day)
  return addDays(monday, past < 2 ? 0 : past < 5 ? 3 : 7)
}

/** [day] after Monday on which a week's digging is done in the middle: Monday to Saturday. */
const middleOfWeek = 2.5

/** [day] from the best day to the middle of a digging week; less than 0 before it. @param monday ISO date @param ripe ISO date */
export function daysOff(monday: string, ripe: string): number {
  return daysBetween(ripe, monday) + middleOfWeek
}

/**
 * Share of the best day's yield that is left: flat about the best day, then ever less.
 * Source: 17 experiments, 122 days from emergence 0.84, 138 1.00, 144 0.97, 153 0.85 (T21).
 * @param off [day] after the best day; before it less than 0
 * @returns [share] 0–1
 */
export function digShare(calendar: Calendar, book: Book, off: number, calculation: Calculation = silent): number {
  return calculation.line(
    'off the best day',
    [
      figure(off, 'days after the best day', 'day'),
      rowFigure(book, 'digging/loss before the best day', 'loss before', calendar.lossEarly),
      rowFigure(book, 'digging/loss after the best day', 'loss after', calendar.lossLate),
    ],
    () => ({ id: 'dig share', label: 'Yield of the digging week', unit: 'share of the best day' }),
  )
}

/** A week in which something that is ripe on a day may be dug. */
export interface DigWeek {
  /** Monday, ISO date. */
  week: string
  /** [share of yield] 0–1 lost by digging off the best day. */
  lost: number
  /** The weeks in which it is combined, each with its [share] of the acres. */
  combined: { week: string; share: number }[]
}

/** [week] How long before the best day digging is thought of. */
const weeksBefore = 2

/** [share] Weeks that lose more than this are thought of only where there is no other. */
const mostLost = 0.6

/** Weeks about the best day, up to the last safe one. @param ripe ISO date */
export function digWeeksFor(calendar: Calendar, book: Book, ripe: string): DigWeek[] {
  const found: DigWeek[] = []
  const last = weekOf(calendar.lastDigging)
  // What would be ripe after the last safe day is dug before it.
  let week = addDays(weekOf(ripe), -7 * weeksBefore)
  if (week > last) week = last
  for (; week <= last; week = addDays(week, 7)) {
    const lost = 1 - digShare(calendar, book, daysOff(week, ripe))
    if (lost > mostLost && found.length > 0) break
    found.push({ week, lost, combined: combinedAfter(week, calendar.lag) })
  }
  return found
}

/** Where a week's digging is combined: Monday's so many days later, and so on to Saturday's. */
export function combinedAfter(monday: string, lag: number): { week: string; share: number }[] {
  const shares = new Map<string, number>()
  for (let day = 0; day < 6; day++) {
    const week = addDays(monday, 7 * Math.floor((day + Math.round(lag)) / 7))
    shares.set(week, (shares.get(week) ?? 0) + 1 / 6)
  }
  return [...shares].map(([week, share]) => ({ week, share }))
}
