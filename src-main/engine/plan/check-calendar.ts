/**
 * Plays a plan's spring and fall through day by day with the farm's own machines, and says what does not get done in its
 * week. It shares nothing with the model: no hours an acre, no queue, only acres that each machine does on a fit day.
 */
import { digShare, fitDaysIn, ripeOn, type FieldWork } from '../../../src-shared/agronomy/calendar.ts'
import { partsAt } from '../../../src-shared/agronomy/block-money.ts'
import type { Context } from '../../../src-shared/agronomy/context.ts'
import { acresPerHour, addDays, daysBetween } from '../../../src-shared/agronomy/harvest.ts'
import type { Plan } from '../../../src-shared/plan.ts'
import type { Problem } from '../../../src-shared/problem.ts'
import { ruleOf } from '../../../src-shared/rule.ts'
import type { MachineKind } from '../../../src-shared/window.ts'

const workOf = { planter: 'planting', digger: 'digging', combine: 'combining' } as const satisfies Record<
  MachineKind,
  FieldWork
>

/** [share] for what sums of many doubles and the solver's own tolerance leave. */
const SLACK = 1e-5

/** @param context of the season that the plan was made from */
export function checkCalendar(context: Context, plan: Plan): Problem[] {
  const found: string[] = []
  /** [acre of a plain vine] of each work by week. */
  const todo = {
    planter: new Map<string, number>(),
    digger: new Map<string, number>(),
    combine: new Map<string, number>(),
  }
  const add = (kind: MachineKind, week: string, acres: number) =>
    todo[kind].set(week, (todo[kind].get(week) ?? 0) + acres)
  for (const block of plan.blocks) {
    if (block.planted === undefined) continue
    for (const { at, part } of partsAt(context, block) ?? []) {
      const { slowing } = context.vine[at.variety.vine][at.field.growth]
      add('planter', part.week, part.acres)
      const ripe = ripeOn(context.calendar, context.book, at.plantedOn as string, at.variety.daysToMaturity)
      if (ripe !== part.ripe) found.push(`${block.field}: ${block.variety} is ripe on ${ripe}, not on ${part.ripe}.`)
      for (const { week, acres } of part.dug) {
        add('digger', week, acres * (1 + slowing))
        if (week > context.calendar.lastDigging) found.push(`${block.field} is dug after the last safe day.`)
        // A sixth is dug each day from Monday to Saturday, and combined so many days later.
        for (let day = 0; day < 6; day++) {
          const combined = addDays(week, day + Math.round(context.calendar.lag))
          add('combine', mondayOf(combined), (acres * (1 + slowing)) / 6)
        }
      }
      found.push(...lossOff(context, block.field, part))
    }
  }
  for (const kind of ['planter', 'digger', 'combine'] as const) {
    if (!ruleOf(context.season.rules, `${kind}-hours`)) continue
    for (const [week, acres] of todo[kind]) {
      const left = leftAfterWeek(context, kind, week, acres)
      if (left > SLACK * Math.max(1, acres))
        found.push(`${left.toFixed(2)} acres of the ${kind}s' work in the week of ${week} do not get done.`)
    }
  }
  return found.map((what) => ({
    code: 'bug',
    what: `The plan fails a check: ${what}`,
    remedy: 'Please report this with the season file; do not order from this plan.',
  }))
}

function mondayOf(day: string): string {
  const weekday = new Date(`${day}T00:00:00Z`).getUTCDay()
  return addDays(day, weekday === 0 ? -6 : 1 - weekday)
}

/** [acre] that are left when every machine has worked its hours on every fit day of the week on which it is there. */
function leftAfterWeek(context: Context, kind: MachineKind, week: string, acres: number): number {
  const { machines } = context.season
  if (!machines.some((machine) => machine.kind === kind)) return 0
  let left = acres
  // Fit days are spread evenly: each day of the week is fit in part.
  const fit = fitDaysIn(context.calendar, workOf[kind], week) / 7
  for (let day = 0; day < 7; day++) {
    const at = addDays(week, day).slice(5)
    for (const machine of machines) {
      if (machine.kind !== kind || !isThere(machine, at)) continue
      const rate = acresPerHour(machine.speedMph, machine.widthFt, machine.fieldEfficiency)
      left -= machine.count * rate * machine.hoursPerDay * fit
    }
  }
  return Math.max(0, left)
}

function isThere({ availableFrom, availableUntil }: { availableFrom?: string; availableUntil?: string }, at: string) {
  if (availableFrom !== undefined && availableUntil !== undefined && availableFrom > availableUntil)
    return at >= availableFrom || at <= availableUntil
  return (availableFrom === undefined || at >= availableFrom) && (availableUntil === undefined || at <= availableUntil)
}

/** The cents of a part's weeks stand to one another as their losses do. */
function lossOff(
  context: Context,
  field: string,
  { ripe, dug }: { ripe: string; dug: readonly { week: string; acres: number; cents: number }[] },
): string[] {
  const worth = dug.flatMap(({ week, acres, cents }) => {
    // The middle of a week's digging, Monday to Saturday, is two and a half days on.
    const lost = 1 - digShare(context.calendar, context.book, daysBetween(ripe, week) + 2.5)
    return lost * acres > 1e-6 ? [{ lost, acres, cents, each: cents / (lost * acres) }] : []
  })
  const [first, ...rest] = worth
  const off = rest.find(
    ({ each, lost, acres }) =>
      first !== undefined &&
      Math.abs(each - first.each) > 1e-4 * first.each + 0.51 / (lost * acres) + 0.51 / (first.lost * first.acres),
  )
  return off === undefined ? [] : [`${field}: the weeks in which it is dug do not cost what they lose.`]
}
