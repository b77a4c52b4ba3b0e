/**
 * What diseases and pests take: for each a share before practices, then what the practices leave, then all together. The
 * numbers come from the assumptions; this file holds only the arithmetic. Factors multiply odds, so nothing passes a
 * whole crop, and leaf diseases share one canopy: they cannot take the same leaf twice.
 */
import type { Book, Range } from '../assumption.ts'
import { pressureLevels, type PressureLevel, type RowPattern, type Tillage, type Water } from '../field.ts'
import type { WindowKind } from '../window.ts'
import { figure, rowFigure, type Calculation, type Figure } from './calculation.ts'
import { canopyLoss, formulas, timesOdds } from './formula.ts'
import { lossKeys, shareKey, threatKey, type ThreatTable } from './threat-table.ts'

/** The circumstances of one field, variety and window, without the spray program. */
export interface ThreatCase {
  level: PressureLevel
  /** Susceptibility 1–9; halves are interpolated. */
  rating: number
  /** What the working calls the rating. */
  rated: () => string
  window: WindowKind
  rows: RowPattern
  water: Water
  tillage: Tillage
  /** null where no history is known: no factor is applied. */
  yearsOut: number | null
  /** [plants/ft of row position] */
  stand: number
  /** From the vine table; 1 for what is no leaf disease. */
  vine: number
  /** Row that the vine's factor stands in. */
  vineKey: string
}

/** Yield lost to missing leaves, each with the ends of what was found. */
export interface CanopyCurve {
  /** [share of leaves] at which loss begins. */
  from: Range
  /** [share of yield] with no leaf left. */
  most: Range
  bend: number
}

/** Which end of what was found a loss is worked out with. */
export type End = keyof Range

/** [× the odds at rating 9] piecewise linear between whole ratings. @param rating 1–9, held to that range */
export function shareAt(table: ThreatTable, rating: number): number {
  const r = Math.min(9, Math.max(1, rating))
  const below = Math.floor(r)
  const low = table.share[below] as number
  const high = table.share[Math.min(9, below + 1)] as number
  return low + (high - low) * (r - below)
}

/**
 * [×] What the stand does to the odds: the same for each missing plant, held to the stands that were studied.
 * @param stand [plants/ft] @returns 0.15 a plant, 3 plants against 4 → 1.15
 */
export function standFactor(table: ThreatTable, rows: RowPattern, stand: number): number {
  const { from, to } = table.standMeasured
  return formulas['stand factor'].of([table.perMissingPlant[rows], table.referenceStand, stand, from, to])
}

/**
 * Share that one disease or pest takes before any practice: base × rating × factors, as odds.
 * @param end of the base share's range
 * @returns [share of leaves or of yield, as `table.takes` says] 0–1
 */
export function shareBefore(
  book: Book,
  table: ThreatTable,
  at: ThreatCase,
  calculation: Calculation,
  end: End = 'usual',
): number {
  const base = table.base[at.level][end]
  // The same terms without their names: asked for a few hundred thousand times while a season is priced.
  if (!calculation.keepsLines) return timesOdds(base, oddsFactor(table, at))
  const terms = [baseFigure(book, table, at, base, calculation), ratingFigure(book, table, at)]
  terms.push(...factorFigures(book, table, at, calculation))
  return calculation.line('odds', terms, () => ({
    id: `share/${table.name}`,
    label: `${capital(table.name)} without sprays`,
    unit: table.takes === 'leaves' ? 'share of leaves' : 'share of yield',
  }))
}

/** [× the odds] Rating and factors together, in the order of their figures below; one that has no row is 1. */
function oddsFactor(table: ThreatTable, at: ThreatCase): number {
  return (
    shareAt(table, at.rating) *
    table.window[at.window] *
    table.rows[at.rows] *
    table.water[at.water] *
    table.tillage[at.tillage] *
    yearsOutFactor(table, at.yearsOut) *
    standFactor(table, at.rows, at.stand) *
    (table.isLeaf ? at.vine : 1)
  )
}

/** [× the odds] The last published year also stands for those after it. */
function yearsOutFactor({ yearsOut: published }: ThreatTable, yearsOut: number | null): number {
  if (yearsOut === null || published.length === 0) return 1
  return published[Math.min(yearsOut, published.length - 1)] as number
}

function baseFigure(book: Book, table: ThreatTable, at: ThreatCase, base: number, calculation: Calculation): Figure {
  const isOfLeaves = table.takes === 'leaves'
  const keys = lossKeys(book.rows, table.name, at.level, isOfLeaves)
  const name = `${at.level} pressure, rated 9`
  const [key, slope] = keys
  if (key === undefined)
    return figure(base, `${at.level} pressure: the assumptions have no loss for it`, 'share of yield')
  if (!isOfLeaves && slope === undefined) return rowFigure(book, key, name, base)
  const terms = keys.map((each) => rowFigure(book, each, each.endsWith('/slope') ? 'loss by severity' : name))
  if (isOfLeaves) terms.push(figure(0.01, 'points to a share', 'share/point'))
  calculation.line('product', terms, () => ({
    id: `base/${table.name}`,
    label: `${capital(table.name)} at ${at.level} pressure on a variety rated 9`,
    unit: isOfLeaves ? 'share of leaves' : 'share of yield',
  }))
  return figure(base, name, isOfLeaves ? 'share of leaves' : 'share of yield')
}

function ratingFigure(book: Book, table: ThreatTable, at: ThreatCase): Figure {
  const value = shareAt(table, at.rating)
  return Number.isInteger(at.rating) && at.rating >= 1 && at.rating <= 9
    ? rowFigure(book, shareKey(book.rows, table.name, at.rating), at.rated, value)
    : figure(value, at.rated, '× the odds')
}

