/**
 * Field, variety, window and week, each with what is the same for all options there and is worked out once: a large farm
 * has millions of candidates.
 */
import type { Field } from '../field.ts'
import type { Variety } from '../variety.ts'
import type { PlantingWindow } from '../window.ts'
import { acreValueOn, vineCostOn, type AcreValue, type BestValue, type VineCost } from './acre-money.ts'
import { silent } from './calculation.ts'
import type { Candidates } from './candidates.ts'
import type { Context } from './context.ts'
import type { Ground } from './crop.ts'
import { mostRates, type DropFor } from './drop.ts'
import { reasonsOfCount, reasonsOfGroups } from './hard-rules.ts'
import { hoursPerAcre } from './harvest.ts'
import { dollarsPerPound } from './price.ts'
import type { Programme } from './programme.ts'
import type { SeedPrice } from './seed-price.ts'
import type { VineEntry } from './vine.ts'
import { vineWorkOf, type VineWork } from './vine-work.ts'

/** What a planting week is to a variety: the same on every field. */
export interface Dated {
  week: string
  /** ISO date */
  planted: string
  /** [share] of the best date's yield. */
  date: number
  ripe: string
}

/** A seeding rate with the share of full yield that its stand leaves: the same on every field with such rows. */
export interface Rate extends DropFor {
  standShare: number
}

/** A field with what is the same there for every variety. */
export interface OnField {
  field: Field
  ground: Ground
  best: BestValue
  programmes: readonly Programme[]
  columns: Columns
}

/** Columns of candidates with what their options say beside. */
export interface Columns extends Omit<Candidates, 'rates' | 'programs'> {
  /** [share of yield] all diseases and pests. */
  lossShare: Float64Array
  /** [cent/acre] yield given up to variety, stand and date. */
  giveUp: Float64Array
  /** [cent/acre] what the vine costs. */
  vine: Float64Array
}

/**
 * Room for the candidates of any place on a field. Every place there is worked out in the same columns: to make new ones
 * took as long as to fill them.
 */
export function columnsFor(programmes: readonly Programme[]): Columns {
  const column = () => new Float64Array(mostRates * programmes.length)
  return {
    isAllowed: new Uint8Array(mostRates * programmes.length),
    pounds: column(),
    cash: column(),
    lossShare: column(),
    loss: column(),
    giveUp: column(),
    vine: column(),
    other: column(),
    total: column(),
  }
}

/** A variety on a field, with what is the same there in every window. */
export interface OnGround extends OnField {
  variety: Variety
  price: SeedPrice | undefined
  vine: VineEntry
  work: VineWork
  /** [cent/lb] that a pound of the crop leaves. */
  perPound: number
  valueOf: (beforeLb: number) => AcreValue
  vineOf: (crop: number) => VineCost
  /** [cent/acre] practices and vine work, by program. */
  cash: number[]
  /** Programs by rising cash. */
  byCash: number[]
  /** By program: what a count of nematodes forbids. */
  ofCount: string[][]
  /** [machine-hour/acre] */
  hours: { planter: number; digger: number; combine: number }
}

export function onGround(context: Context, at: OnField, variety: Variety, price: SeedPrice | undefined): OnGround {
  const { season, hard } = context
  const { field, ground, best, programmes } = at
  const vine = context.vine[variety.vine][field.growth]
  const work = vineWorkOf(context, vine, variety)
  const cash = programmes.map(({ cents }) => cents + work.cents)
  return {
    ...at,
    variety,
    price,
    vine,
    work,
    perPound: dollarsPerPound(context.book, context.price, variety, silent) * 100,
    valueOf: acreValueOn(context, best, ground, field, variety),
    vineOf: vineCostOn(context, field, variety),
    cash,
    byCash: [...cash.keys()].sort((a, b) => (cash[a] as number) - (cash[b] as number)),
    ofCount: programmes.map(({ measures }) => reasonsOfCount(hard, field, variety, measures)),
    hours: {
      planter: hoursPerAcre(season.machines, 'planter', 0),
      digger: hoursPerAcre(season.machines, 'digger', vine.slowing),
      combine: hoursPerAcre(season.machines, 'combine', vine.slowing),
    },
  }
}

/** A window with what is the same there for every variety on a field. */
export interface InWindow {
  window: PlantingWindow
  /** By program: what the house and the window ask for and it has not. */
  ofGroups: readonly string[][]
}

/** @param ofGroups by program of the field */
export function inWindow({ hard }: Context, window: PlantingWindow, programmes: readonly Programme[]): InWindow {
  return { window, ofGroups: programmes.map(({ measures }) => reasonsOfGroups(hard, window, measures)) }
}
