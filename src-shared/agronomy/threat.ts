/**
 * What a threat is expected to take: B(level) × S(rating) × M, combined over threats. Every number comes from
 * the house book; this file holds only the arithmetic. All losses are shares of yield, 0–1.
 */
import type { Range } from '../assumption.ts'
import { pressureLevels, type PressureLevel, type RowPattern, type Tillage, type Water } from '../field.ts'
import type { WindowKind } from '../window.ts'
import { threatKey, type ThreatTable } from './threat-table.ts'

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
  /** [plants/ft of row position] */
  stand: number
  /** From the vine table; 1 for threats that are no leaf disease. */
  vine: number
}

/** A factor's name as the working shows it, its key in the book (null: from the vine table) and its value. */
export interface Factor {
  name: string
  key: string | null
  value: number
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

/** The factors that make up M, without measures: those that the book has a row for, and whatever else is not 1. */
export function factorsOf(table: ThreatTable, at: ThreatCase): Factor[] {
  const key = (rest: string) => threatKey(table.name, rest)
  const factors: Factor[] = [
    { name: `${at.window} window`, key: key(`window/${at.window}`), value: table.window[at.window] },
    { name: `${at.rows} rows`, key: key(`rows/${at.rows}`), value: table.rows[at.rows] },
    { name: at.water, key: key(`water/${at.water}`), value: table.water[at.water] },
    { name: `${at.tillage} tillage`, key: key(`tillage/${at.tillage}`), value: table.tillage[at.tillage] },
    { name: 'stand', key: key(`per missing plant/${at.rows}`), value: standFactor(table, at.rows, at.stand) },
  ]
  if (at.yearsOut !== null && table.yearsOut.length > 0) {
    const years = Math.min(at.yearsOut, table.yearsOut.length - 1)
    const name = at.yearsOut === 1 ? '1 year out' : `${at.yearsOut} years out`
    factors.push({ name, key: key(`years out/${years}`), value: table.yearsOut[years] as number })
  }
  if (table.isLeaf) factors.push({ name: 'vine', key: null, value: at.vine })
  return factors.filter((factor) => factor.key === null || table.keys.has(factor.key))
}

/**
 * Linear in missing plants, held to the book's least and most: beyond that no direction was ever measured.
 * @param stand [plants/ft] @returns [×]; 0.15 a plant, 3 plants against 4 → 1.15
 */
export function standFactor(table: ThreatTable, rows: RowPattern, stand: number): number {
  return Math.min(
    table.standEffect.most,
    Math.max(table.standEffect.least, 1 + table.perMissingPlant[rows] * (table.referenceStand - stand)),
  )
}

/** [×] all that bears on B but the measures: S(rating) and the circumstances. */
function multiplier(table: ThreatTable, at: ThreatCase): number {
  let product = shareAt(table, at.rating) * table.window[at.window] * table.rows[at.rows]
  product *= table.water[at.water] * table.tillage[at.tillage] * standFactor(table, at.rows, at.stand)
  if (at.yearsOut !== null && table.yearsOut.length > 0) {
    product *= table.yearsOut[Math.min(at.yearsOut, table.yearsOut.length - 1)] as number
  }
  return table.isLeaf ? product * at.vine : product
}

/**
 * Expected loss to one threat before any measure, not yet held to 1: see `lossAfter`.
 * @returns [share of yield] ≥ 0
 */
export function lossBeforeMeasures(table: ThreatTable, at: ThreatCase): number {
  const { usual } = table.loss[at.level]
  return usual === 0 ? 0 : usual * multiplier(table, at)
}

/**
 * The same after measures: each of efficacy e leaves 1 − e. Held to 1 only here, so that a measure always helps.
 * @returns [share of yield] 0–1; 0.3 before, measures of 0.9 and 0.5 → 0.015
 */
export function lossAfter(before: number, efficacies: readonly number[]): number {
  return Math.min(
    1,
    efficacies.reduce((loss, efficacy) => loss * (1 - efficacy), before),
  )
}

/**
 * Expected loss with the ends of what is published: where the book's slope or loss has a low and a high.
 * The other factors stay at their usual values: for most of them no range was found.
 * @param efficacies of the measures in the programme
 * @returns [share of yield] low ≤ usual ≤ high, each 0–1
 */
export function lossRange(table: ThreatTable, at: ThreatCase, efficacies: readonly number[] = []): Range {
  const factor = multiplier(table, at)
  const { low, usual, high } = table.loss[at.level]
  return {
    low: lossAfter(low * factor, efficacies),
    usual: lossAfter(usual * factor, efficacies),
    high: lossAfter(high * factor, efficacies),
  }
}

/**
 * Losses to several threats together: 1 − Π(1 − loss).
 * @returns [share of yield] 0–1; 0.1 and 0.2 → 0.28
 */
export function combineLosses(losses: readonly number[]): number {
  let left = 1
  for (const loss of losses) left *= 1 - loss
  return 1 - left
}

/** [juveniles per 100 cc] from a count in another volume of soil: 83 in 500 cc → 16.6. */
export function nematodesPer100cc(count: number, volumeCc: number): number {
  return (count * 100) / volumeCc
}

/**
 * Pressure that a soil count stands for, by the book's thresholds for this threat.
 * @returns null where no sample was taken, or where the count is of another threat
 */
export function countedLevel(table: ThreatTable, per100cc: number | undefined): PressureLevel | null {
  const { countFrom } = table
  if (per100cc === undefined || countFrom === null) return null
  return pressureLevels.findLast((level) => level !== 'none' && per100cc >= countFrom[level]) ?? 'none'
}
