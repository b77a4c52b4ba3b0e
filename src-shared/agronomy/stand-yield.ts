/**
 * Stand → share of full yield: one curve for the plan, other years, spring rates, replanting and the review.
 * Source: T10, T20; the rows `stand/yield/…` hold the points.
 */
import { rangeOf, type Book, type Range } from '../assumption.ts'
import { rowPatterns, type RowPattern } from '../field.ts'
import { figure, rowFigure, type Calculation, type Figure } from './calculation.ts'
import { formulas } from './formula.ts'
import type { End } from './threat.ts'

export interface StandCurve {
  /** By row pattern: rows of the points by rising stand, with their plants a foot. */
  points: Record<RowPattern, { key: string; plants: number; share: Range }[]>
  /** [share] one deviation of a stand about the planned one. */
  variation: number
}

export function readStandCurve(book: Book): StandCurve {
  const points = (rows: RowPattern) => {
    const start = `stand/yield/${rows}/`
    return [...book.rows.keys()]
      .filter((key) => key.startsWith(start))
      .map((key) => ({ key, plants: Number(key.slice(start.length)), share: rangeOf(book.row(key)) }))
      .sort((a, b) => a.plants - b.plants)
  }
  return {
    points: Object.fromEntries(rowPatterns.map((rows) => [rows, points(rows)])) as StandCurve['points'],
    variation: book.number('stand/variation'),
  }
}

/**
 * Share of full yield of a stand as it was counted: 0 at no plant, flat from the stand that holds full yield.
 * @param stand [plants/ft of row position] ≥ 0
 * @returns [share] 0–1; single rows: 1 plant → 0.87, 3 → 1
 */
export function standShare(curve: StandCurve, rows: RowPattern, stand: number, end: End = 'usual'): number {
  return formulas['through points'].of([stand, 0, 0, ...pointsOf(curve, rows, end)])
}

function pointsOf(curve: StandCurve, rows: RowPattern, end: End): number[] {
  return curve.points[rows].flatMap(({ plants, share }) => [plants, share[end]])
}

/**
 * Share of full yield of a planned stand: the mean of a poor, a usual and a good year of emergence, since a thin stand
 * loses more than a thick one gains. Weights of the three-point Gauss–Hermite rule.
 * @param stand [plants/ft] planned
 */
export function plannedStandShare(
  book: Book,
  curve: StandCurve,
  rows: RowPattern,
  stand: number,
  calculation: Calculation,
  end: End = 'usual',
): number {
  const off = Math.sqrt(3) * curve.variation
  const years = [Math.max(0, 1 - off), 1, 1 + off] as const
  // The same formulas without their names: priced a few hundred thousand times.
  if (!calculation.keepsLines) {
    return formulas['three years'].of(years.map((factor) => standShare(curve, rows, stand * factor, end)))
  }
  const of = (name: string, factor: number): Figure => {
    const value = calculation.line(
      'through points',
      [figure(stand * factor, `stand in a ${name} year`, 'plants/ft'), ...pointFigures(book, curve, rows, end)],
      () => ({ id: `stand share/${name}`, label: `Yield of the stand in a ${name} year`, unit: 'share of full yield' }),
    )
    return figure(value, `a ${name} year`, 'share')
  }
  calculation.line(
    'product',
    [figure(Math.sqrt(3), 'root of 3', ''), rowFigure(book, 'stand/variation', 'variation of stands', curve.variation)],
    () => ({ id: 'stand share/off', label: 'How far a poor or good year is off', unit: 'share' }),
  )
  return calculation.line('three years', [of('poor', years[0]), of('usual', years[1]), of('good', years[2])], () => ({
    id: 'stand share',
    label: 'Yield of the planned stand',
    unit: 'share of full yield',
  }))
}

function pointFigures(book: Book, curve: StandCurve, rows: RowPattern, end: End): Figure[] {
  return [
    figure(0, 'plants', 'plants/ft'),
    figure(0, 'share', 'share'),
    ...curve.points[rows].flatMap(({ key, plants, share }) => [
      figure(plants, 'plants', 'plants/ft'),
      rowFigure(book, key, 'share', share[end]),
    ]),
  ]
}
