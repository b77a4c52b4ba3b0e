/**
 * The next season from the last: ground, varieties, dealers, windows, machines, measures, threats, rules and the farm's rows
 * of the book stay; every field's history goes on by what grew; quotes and contracts are over, and what was held for one year's plan is
 * left behind. Nothing is learned by itself. Pure; used by the window's roll-over and the command line.
 */
import * as v from 'valibot'
import { addDays, weekOf } from './agronomy/harvest.ts'
import { isPeanut } from './crop.ts'
import type { Field } from './field.ts'
import { nameText, rowId } from './primitive.ts'
import type { Problem } from './problem.ts'
import type { Season } from './season.ts'
import type { Carried } from './variety.ts'

/** What grew in a field, as it goes into its history. */
export const cropText = nameText

/** What a crop that was planted with the farm's seed is called in a history. */
export const peanut = 'peanut'

/** The last crop year that a season can have. */
export const lastYear = 2200

/**
 * @param crops field → what grew there in the season that ends; a field that is left out is unknown for that year
 * @param carried seed that is left
 */
export function rollSeason(season: Season, crops: ReadonlyMap<string, string>, carried: readonly Carried[]): Season {
  const { plan: _plan, happened: _happened, ...kept } = season
  return {
    ...kept,
    season: season.season + 1,
    fields: season.fields.map((field) => ({
      ...field,
      history: grownOn(field.history, season.season, crops.get(field.name)),
      rests: restsNext(field, crops.get(field.name)),
    })),
    weeks: weeksAYearOn(season),
    quotes: [],
    contracts: [],
    carried: [...carried],
    locks: [],
    exclusions: [],
  }
}

/** The same weeks of the next season: Mondays move by a day or two, days fit for work do not. */
function weeksAYearOn({ season, weeks }: Pick<Season, 'season' | 'weeks'>): Season['weeks'] {
  return weeks.map((week) => {
    // The Monday nearest to the same day.
    const monday = weekOf(addDays(`${season + 1}-${weekOf(`${season}-${week.starts}`).slice(5)}`, 3))
    return { ...week, starts: monday.slice(5) }
  })
}

/** Ground that was in peanut rests; ground that was in another crop is open again; of what is not known nothing changes. */
function restsNext({ rests }: Pick<Field, 'rests'>, crop: string | undefined): boolean {
  return crop === undefined ? rests : isPeanut(crop)
}

/** A crop that stands there already is not written twice: two crops in one year are usual, the same twice is not. */
function grownOn(history: Field['history'], year: number, crop: string | undefined): Field['history'] {
  if (crop === undefined || historyHas(history, year, crop)) return history
  return [{ season: year, crop }, ...history]
}

/** Whether it says so already; a peanut is a peanut, however it was written. */
export function historyHas(history: Field['history'], year: number, crop: string): boolean {
  const isSame = (other: string) =>
    isPeanut(crop) ? isPeanut(other) : other.trim().toLowerCase() === crop.trim().toLowerCase()
  return history.some((entry) => entry.season === year && isSame(entry.crop))
}

/** How it is known what grew in a field. */
export type GrownFrom = 'a planting' | 'its history' | 'its loads' | 'the plan' | null

/** A field at the end of its season. */
export interface RollField {
  fieldId: number
  field: string
  acres: number
  /** What grew there, as far as the records say; null: it is asked. */
  crop: string | null
  /** `its loads` and `the plan` are proposals: no planting was written down there, or in the whole season. */
  from: GrownFrom
}

/** Seed that is left of a lot. */
export interface LeftLot {
  lotId: number
  variety: string
  /** How the lot is told from others. */
  lot: string
  pounds: number
  isTreated: boolean
  /** Carried into this season already as of the farm's own growing. */
  isOwnGrown: boolean
}

/** Field → what grew there. What was planted is not disputed; what a plan proposes counts only where a person says so. */
export function cropsOf<Field extends Pick<RollField, 'field' | 'crop' | 'from'>>(
  fields: readonly Field[],
  said: (field: Field) => string | undefined,
): Map<string, string> {
  return new Map(
    fields.flatMap((field) => {
      const isKnown = field.from === 'a planting' || field.from === 'its history'
      const grown = isKnown ? field.crop : said(field)
      return grown === undefined || grown === null ? [] : [[field.field, grown] as const]
    }),
  )
}

/** Seed that is left, as the next season has it on hand: nothing is known of its germination before a new test. */
export function carriedOf(left: readonly LeftLot[]): Carried[] {
  return left.map(({ variety, lot, pounds, isOwnGrown }) => ({ variety, lot, pounds, mustUse: false, isOwnGrown }))
}

export const noNext: Problem = {
  code: 'bad-value',
  what: `No season after ${lastYear} can be begun.`,
  remedy: 'Look at the crop year of this season.',
}

export interface RollLook {
  year: number
  fields: RollField[]
  left: LeftLot[]
  /** Counted: what the next season begins without. */
  behind: { quotes: number; contracts: number; locks: number; drafts: number; orders: number }
  /** What a person may want to see to first. */
  heeds: string[]
}

export const rollSchema = v.strictObject({
  /** What grew in the fields that the records do not tell of; one left out is unknown for the year. */
  crops: v.pipe(v.array(v.strictObject({ fieldId: rowId, crop: cropText })), v.maxLength(100_000)),
})

/** One season of the farm, as the list and the comparison have it. */
export interface SeasonRow {
  id: number
  year: number
  isOpen: boolean
  fields: number
  /** [acre] of the fields, and of finished plantings. */
  acres: number
  plantedAcres: number
  varieties: number
  /** [ton] net of its loads; null without loads. */
  tons: number | null
  /** [ton/acre] of the ground hauled from. */
  tonsPerAcre: number | null
  /** [cent] of the loads that have a value; null where none has. */
  valueCents: number | null
  /** [cent/acre] all counted, by the plan that was in hand; null without one. */
  planCentsPerAcre: number | null
  /** [cent] of seed on order. */
  seedCents: number
}