/** The factors that the assumptions have a row for; one that has none is 1 and is left out. */
function factorFigures(book: Book, table: ThreatTable, at: ThreatCase, calculation: Calculation): Figure[] {
  const figures: Figure[] = []
  const add = (rest: string, value: number, name: string) => {
    const key = threatKey(table.name, rest)
    if (table.keys.has(key)) figures.push(rowFigure(book, key, name, value))
  }
  add(`window/${at.window}`, table.window[at.window], `${at.window} window`)
  add(`rows/${at.rows}`, table.rows[at.rows], `${at.rows} rows`)
  add(`water/${at.water}`, table.water[at.water], at.water)
  add(`tillage/${at.tillage}`, table.tillage[at.tillage], `${at.tillage} tillage`)
  if (at.yearsOut !== null && table.yearsOut.length > 0) {
    const years = Math.min(at.yearsOut, table.yearsOut.length - 1)
    add(
      `years out/${years}`,
      table.yearsOut[years] as number,
      at.yearsOut === 1 ? '1 year out' : `${at.yearsOut} years out`,
    )
  }
  const perPlant = threatKey(table.name, `per missing plant/${at.rows}`)
  if (table.keys.has(perPlant)) figures.push(standFigure(book, table, at, perPlant, calculation))
  if (table.isLeaf && book.rows.has(at.vineKey)) figures.push(rowFigure(book, at.vineKey, 'vine', at.vine))
  return figures
}

function standFigure(book: Book, table: ThreatTable, at: ThreatCase, key: string, calculation: Calculation): Figure {
  const { from, to } = table.standMeasured
  const value = calculation.line(
    'stand factor',
    [
      rowFigure(book, key, 'for each missing plant a foot', table.perMissingPlant[at.rows]),
      rowFigure(book, 'stand/reference', 'reference stand', table.referenceStand),
      figure(at.stand, 'stand', 'plants/ft'),
      rowFigure(book, 'stand/measured from', 'thinnest stand studied', from),
      rowFigure(book, 'stand/measured to', 'thickest stand studied', to),
    ],
    () => ({
      id: `stand factor/${table.name}`,
      label: `What the stand does to ${table.name}`,
      unit: '× the odds',
      note:
        at.stand < from || at.stand > to ? 'Beyond the stands that were studied; counted at the nearest.' : undefined,
    }),
  )
  return figure(value, 'stand', '× the odds')
}

/**
 * Yield that each disease or pest takes after practices. Leaf diseases first take leaves, all together; the loss by the
 * canopy's curve is then laid to each by the leaves it took, so that together they make it again.
 * @param shares before practices, in the order of the tables
 * @param leaves [share] of each that the practices leave, in the same order
 * @returns [share of yield] in the same order, each 0–1; `combineLosses` of them is the whole loss
 */
export function lossesAfter(
  tables: readonly ThreatTable[],
  canopy: CanopyCurve,
  shares: readonly number[],
  leaves: readonly number[],
  end: End = 'usual',
): number[] {
  let leafLeft = 1
  // Loops over one list: asked for every option that stays.
  const losses: number[] = []
  for (let t = 0; t < shares.length; t += 1) {
    const left = (shares[t] as number) * (leaves[t] as number)
    if ((tables[t] as ThreatTable).takes === 'leaves') leafLeft *= 1 - left
    losses.push(left)
  }
  if (leafLeft === 1) return losses
  const taken = 1 - leafLeft
  const loss = canopyLossAt(canopy, taken, end)
  for (let t = 0; t < losses.length; t += 1) {
    if ((tables[t] as ThreatTable).takes !== 'leaves') continue
    losses[t] = formulas['by leaves taken'].of([loss, losses[t] as number, taken])
  }
  return losses
}

/**
 * All of `lossesAfter` together, without what each took: a few million are asked for while a season is priced.
 * @returns [share of yield] 0–1
 */
export function lossShareAfter(
  tables: readonly ThreatTable[],
  canopy: CanopyCurve,
  shares: readonly number[],
  leaves: readonly number[],
): number {
  let leafLeft = 1
  let yieldLeft = 1
  for (let t = 0; t < shares.length; t += 1) {
    const kept = 1 - (shares[t] as number) * (leaves[t] as number)
    if ((tables[t] as ThreatTable).takes === 'leaves') leafLeft *= kept
    else yieldLeft *= kept
  }
  if (leafLeft < 1) yieldLeft *= 1 - canopyLossAt(canopy, 1 - leafLeft, 'usual')
  return 1 - yieldLeft
}

/** [share of yield] Where the low end of the loss is asked for, loss begins late; for the high end, early. */
export function canopyLossAt(canopy: CanopyCurve, defoliation: number, end: End): number {
  const from = end === 'low' ? canopy.from.high : end === 'high' ? canopy.from.low : canopy.from.usual
  return canopyLoss(defoliation, from, canopy.most[end], canopy.bend)
}

/**
 * Losses to several diseases and pests together: 1 − Π(1 − loss).
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
 * Pressure that a soil count stands for, by the thresholds of this pest.
 * @returns null where no sample was taken, or where the count is of another pest
 */
export function countedLevel(table: ThreatTable, per100cc: number | undefined): PressureLevel | null {
  const { countFrom } = table
  if (per100cc === undefined || countFrom === null) return null
  return pressureLevels.findLast((level) => level !== 'none' && per100cc >= countFrom[level]) ?? 'none'
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}
