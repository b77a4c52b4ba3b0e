/** The orders of planting and of digging by week, as page, paper, files and terminal list them. Pure. */
import { daysBetween, weekOf } from './agronomy/harvest.ts'
import type { CalendarBlock, CalendarView } from './calendar-view.ts'
import type { PlanBlock, PlantedPart } from './plan.ts'
import { showAcres, showCount, showDate, showDollars } from './show.ts'

/** A field and variety in one week of one work. */
export interface WorkRow {
  /** Monday, ISO date. */
  week: string
  field: string
  variety: string
  acres: number
  /** The best day to dig it, the earliest of what is dug in the week; ISO date. */
  ripe: string
  /** [cent] of its crop lost by digging off the best day: of digging in this week, of planting all told. */
  lostCents: number
  /** What one should know of it; empty where there is nothing. */
  note: string
}

/** [cent] Less than this is not worth a word: the best week itself is not the best day. */
const worthAWord = 100

/** [week] from the week of the best day; less than 0 before it. @param week Monday, ISO date @param ripe ISO date */
export function weeksOff(week: string, ripe: string): number {
  return Math.round(daysBetween(weekOf(ripe), week) / 7)
}

/** Dug after the week of its best day, at a cost that is worth a word. */
export function isLate(dug: { week: string; cents: number }, ripe: string): boolean {
  return weeksOff(dug.week, ripe) > 0 && dug.cents >= worthAWord
}

/** Dug before the week of its best day, at a cost that is worth a word. */
export function isEarly(dug: { week: string; cents: number }, ripe: string): boolean {
  return weeksOff(dug.week, ripe) < 0 && dug.cents >= worthAWord
}

/** “1 week late, −$87”; empty where it is dug in its best week or loses next to nothing. */
export function lateWords(dug: { week: string; cents: number }, ripe: string): string {
  if (!isLate(dug, ripe) && !isEarly(dug, ripe)) return ''
  const off = weeksOff(dug.week, ripe)
  return `${showCount(Math.abs(off), 'week')} ${off > 0 ? 'late' : 'early'}, ${showDollars(-dug.cents)}`
}

/** In order of time, then of the best day, then of the field's name. */
export function plantingOrder({ blocks, lastInsured }: CalendarView): WorkRow[] {
  const rows = blocks.flatMap((block) =>
    block.parts.map(({ week, acres, ripe, dug }): WorkRow => {
      const lostCents = dug.reduce((sum, { cents }) => sum + cents, 0)
      const words = [
        ...(week > lastInsured ? ['after the last insurable planting day'] : []),
        ...(block.keptIn.includes(week) ? ['kept in this week'] : []),
        ...dug.flatMap((each) => {
          const late = lateWords(each, ripe)
          return late === '' ? [] : [`digging ${late}`]
        }),
      ]
      const note = words.join('; ')
      return { week, field: block.field, variety: block.variety, acres, ripe, lostCents, note }
    }),
  )
  return merged(rows)
}

/** In order of time, then of the best day, then of the field's name. */
export function diggingOrder({ blocks, lastDigging }: CalendarView): WorkRow[] {
  const rows = blocks.flatMap(({ field, variety, parts }) =>
    parts.flatMap(({ ripe, dug }) =>
      dug.map((each): WorkRow => {
        const words = [lateWords(each, ripe), ripe > lastDigging ? 'best day is after the last safe digging day' : '']
        const note = words.filter((text) => text !== '').join('; ')
        return { week: each.week, field, variety, acres: each.acres, ripe, lostCents: each.cents, note }
      }),
    ),
  )
  return merged(rows)
}

/** What one field and variety has in a week from two plantings is one line of work. */
function merged(rows: readonly WorkRow[]): WorkRow[] {
  const found = new Map<string, WorkRow>()
  for (const row of rows) {
    const key = JSON.stringify([row.week, row.field, row.variety])
    const own = found.get(key)
    found.set(key, own === undefined ? row : together(own, row))
  }
  const order = ({ week, ripe, field }: WorkRow) => `${week} ${ripe} ${field}`
  return [...found.values()].sort((a, b) => (order(a) < order(b) ? -1 : order(a) > order(b) ? 1 : 0))
}

