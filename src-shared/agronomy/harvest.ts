/** Machines and weeks: acres an hour, hours an acre, hours a week, and the week a field is dug. */
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

/**
 * Hours an acre takes with all machines of a kind at work together.
 * @param slowing [share] more time because of the vine
 * @returns [machine-hour/acre] of one machine of average rate; 0 where the farm has none of the kind
 */
export function hoursPerAcre(machines: readonly Machine[], kind: MachineKind, slowing: number): number {
  const own = machines.filter((machine) => machine.kind === kind)
  const count = own.reduce((sum, machine) => sum + machine.count, 0)
  const rate = own.reduce(
    (sum, machine) => sum + machine.count * acresPerHour(machine.speedMph, machine.widthFt, machine.fieldEfficiency),
    0,
  )
  return rate === 0 ? 0 : ((1 + slowing) * count) / rate
}

/** [machine-hour] that all machines of a kind can work in so many fit days. */
export function machineHours(machines: readonly Machine[], kind: MachineKind, fitDays: number): number {
  return machines
    .filter((machine) => machine.kind === kind)
    .reduce((sum, machine) => sum + machine.count * machine.hoursPerDay * fitDays, 0)
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

/** The Monday of the week that a day is in, by which harvest weeks are named. @returns ISO date */
export function weekOf(day: string): string {
  const weekday = new Date(`${day}T00:00:00Z`).getUTCDay()
  return addDays(day, -((weekday + 6) % 7))
}
