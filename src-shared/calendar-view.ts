/** The plan by weeks, as page, paper and files show it: what each week holds against what fits, and every block in time. */
import { partsAt } from './agronomy/block-money.ts'
import { combinedAfter, fitDaysIn, plantingWeeks, type FieldWork } from './agronomy/calendar.ts'
import type { Context } from './agronomy/context.ts'
import { capacity } from './agronomy/fall-weeks.ts'
import { addDays } from './agronomy/harvest.ts'
import type { Plan, PlantedPart } from './plan.ts'
import { ruleOf } from './rule.ts'
import type { MachineKind } from './window.ts'

export const fieldWorks = ['planting', 'digging', 'combining'] as const satisfies readonly FieldWork[]

export const machineOf = { planting: 'planter', digging: 'digger', combining: 'combine' } as const satisfies Record<
  FieldWork,
  MachineKind
>

/** What is done in a week, in acres of a plain vine: a large vine takes the longer. */
export interface Load {
  acres: number
  /** [acre] that the machines can do in the fit days; null where the farm lists none. */
  fits: number | null
  /** [day] fit for it. */
  days: number
}

export interface WeekLoads {
  /** Monday, ISO date. */
  week: string
  loads: Record<FieldWork, Load>
}

export interface CalendarBlock {
  field: string
  variety: string
  acres: number
  programme: string[]
  parts: PlantedPart[]
  /** [cent] of its crop lost by digging off the best day. */
  lostCents: number
  /** Mondays of the weeks in which acres of it are kept, ISO dates; none where it is free. */
  keptIn: string[]
}

export interface CalendarView {
  /** Crop year. */
  season: number
  weeks: WeekLoads[]
  /** In the order of planting. */
  blocks: CalendarBlock[]
  /** Weeks in which something may be planted, Mondays. */
  plantingWeeks: string[]
  /** ISO dates. */
  lastDigging: string
  lastInsured: string
  /** True where the rules hold the plan to the hours of these machines. */
  isLimited: Record<FieldWork, boolean>
}

/** @param context of the season that the plan was made from; null where the plan was made before weeks were counted */
export function calendarView(context: Context, plan: Plan): CalendarView | null {
  if (plan.blocks.some(({ planted }) => planted === undefined)) return null
  const { season, calendar } = context
  const acres = new Map(fieldWorks.map((work) => [work, new Map<string, number>()]))
  const add = (work: FieldWork, week: string, more: number) => {
    const own = acres.get(work) as Map<string, number>
    own.set(week, (own.get(week) ?? 0) + more)
  }
  const blocks = plan.blocks.map((block): CalendarBlock => {
    for (const { at, part } of partsAt(context, block) ?? []) {
      const work = 1 + context.vine[at.variety.vine][at.field.growth].slowing
      add('planting', part.week, part.acres)
      for (const dug of part.dug) {
        add('digging', dug.week, dug.acres * work)
        for (const { week, share } of combinedAfter(dug.week, calendar.lag)) {
          add('combining', week, dug.acres * work * share)
        }
      }
    }
    const parts = block.planted ?? []
    const own = season.locks.filter((each) => each.field === block.field && each.variety === block.variety)
    return {
      field: block.field,
      variety: block.variety,
      acres: block.acres,
      programme: block.programme,
      parts,
      lostCents: parts.reduce((sum, { dug }) => sum + dug.reduce((all, { cents }) => all + cents, 0), 0),
      keptIn: own.flatMap(({ week }) => week ?? []),
    }
  })
  const firstOf = ({ parts }: CalendarBlock) => parts[0]?.week ?? ''
  blocks.sort((a, b) => (firstOf(a) < firstOf(b) ? -1 : firstOf(a) > firstOf(b) ? 1 : a.field < b.field ? -1 : 1))
  const open = [...new Set(plantingWeeks(season).map(({ week }) => week))].sort()
  const load = (work: FieldWork, week: string): Load => {
    const days = fitDaysIn(calendar, work, week)
    const fits = capacity(season.machines, machineOf[work], week, days)
    return { acres: acres.get(work)?.get(week) ?? 0, fits: Number.isFinite(fits) ? fits : null, days }
  }
  return {
    season: season.season,
    weeks: weeksShown(acres, open).map((week) => ({
      week,
      loads: {
        planting: load('planting', week),
        digging: load('digging', week),
        combining: load('combining', week),
      },
    })),
    blocks,
    plantingWeeks: open,
    lastDigging: calendar.lastDigging,
    lastInsured: calendar.lastInsured,
    isLimited: {
      planting: ruleOf(season.rules, 'planter-hours') !== undefined,
      digging: ruleOf(season.rules, 'digger-hours') !== undefined,
      combining: ruleOf(season.rules, 'combine-hours') !== undefined,
    },
  }
}

/** Every week from the first that is open or worked in to the last, none left out. */
function weeksShown(acres: ReadonlyMap<FieldWork, ReadonlyMap<string, number>>, open: readonly string[]): string[] {
  const worked = [...open, ...[...acres.values()].flatMap((own) => [...own.keys()])].sort()
  const [first, last] = [worked[0], worked.at(-1)]
  if (first === undefined || last === undefined) return []
  const weeks: string[] = []
  for (let week = first; week <= last; week = addDays(week, 7)) weeks.push(week)
  return weeks
}

/** What planting a block in another week costs, all else held. */
export interface MoveCost {
  /** [cent] more than the plan; less than 0 where it would save; null where it does not fit. */
  cents: number | null
  /** [cent] that it costs at least once other fields move as well; null where it fits as it is or cannot be had at all. */
  atLeastCents: number | null
  /** One sentence for a person. */
  says: string
}
