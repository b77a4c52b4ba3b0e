/** What every option of a season needs and is the same for all: the book's rows read once. */
import { Book } from '../assumption.ts'
import { starterBook } from '../book/starter.ts'
import type { Field } from '../field.ts'
import { yearsOut } from '../field.ts'
import { ruleOf } from '../rule.ts'
import type { Season } from '../season.ts'
import { hardRulesOf, type HardRules } from './hard-rules.ts'
import { houseReserve } from './reserve.ts'
import type { Emergence } from './seed.ts'
import { readThreat, type ThreatTable } from './threat-table.ts'
import { readVine, type VineTable } from './vine.ts'

export interface Context {
  season: Season
  book: Book
  threats: ThreatTable[]
  vine: VineTable
  emergence: Record<Field['rowPattern'], Emergence>
  /** [seeds/ft of row position] where a field has no drop of its own. */
  houseDrop: Record<Field['rowPattern'], number>
  /** [cent/lb] what a pound of peanuts brings at the farm's usual grade. */
  centsPerPound: number
  /** [share] ordered beyond the need: a fixed one, or by chance, which goes before. The same for every variety. */
  reserve: number
  /** [share of the usual yield] by water and whole seasons out, last entry for more. */
  rotation: Record<Field['water'], number[]>
  hard: HardRules
  countsGiveUp: boolean
  /** Best yield × grade among the varieties, against the farm's usual = 1. */
  bestIndex: number
  /** [$/machine-hour] beyond the usual, where the vine slows a machine. */
  hourDollars: Record<'digger' | 'combine', number>
  /** [lb/acre] more yield where a growth regulator is used; 0 unless the house says otherwise. */
  regulatorGainLb: number
}

/** @param book the starter set with the farm's rows over it; a test may hand in one that remembers what was read */
export function contextOf(season: Season, book = new Book(starterBook, season.assumptions)): Context {
  const houseDrop = { single: book.number('drop/seeds per foot/single'), twin: book.number('drop/seeds per foot/twin') }
  const emergence = (rows: Field['rowPattern']): Emergence => ({
    field: book.number(`emergence/field/${rows}`),
    fallsPerSeed: book.number('emergence/falls per seed'),
    referenceSeedsPerFoot: houseDrop[rows],
  })
  const threats = season.threats.map((threat) => readThreat(book, threat))
  const rotation = (water: Field['water']): number[] => {
    const years: number[] = []
    while (book.rows.has(`rotation/${water}/${years.length}`))
      years.push(book.number(`rotation/${water}/${years.length}`))
    return years
  }
  return {
    season,
    book,
    threats,
    vine: readVine(book),
    emergence: { single: emergence('single'), twin: emergence('twin') },
    houseDrop,
    centsPerPound: (book.number('price/peanuts') * 100) / 2000,
    reserve: reserveOf(season, book),
    rotation: { irrigated: rotation('irrigated'), dryland: rotation('dryland') },
    hard: hardRulesOf(season.rules, threats, book),
    countsGiveUp: ruleOf(season.rules, 'count-give-up') !== undefined,
    bestIndex: Math.max(0, ...season.varieties.map((variety) => variety.yieldIndex * variety.gradeIndex)),
    hourDollars: { digger: book.number('harvest/digger hour'), combine: book.number('harvest/combine hour') },
    regulatorGainLb: book.number('vine/growth regulator/yield gain'),
  }
}

/** [share] The coefficients of variation are the same for every pound, so one pound answers for all varieties. */
function reserveOf(season: Season, book: Book): number {
  if (ruleOf(season.rules, 'reserve-by-chance')) return houseReserve(book, 1).reserve
  return ruleOf(season.rules, 'reserve')?.amount ?? 0
}

/**
 * Yield of a field so many whole seasons out of peanut, against two years out = 1.
 * Source: Lamb (T4a), as rows of the book.
 * @returns [×]; `key` is the row it comes from; null where no history is known, which counts as 1
 */
export function rotationIndex(context: Context, field: Field): { value: number; key: string } | null {
  const years = yearsOut(field.history, context.season.season)
  const indices = context.rotation[field.water]
  if (years === null || indices.length === 0) return null
  const at = Math.min(years, indices.length - 1)
  return { value: indices[at] as number, key: `rotation/${field.water}/${at}` }
}

/**
 * Yield expected on a field from its goal and rotation. The goal is what the field makes two years out.
 * @returns [lb/acre]; 5,100 irrigated with peanut last year → 3,300
 */
export function expectedYield(context: Context, field: Field): number {
  return field.yieldGoalLb * (rotationIndex(context, field)?.value ?? 1)
}
