/**
 * What a threat is expected to take: B(level) × S(rating) × M, combined over threats. Every number comes from
 * the house book; this file holds only the arithmetic. All losses are shares of yield, 0–1.
 */
import type { Book } from '../assumption.ts'
import {
  pressureLevels,
  rowPatterns,
  tillages,
  waters,
  type PressureLevel,
  type RowPattern,
  type Tillage,
  type Water,
} from '../field.ts'
import type { Threat } from '../threat.ts'
import { windowKinds, type WindowKind } from '../window.ts'

/** Ratings from this on downward count as resistant: "low" on the descriptor scale. */
export const RESISTANT_RATING = 3

/** One threat's rows, read once from the book: a season's options ask for them half a million times. */
export interface ThreatTable {
  name: string
  /** Losses of leaf diseases also go by the vine. */
  isLeaf: boolean
  /** [share] by rating; index 1–9, index 0 unused. */
  share: number[]
  /** [share of yield] of a variety rated 9 under reference practices, by pressure level. */
  loss: Record<PressureLevel, number>
  window: Record<WindowKind, number>
  rows: Record<RowPattern, number>
  water: Record<Water, number>
  tillage: Record<Tillage, number>
  /** By whole seasons since the last crop, the last entry for that many or more. */
  yearsOut: number[]
  /** [share per plant/ft] more loss for each plant a foot below the reference stand, less above. */
  perMissingPlant: number
  /** [plants/ft] */
  referenceStand: number
}

/** The circumstances of one field, variety and window, without the programme. */
export interface ThreatCase {
  level: PressureLevel
  /** Susceptibility 1–9; halves are interpolated. */
  rating: number
  window: WindowKind
  rows: RowPattern
  water: Water
  tillage: Tillage
  /** null where no history is known: no factor is applied. */
  yearsOut: number | null
  /** [plants/ft] */
  stand: number
  /** From the vine table; 1 for threats that are no leaf disease. */
  vine: number
}

/** A factor's name as the working shows it, its key in the book and its value. */
export interface Factor {
  name: string
  key: string
  value: number
}

/**
 * Reads one threat's rows. B(level) stands in the book itself (`loss/high`) or, where the literature has a
 * slope, as severity × slope (`severity/high`, `slope`). A factor without a row is 1.
 */
export function readThreat(book: Book, threat: Threat): ThreatTable {
  const at = (rest: string) => `threat/${threat.name}/${rest}`
  const slope = book.numberOr(at('slope'), Number.NaN)
  const each = <Key extends string>(keys: readonly Key[], topic: string) =>
    Object.fromEntries(keys.map((key) => [key, book.numberOr(at(`${topic}/${key}`), 1)])) as Record<Key, number>
  const yearsOut: number[] = []
  while (book.rows.has(at(`years out/${yearsOut.length}`))) {
    yearsOut.push(book.number(at(`years out/${yearsOut.length}`)))
  }
  return {
    name: threat.name,
    isLeaf: threat.kind === 'leaf',
    share: Array.from({ length: 10 }, (_, r) =>
      r === 0 ? 0 : book.numberOr(at(`share/${r}`), book.numberOr(`share/${r}`, r / 9)),
    ),
    loss: Object.fromEntries(
      pressureLevels.map((level) => [
        level,
        Number.isNaN(slope)
          ? book.numberOr(at(`loss/${level}`), 0)
          : Math.min(1, book.numberOr(at(`severity/${level}`), 0) * slope),
      ]),
    ) as Record<PressureLevel, number>,
    window: each(windowKinds, 'window'),
    rows: each(rowPatterns, 'rows'),
    water: each(waters, 'water'),
    tillage: each(tillages, 'tillage'),
    yearsOut,
    perMissingPlant: book.numberOr(at('per missing plant'), 0),
    referenceStand: book.number('stand/reference'),
  }
}

