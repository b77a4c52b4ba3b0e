/** What one work has in its weeks, for a chart and its table. Pure. */
import type { FieldWork } from '../../../src-shared/agronomy/calendar.ts'
import type { CalendarView, Load } from '../../../src-shared/calendar-view.ts'
import { showAcres, showCount, showDate, showWhole } from '../../../src-shared/show.ts'

export interface WorkLoad extends Load {
  /** Monday, ISO date. */
  week: string
}

/** [acre] Less than this over what fits is rounding. */
const hair = 0.05

/** The weeks of a work, from its first with acres to its last, none left out; of planting all that are open. */
export function loadsOf({ weeks, plantingWeeks }: CalendarView, work: FieldWork): WorkLoad[] {
  const all = weeks.map(({ week, loads }) => ({ week, ...loads[work] }))
  const isShown = ({ week, acres }: WorkLoad) => acres > hair || (work === 'planting' && plantingWeeks.includes(week))
  const first = all.findIndex(isShown)
  const last = all.findLastIndex(isShown)
  return first < 0 ? [] : all.slice(first, last + 1)
}

export const isOver = ({ acres, fits }: Load) => fits !== null && acres > fits + hair

/** The picture in words: “Digging, 6 weeks from Sep 6 to Oct 11, fullest Sep 20 with 84 of 120 acres.” */
export function saysOf(title: string, loads: readonly WorkLoad[]): string {
  const [first] = loads
  if (first === undefined) return `${title}: nothing.`
  const fullest = loads.reduce((most, load) => (load.acres > most.acres ? load : most), first)
  const last = loads.at(-1) ?? first
  const over = loads.filter(isOver).length
  const more = over === 0 ? '' : ` ${showCount(over, 'week holds', 'weeks hold')} more than fits.`
  return `${title}, ${showCount(loads.length, 'week')} from ${showDate(first.week)} to ${showDate(last.week)}, fullest ${showDate(fullest.week)} with ${loadWords(fullest)} acres.${more}`
}

/** “84 of 120”, or the acres alone where no machine is listed. */
export function loadWords({ acres, fits }: Load): string {
  return fits === null ? showAcres(Math.round(acres)) : `${showWhole(acres)} of ${showWhole(fits)}`
}
