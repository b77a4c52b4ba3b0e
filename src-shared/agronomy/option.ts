/**
 * Options: one variety, planting week, spray program and seeding rate for one field, priced. What a hard rule forbids is
 * returned beside them with every reason. Of the programs and rates of one field, variety and week only the undominated
 * stay.
 */
import { unreadRows } from '../book/unread-rows.ts'
import type { Field } from '../field.ts'
import type { Problem } from '../problem.ts'
import { ruleOf } from '../rule.ts'
import type { Variety } from '../variety.ts'
import type { PlantingWindow } from '../window.ts'
import { bestValueOf } from './acre-money.ts'
import { silent } from './calculation.ts'
import { plantingWeeks, ripeOn, type PlantingWeek } from './calendar.ts'
import type { Context } from './context.ts'
import { dateShareOf, groundFor } from './crop.ts'
import { ratesFor } from './drop.ts'
import { isPlantedIn, programmesOn } from './ground.ts'
import { isUninsured } from './hard-rules.ts'
import { columnsFor, inWindow, onGround, type Dated, type Rate } from './place.ts'
import { addOptions } from './place-options.ts'
import { seedPrices } from './seed-price.ts'
import { plannedStandShare } from './stand-yield.ts'
import { threatNotices } from './threat-table.ts'
import { usualNotices } from './usual-choice.ts'
import { vineNotices } from './vine.ts'

export interface Option {
  field: string
  variety: string
  window: string
  /** Monday of the planting week, ISO date. */
  week: string
  /** Names of the measures. */
  programme: string[]
  /** [seeds/ft of row position] */
  seedsPerFoot: number
  /** [plants/ft] */
  stand: number
  /** [lb/acre] without the reserve. */
  seedPoundsPerAcre: number
  /** [cent/acre] measures and vine work, without seed. */
  cashCents: number
  /** [share of yield] by threat, in the order of the season's threats. */
  losses: readonly number[]
  /** [share of yield] all threats together. */
  lossShare: number
  /** [lb/acre] expected. */
  yieldLb: number
  /** [cent/acre] What the ground could bring: the same for every option of a field. */
  couldCents: number
  /** [cent/acre] */
  lossCents: number
  /** [cent/acre] digging loss and slowing by the vine, less what a growth regulator is taken to gain. */
  vineCents: number
  /** [cent/acre] yield given up to variety, stand and planting date. */
  giveUpCents: number
  /** [machine-hour/acre] */
  planterHours: number
  diggerHours: number
  combineHours: number
  /** The best day to dig it, a Monday or a Thursday. ISO date. */
  ripe: string
  /** [acre of a plain vine] that an acre is to digger and combine. */
  work: number
  /** [lb/acre] and [cent/acre] of which digging off the best day takes a share; no cents where yield is left out. */
  cropLb: number
  cropCents: number
}

/** A field, variety and window that no programme can make allowed, with every reason. */
export interface Excluded {
  field: string
  variety: string
  window: string
  /** Of the programme that comes nearest to being allowed: the one with the fewest reasons. */
  reasons: string[]
  /** Its measures. */
  programme: string[]
}

export interface Options {
  options: Option[]
  excluded: Excluded[]
  /** Programmes there are, over all fields, varieties and windows, before any was left out. */
  looked: number
  /** What has to be said: a threat without a loss, a row that nothing reads, sets of measures left aside. */
  notices: Problem[]
}

/** All options of a season, in the order of its fields, varieties and windows. */
export function buildOptions(context: Context): Options {
  const options: Option[] = []
  const rest = eachOption(context, (option) => options.push(option))
  return { options, ...rest }
}

/**
 * The same without a list of them: a large farm has half a million, of which the plan's problem keeps the numbers.
 * @param take is given each option in its turn
 */
export function eachOption(context: Context, take: (option: Option) => void): Omit<Options, 'options'> {
  const { season } = context
  const built: Omit<Options, 'options'> = {
    excluded: [],
    looked: 0,
    notices: [
      ...threatNotices(context.threats),
      ...vineNotices(context.book),
      ...unreadRows(season),
      ...usualNotices(context),
    ],
  }
  const weeks = weeksOf(context)
  const best = bestValueOf(context)
  const prices = seedPrices(season, context.reserve, ruleOf(season.rules, 'budget') !== undefined)
  const ratesOn = ratesWithStands(context)
  for (const field of season.fields) {
    const ground = groundFor(context, field)
    const { programmes, looked, notices } = programmesOn(context, field, ground.levels)
    built.notices.push(...notices)
    const open = season.windows
      .filter((window) => isPlantedIn(field, window))
      .map((window) => inWindow(context, window, programmes))
    const onField = { field, ground, best, programmes, columns: columnsFor(programmes) }
    for (const variety of season.varieties) {
      const on = onGround(context, onField, variety, prices.get(variety.name))
      for (const within of open) {
        built.looked += looked
        const own = weeks.get(within.window.name)?.get(variety.name) as Dated[]
        addOptions(context, on, within, ratesOn(field, variety, within.window), own, built.excluded, take)
      }
    }
  }
  return built
}

/** Rates with their stands, once for all fields with the same rows; a field with a rate of its own has its own. */
function ratesWithStands(context: Context): (field: Field, variety: Variety, window: PlantingWindow) => Rate[] {
  const { book, standCurve } = context
  const known = new Map<string, Rate[]>()
  const of = (field: Field, variety: Variety, window: PlantingWindow) =>
    ratesFor(context, field, variety, window).map((rate): Rate => {
      const standShare = plannedStandShare(book, standCurve, field.rowPattern, rate.stand, silent)
      return { ...rate, standShare }
    })
  return (field, variety, window) => {
    if (field.drop !== undefined) return of(field, variety, window)
    const key = JSON.stringify([field.rowPattern, variety.name, window.name])
    let rates = known.get(key)
    if (rates === undefined) known.set(key, (rates = of(field, variety, window)))
    return rates
  }
}

/** Dates are slow to work out: by window and variety, once. Weeks that the rules forbid are not among them. */
function weeksOf(context: Context): Map<string, Map<string, Dated[]>> {
  const { season, book, calendar } = context
  const byWindow = Map.groupBy(
    plantingWeeks(season).filter(({ planted }) => !isUninsured(context, planted)),
    ({ window }) => window.name,
  )
  const of = ({ week, planted }: PlantingWeek, variety: Variety): Dated => ({
    week,
    planted,
    date: dateShareOf(context, planted, variety),
    ripe: ripeOn(calendar, book, planted, variety.daysToMaturity),
  })
  return new Map(
    season.windows.map(({ name }) => [
      name,
      new Map(
        season.varieties.map((variety) => [
          variety.name,
          (byWindow.get(name) ?? []).map((week): Dated => of(week, variety)),
        ]),
      ),
    ]),
  )
}