function together(one: WorkRow, other: WorkRow): WorkRow {
  return {
    ...one,
    acres: one.acres + other.acres,
    ripe: one.ripe < other.ripe ? one.ripe : other.ripe,
    lostCents: one.lostCents + other.lostCents,
    note: [...new Set([one.note, other.note].filter((text) => text !== ''))].join('; '),
  }
}

/** The weeks in which some of a block is planted, Mondays in order; none of a plan without weeks. */
export function plantedWeeks({ planted = [] }: Pick<PlanBlock, 'planted'>): string[] {
  return inOrder(planted.map(({ week }) => week))
}

/** The weeks in which some of a block is dug, Mondays in order; none of a plan without weeks. */
export function dugWeeks({ planted = [] }: Pick<PlanBlock, 'planted'>): string[] {
  return inOrder(planted.flatMap(({ dug }) => dug.map(({ week }) => week)))
}

const inOrder = (weeks: readonly string[]) => [...new Set(weeks)].sort()

/** “May 3” or “May 3, May 10”; empty of a plan without weeks. @param weeks Mondays, ISO dates */
export function showWeeks(weeks: readonly string[]): string {
  return weeks.map(showDate).join(', ')
}

/**
 * “Planted week of May 3, dug week of Sep 20; 7 acres wait until Sep 27, −$87.” Empty of a plan without weeks, whose blocks
 * only have windows.
 */
export function blockWords({ planted = [] }: Pick<PlanBlock, 'planted'>): string {
  const [first] = dugWeeks({ planted })
  if (planted.length === 0 || first === undefined) return ''
  const acresIn = new Map<string, { acres: number; cents: number; isOff: boolean }>()
  for (const { ripe, dug } of planted) {
    for (const each of dug) {
      const own = acresIn.get(each.week) ?? { acres: 0, cents: 0, isOff: false }
      own.acres += each.acres
      own.cents += each.cents
      own.isOff ||= isLate(each, ripe) || isEarly(each, ripe)
      acresIn.set(each.week, own)
    }
  }
  const cost = ({ cents, isOff }: { cents: number; isOff: boolean }) => (isOff ? `, ${showDollars(-cents)}` : '')
  const later = dugWeeks({ planted }).slice(1)
  const waits = later.map((week) => {
    const own = acresIn.get(week) as { acres: number; cents: number; isOff: boolean }
    const one = own.acres === 1
    return `; ${showAcres(own.acres)} ${one ? 'acre waits' : 'acres wait'} until ${showDate(week)}${cost(own)}`
  })
  const begun = acresIn.get(first) as { acres: number; cents: number; isOff: boolean }
  return `Planted ${weeksOfWords(planted)}, dug week of ${showDate(first)}${cost(begun)}${waits.join('')}.`
}

/** “week of May 3”, or “week of May 3 (40 acres) and week of May 10 (12 acres)”. */
function weeksOfWords(planted: readonly PlantedPart[]): string {
  const weeks = inOrder(planted.map(({ week }) => week))
  if (weeks.length === 1) return `week of ${showDate(weeks[0] as string)}`
  const acres = (week: string) => planted.reduce((sum, part) => sum + (part.week === week ? part.acres : 0), 0)
  return weeks.map((week) => `week of ${showDate(week)} (${showAcres(acres(week))} acres)`).join(' and ')
}

/** [acre] and [cent] of what is dug after the week of its best day. */
export function lateDigging(blocks: readonly Pick<PlanBlock, 'planted'>[]): { acres: number; cents: number } {
  let [acres, cents] = [0, 0]
  for (const { planted = [] } of blocks) {
    for (const { ripe, dug } of planted) {
      for (const each of dug) {
        if (!isLate(each, ripe)) continue
        acres += each.acres
        cents += each.cents
      }
    }
  }
  return { acres, cents }
}

/** What a block is called where its planting week is moved. */
export function blockTitle({ field, variety, acres }: Pick<CalendarBlock, 'field' | 'variety' | 'acres'>): string {
  return `${field}, ${variety}, ${showAcres(acres)} acres`
}
