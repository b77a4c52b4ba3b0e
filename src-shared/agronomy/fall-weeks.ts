/**
 * A fall played through week by week, in the order that was planned, with what the machines can do in the days there are:
 * what does not get dug waits. Knows nothing of the plan's model; serves other years and tests.
 */
import type { Book } from '../assumption.ts'
import type { Machine, MachineKind } from '../window.ts'
import { combinedAfter, daysOff, digShare, type Calendar } from './calendar.ts'
import { acresInWeek, addDays, daysBetween, weekOf } from './harvest.ts'

/** What waits to be dug. */
export interface Waiting {
  acres: number
  /** [acre of a plain vine] that an acre is to the machines. */
  work: number
  /** ISO date of the best day. */
  ripe: string
  /** Monday of the week in which it was meant to be dug. */
  week: string
  /** [cent/acre] of the crop, by which of two that wait the dearer goes first. */
  cents: number
}

export interface FallDays {
  /** [day] fit in a week. @param monday ISO date */
  fitDays: (work: 'digging' | 'combining', monday: string) => number
  /** ISO date from which nothing ripens further; absent: never. */
  frost?: string
}

/** What came of one entry: acres by week, and the share of its crop that was lost. */
export interface Dug {
  weeks: { week: string; acres: number }[]
  /** [share] 0–1; what was never dug is lost whole. */
  lost: number
}

/** [week] after the last planned week of digging until which it goes on. */
const longest = 12

/** @returns one entry for each that waits, in their order */
export function fallWeeks(
  calendar: Calendar,
  book: Book,
  machines: readonly Machine[],
  waiting: readonly Waiting[],
  days: FallDays,
): Dug[] {
  const left = waiting.map(({ acres }) => acres)
  const dug = waiting.map((): Dug => ({ weeks: [], lost: 0 }))
  const [first, last] = [minWeek(waiting), maxWeek(waiting)]
  if (first === null || last === null) return dug
  const combineLeft = new Map<string, number>()
  const combineRoom = (week: string) => {
    const known = combineLeft.get(week)
    if (known !== undefined) return known
    const room = capacity(machines, 'combine', week, days.fitDays('combining', week))
    combineLeft.set(week, room)
    return room
  }
  for (let week = first; week <= addDays(last, 7 * longest); week = addDays(week, 7)) {
    let digRoom = capacity(machines, 'digger', week, days.fitDays('digging', week))
    const after = combinedAfter(week, calendar.lag)
    const ready = [...waiting.keys()]
      .filter((at) => (waiting[at] as Waiting).week <= week && (left[at] as number) > 1e-9)
      .sort((a, b) => compare(waiting[a] as Waiting, waiting[b] as Waiting) || a - b)
    for (const at of ready) {
      const { work } = waiting[at] as Waiting
      const wanted = (left[at] as number) * work
      const room = Math.min(digRoom, ...after.map(({ week: in_, share }) => combineRoom(in_) / share))
      const taken = Math.min(wanted, room)
      if (taken <= 1e-9) break
      digRoom -= taken
      for (const { week: in_, share } of after) combineLeft.set(in_, combineRoom(in_) - taken * share)
      left[at] = (left[at] as number) - taken / work
      ;(dug[at] as Dug).weeks.push({ week, acres: taken / work })
    }
  }
  return waiting.map((each, at) => {
    const own = dug[at] as Dug
    const lost = own.weeks.reduce(
      (sum, { week, acres }) => sum + acres * lostIn(calendar, book, each.ripe, week, days.frost),
      left[at] as number,
    )
    return { weeks: own.weeks, lost: each.acres > 0 ? lost / each.acres : 0 }
  })
}

/** [share] lost by digging in a week; what a frost kept from ripening loses as if it were dug then. */
function lostIn(calendar: Calendar, book: Book, ripe: string, week: string, frost: string | undefined): number {
  const off = daysOff(week, ripe)
  const stage = frost !== undefined && frost < ripe && week > frost ? -daysBetween(frost, ripe) : off
  return 1 - digShare(calendar, book, stage)
}

/** [acre of a plain vine] in a week; endless where the farm lists no machine of the kind. */
export function capacity(machines: readonly Machine[], kind: MachineKind, week: string, fitDays: number): number {
  const own = machines.filter((machine) => machine.kind === kind)
  if (own.length === 0) return Infinity
  return own.reduce((sum, machine) => sum + acresInWeek(machine, week, fitDays), 0)
}

function compare(a: Waiting, b: Waiting): number {
  return a.week < b.week ? -1 : a.week > b.week ? 1 : b.cents - a.cents
}

function minWeek(waiting: readonly Waiting[]): string | null {
  return waiting.reduce<string | null>((least, { week }) => (least === null || week < least ? week : least), null)
}

function maxWeek(waiting: readonly Waiting[]): string | null {
  return waiting.reduce<string | null>((most, { week }) => (most === null || week > most ? week : most), null)
}

/** The Monday so many days later or sooner. @param monday ISO date */
export function weekMoved(monday: string, days: number): string {
  return weekOf(addDays(monday, days))
}
