/** What every option of a season needs and is the same for all: the book's rows read once. */
import { Book } from '../assumption.ts'
import { starterBook } from '../book/starter.ts'
import type { Field } from '../field.ts'
import { yearsOut } from '../field.ts'
import { ruleOf } from '../rule.ts'
import type { Season } from '../season.ts'
import { hardRulesOf, type HardRules } from './hard-rules.ts'
import type { Emergence } from './seed.ts'
import { readThreat, type ThreatTable } from './threat.ts'
import { readVine, type VineTable } from './vine.ts'

export interface Context {
  season: Season
  book: Book
  threats: ThreatTable[]
  vine: VineTable
  emergence: Record<Field['rowPattern'], Emergence>
  /** [cent/lb] what a pound of peanuts brings at the farm's usual grade. */
  centsPerPound: number
  /** [share] ordered beyond the need. */
  reserve: number
  /** [share of the usual yield] by water and whole seasons out, last entry for more. */
  rotation: Record<Field['water'], number[]>
  hard: HardRules
  /** [plants/ft] that the rules ask for in an early window; 0 for none. */
  earlyStand: number
  countsGiveUp: boolean
  /** Best yield × grade among the varieties, against the farm's usual = 1. */
  bestIndex: number
}

export function contextOf(season: Season): Context {
  const book = new Book(starterBook, season.assumptions)
  const emergence = (rows: Field['rowPattern']): Emergence => ({
    field: book.number(`emergence/field/${rows}`),
    fallsPerSeed: book.number('emergence/falls per seed'),
    referenceSeedsPerFoot: book.number(`drop/seeds per foot/${rows}`),
  })
  const rotation = (water: Field['water']): number[] => {
    const years: number[] = []
    while (book.rows.has(`rotation/${water}/${years.length}`))
      years.push(book.number(`rotation/${water}/${years.length}`))
    return years
  }
  return {
    season,
    book,
    threats: season.threats.map((threat) => readThreat(book, threat)),
    vine: readVine(book),
    emergence: { single: emergence('single'), twin: emergence('twin') },
    centsPerPound: (book.number('price/peanuts') * 100) / 2000,
    reserve: ruleOf(season.rules, 'reserve')?.amount ?? 0,
    rotation: { irrigated: rotation('irrigated'), dryland: rotation('dryland') },
    hard: hardRulesOf(season.rules, season.threats),
    earlyStand: ruleOf(season.rules, 'early-stand')?.amount ?? 0,
    countsGiveUp: ruleOf(season.rules, 'count-give-up') !== undefined,
    bestIndex: Math.max(0, ...season.varieties.map((variety) => variety.yieldIndex * variety.gradeIndex)),
  }
}

/**
 * Yield expected on a field from its goal and rotation. The goal is what the field makes two years out.
 * @returns [lb/acre]
 */
export function expectedYield(context: Context, field: Field): number {
  const years = yearsOut(field.history, context.season.season)
  const indices = context.rotation[field.water]
  if (years === null || indices.length === 0) return field.yieldGoalLb
  return field.yieldGoalLb * (indices[Math.min(years, indices.length - 1)] as number)
}
