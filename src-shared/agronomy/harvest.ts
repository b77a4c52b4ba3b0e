/** Machines and days: acres an hour, hours an acre, what machines can do in a week, and the days between. */
import type { Machine, MachineKind } from '../window.ts'

/**
 * Effective field capacity: speed × width × efficiency / 8.25.
 * Source: ISU PM 696 (2001); University of Kentucky AEN-73 (1991).
 * @param speedMph [mph] @param widthFt [ft] @param fieldEfficiency [share] 0–1
 * @returns [acre/h]; 5 mph × 12.5 ft × 85 % → 6.4
 */
export function acresPerHour(speedMph: number, widthFt: number, fieldEfficiency: number): number {
  return (speedMph * widthFt * fieldEfficiency) / 8.25
}

/** [acre/h] of one machine of the entry. */
function rateOf({ speedMph, widthFt, fieldEfficiency }: Machine): number {
  return acresPerHour(speedMph, widthFt, fieldEfficiency)
}

/** [acre/day] and [machine-hour/day] of all machines of a kind; of those that never run, as if each ran an hour. */
function dayOf(machines: readonly Machine[], kind: MachineKind): { acres: number; hours: number } {
  const own = machines.filter((machine) => machine.kind === kind)
  const runs = own.some(({ hoursPerDay }) => hoursPerDay > 0)
  let acres = 0
  let hours = 0
  for (const machine of own) {
    const each = machine.count * (runs ? machine.hoursPerDay : 1)
    hours += each
    acres += each * rateOf(machine)
  }
  return { acres, hours }
}

/**
 * Hours an acre takes with all machines of a kind at work, each for its own hours: a day's machine-hours over a day's acres.
 * @param slowing [share] more time because of the vine
 * @returns [machine-hour/acre]; 0 where the farm has none of the kind
 */
export function hoursPerAcre(machines: readonly Machine[], kind: MachineKind, slowing: number): number {
  const { acres, hours } = dayOf(machines, kind)
  return acres === 0 ? 0 : ((1 + slowing) * hours) / acres
}

/**
 * [machine-hour] that the machines of a kind can work in a week, counted at the pace of `hoursPerAcre`, so that hours ÷
 * hours an acre is the acres of the machines that are there, each at its own rate.
 * @param monday ISO date @param fitDays [day] 0–7
 */
export function weekHours(machines: readonly Machine[], kind: MachineKind, monday: string, fitDays: number): number {
  const perAcre = hoursPerAcre(machines, kind, 0)
  const acres = machines
    .filter((machine) => machine.kind === kind)
    .reduce((sum, machine) => sum + acresInWeek(machine, monday, fitDays), 0)
  return acres * perAcre
}

/** [acre] of a plain vine that an entry's machines can do in a week. @param monday ISO date @param fitDays [day] */
export function acresInWeek(machine: Machine, monday: string, fitDays: number): number {
  const days = fitDays * (daysPresent(machine, monday) / 7)
  return machine.count * rateOf(machine) * machine.hoursPerDay * days
}

/** [day] 0–7 of the week in which a machine is on the farm. A machine that comes in fall and leaves in spring is there between. */
export function daysPresent(
  { availableFrom: from, availableUntil: until }: Pick<Machine, 'availableFrom' | 'availableUntil'>,
  monday: string,
): number {
  let days = 0
  for (let day = 0; day < 7; day++) {
    const at = addDays(monday, day).slice(5)
    const isAfter = from === undefined || at >= from
    const isBefore = until === undefined || at <= until
    const isTurned = from !== undefined && until !== undefined && from > until
    if (isTurned ? isAfter || isBefore : isAfter && isBefore) days++
  }
  return days
}

/** Day so many days after another. @param day ISO date @returns ISO date */
export function addDays(day: string, days: number): string {
  const date = new Date(`${day}T00:00:00Z`)
  date.setUTCDate(date.getUTCDate() + days)
  return date.toISOString().slice(0, 10)
}

/** [day] From one day to another; less than 0 where the other is before it. @param from ISO date @param to ISO date */
export function daysBetween(from: string, to: string): number {
  return (Date.parse(to) - Date.parse(from)) / 86_400_000
}

/** Middle of a planting window in a season. @returns ISO date */
export function middleOf(window: { opens: string; closes: string }, season: number): string {
  const opens = `${season}-${window.opens}`
  const days = daysBetween(opens, `${season}-${window.closes}`)
  return addDays(opens, Math.floor(Math.max(0, days) / 2))
}

/** The Monday of the week that a day is in, by which weeks are named. @returns ISO date */
export function weekOf(day: string): string {
  const weekday = new Date(`${day}T00:00:00Z`).getUTCDay()
  return addDays(day, -((weekday + 6) % 7))
}
