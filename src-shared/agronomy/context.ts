/** What every option of a season needs and is the same for all: the assumptions read once. */
import { Book } from '../assumption.ts'
import { starterBook } from '../book/starter.ts'
import type { Field } from '../field.ts'
import { ruleOf } from '../rule.ts'
import type { Season } from '../season.ts'
import { readCalendar, type Calendar } from './calendar.ts'
import { readCanopy } from './canopy.ts'
import { hardRulesOf, type HardRules } from './hard-rules.ts'
import { readDateCurve, type DateCurve } from './planting-date.ts'
import { readPrice, type Price } from './price.ts'
import { houseReserve } from './reserve.ts'
import { readRotation, type RotationTable } from './rotation.ts'
import type { Emergence } from './seed.ts'
import { readStandCurve, type StandCurve } from './stand-yield.ts'
import type { CanopyCurve } from './threat.ts'
import { readThreat, type ThreatTable } from './threat-table.ts'
import { usualChoiceOf, type UsualChoice } from './usual-choice.ts'
import { readVine, type VineTable } from './vine.ts'

/** A season that differs from the usual year that its yield goals speak of. */
export interface UnusualSeason extends Season {
  /** [lb/acre] What each field could make, as the usual year has it; absent: this is the usual year. */
  attainable?: ReadonlyMap<string, number>
}

export interface Context {
  season: UnusualSeason
  book: Book
  threats: ThreatTable[]
  vine: VineTable
  emergence: Record<Field['rowPattern'], Emergence>
  /** [seeds/ft of row position] where a field has no drop of its own. */
  houseDrop: Record<Field['rowPattern'], number>
  canopy: CanopyCurve
  standCurve: StandCurve
  dateCurve: DateCurve
  calendar: Calendar
  price: Price
  /** What yield goals refer to. */
  usual: UsualChoice
  /** [share] ordered beyond the need: a fixed one, or by chance, which goes before. The same for every variety. */
  reserve: number
  rotation: RotationTable
  hard: HardRules
  /** Dollars of cash that a dollar of expected loss counts. */
  riskWeight: number
  /** True where the plan chooses the seeding rate. */
  choosesRate: boolean
  /** [plants/ft] below which no rate is offered. */
  leastStand: number
  /** [share] between two rates that it chooses from. */
  rateStep: number
  /** False where the house leaves yield out of account: then only losses count. */
  countsYield: boolean
  /** [$/acre] what an acre costs beside all that is counted by choice. */
  elseDollars: number
  /** [$/machine-hour] beyond the usual, where the vine slows a machine. */
  hourDollars: Record<'digger' | 'combine', number>
  /** [lb/acre] more yield where a growth regulator is used; 0 unless the house says otherwise. */
  regulatorGainLb: number
}

/** @param book the starter set with the farm's rows over it; a test may hand in one that remembers what was read */
export function contextOf(season: UnusualSeason, book = new Book(starterBook, season.assumptions)): Context {
  const houseDrop = { single: book.number('drop/seeds per foot/single'), twin: book.number('drop/seeds per foot/twin') }
  const emergence = (rows: Field['rowPattern']): Emergence => ({
    field: book.number(`emergence/field/${rows}`),
    fallsPerSeed: book.number('emergence/falls per seed'),
    referenceSeedsPerFoot: houseDrop[rows],
  })
  const threats = season.threats.map((threat) => readThreat(book, threat))
  const canopy = readCanopy(book)
  const vine = readVine(book)
  const usual = usualChoiceOf(season, book)
  return {
    season,
    book,
    threats,
    vine,
    emergence: { single: emergence('single'), twin: emergence('twin') },
    houseDrop,
    canopy,
    standCurve: readStandCurve(book),
    dateCurve: readDateCurve(book),
    calendar: readCalendar(season, book),
    price: readPrice(book, season.contracts),
    usual,
    reserve: reserveOf(season, book),
    rotation: readRotation(book, threats, canopy),
    hard: hardRulesOf(season.rules, threats, book),
    riskWeight: ruleOf(season.rules, 'risk-weight')?.amount ?? 1,
    leastStand: book.number('rate/least stand'),
    choosesRate: ruleOf(season.rules, 'choose-rate') !== undefined,
    rateStep: book.number('drop/step'),
    countsYield: ruleOf(season.rules, 'yield-left-out') === undefined,
    elseDollars: book.number('cost/everything else'),
    hourDollars: { digger: book.number('harvest/digger hour'), combine: book.number('harvest/combine hour') },
    regulatorGainLb: book.number('vine/growth regulator/yield gain'),
  }
}

/** [share] The coefficients of variation are the same for every pound, so one pound answers for all varieties. */
function reserveOf(season: Season, book: Book): number {
  if (ruleOf(season.rules, 'reserve-by-chance')) return houseReserve(book, 1).reserve
  return ruleOf(season.rules, 'reserve')?.amount ?? 0
}