/**
 * Share of the reference loss that a variety of this rating takes, piecewise linear between whole ratings.
 * @param rating 1–9, held to that range
 * @returns [share] 0–1
 */
export function shareAt(table: ThreatTable, rating: number): number {
  const r = Math.min(9, Math.max(1, rating))
  const below = Math.floor(r)
  const low = table.share[below] as number
  const high = table.share[Math.min(9, below + 1)] as number
  return low + (high - low) * (r - below)
}

/** The factors that make up M, without measures, each with its key in the book. */
export function factorsOf(table: ThreatTable, at: ThreatCase): Factor[] {
  const key = (rest: string) => `threat/${table.name}/${rest}`
  const factors: Factor[] = [
    { name: `${at.window} window`, key: key(`window/${at.window}`), value: table.window[at.window] },
    { name: `${at.rows} rows`, key: key(`rows/${at.rows}`), value: table.rows[at.rows] },
    { name: at.water, key: key(`water/${at.water}`), value: table.water[at.water] },
    { name: `${at.tillage} tillage`, key: key(`tillage/${at.tillage}`), value: table.tillage[at.tillage] },
    { name: 'stand', key: key('per missing plant'), value: standFactor(table, at.stand) },
  ]
  if (at.yearsOut !== null && table.yearsOut.length > 0) {
    const years = Math.min(at.yearsOut, table.yearsOut.length - 1)
    factors.push({
      name: `${at.yearsOut} years out`,
      key: key(`years out/${years}`),
      value: table.yearsOut[years] as number,
    })
  }
  if (table.isLeaf) factors.push({ name: 'vine', key: 'vine', value: at.vine })
  return factors.filter((factor) => factor.value !== 1)
}

/** Linear in missing plants, held between ½ and 2: beyond that no direction was ever measured. */
function standFactor(table: ThreatTable, stand: number): number {
  return Math.min(2, Math.max(0.5, 1 + table.perMissingPlant * (table.referenceStand - stand)))
}

/**
 * Expected loss to one threat before any measure.
 * @returns [share of yield] 0–1
 */
export function lossBeforeMeasures(table: ThreatTable, at: ThreatCase): number {
  let loss = table.loss[at.level]
  if (loss === 0) return 0
  loss *= shareAt(table, at.rating) * table.window[at.window] * table.rows[at.rows]
  loss *= table.water[at.water] * table.tillage[at.tillage] * standFactor(table, at.stand)
  if (at.yearsOut !== null && table.yearsOut.length > 0) {
    loss *= table.yearsOut[Math.min(at.yearsOut, table.yearsOut.length - 1)] as number
  }
  if (table.isLeaf) loss *= at.vine
  return loss
}

/**
 * The same after measures: each of efficacy e leaves 1 − e. Held to 1 only here, so that a measure always helps.
 * @returns [share of yield] 0–1
 */
export function lossAfter(before: number, efficacies: readonly number[]): number {
  return Math.min(
    1,
    efficacies.reduce((loss, efficacy) => loss * (1 - efficacy), before),
  )
}

/**
 * Losses to several threats together: 1 − Π(1 − loss).
 * @returns [share of yield] 0–1
 */
export function combineLosses(losses: readonly number[]): number {
  return 1 - losses.reduce((left, loss) => left * (1 - loss), 1)
}

/** [juveniles per 100 cc] from a count in another volume of soil: 83 in 500 cc → 16.6. */
export function nematodesPer100cc(count: number, volumeCc: number): number {
  return (count * 100) / volumeCc
}

/** Pressure that a nematode count stands for, by the book's thresholds; null where no sample was taken. */
export function nematodeLevel(book: Book, per100cc: number | undefined): PressureLevel | null {
  if (per100cc === undefined) return null
  let found: PressureLevel = 'none'
  for (const level of pressureLevels.slice(1)) {
    if (per100cc >= book.numberOr(`nematode/from/${level}`, Number.POSITIVE_INFINITY)) found = level
  }
  return found
}
