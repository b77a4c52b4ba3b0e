/**
 * Rotation → share of the yield two years out, beside the diseases that are counted on their own. The published series has
 * those diseases in it; what they explain by the same arithmetic is taken out, so that together they make the published
 * yields again under the trial's usual practices. Source: Lamb (T4a), rows `rotation/…`.
 */
import type { Book } from '../assumption.ts'
import { pressureLevels, waters, type PressureLevel, type Water } from '../field.ts'
import { figure, rowFigure, silent, type Calculation } from './calculation.ts'
import type { Context } from './context.ts'
import { practiceLosses, usualControlFigure } from './practice-losses.ts'
import { combineLosses, shareBefore, type CanopyCurve } from './threat.ts'
import type { ThreatTable } from './threat-table.ts'

/** By water: the published share for so many whole seasons out, and what counted diseases take there in the trial. */
export type RotationTable = Record<Water, { key: string; published: number; disease: number }[]>

/** Whole seasons out that the published shares are against. */
const publishedAgainst = 2

/** @param threats the season's own: what the farm does not count stays in the rotation share */
export function readRotation(book: Book, threats: readonly ThreatTable[], canopy: CanopyCurve): RotationTable {
  return Object.fromEntries(
    waters.map((water) => {
      const years: RotationTable[Water] = []
      for (let out = 0; book.rows.has(`rotation/${water}/${out}`); out += 1) {
        const key = `rotation/${water}/${out}`
        years.push({ key, published: book.number(key), disease: diseaseInTrial(book, threats, canopy, water, out) })
      }
      return [water, years]
    }),
  ) as RotationTable
}

/** [share of yield] all counted diseases together, on the usual variety under the usual sprays. */
export function diseaseInTrial(
  book: Book,
  threats: readonly ThreatTable[],
  canopy: CanopyCurve,
  water: Water,
  yearsOut: number,
  calculation: Calculation = silent,
): number {
  const rating = book.number('usual/rating')
  const shares = threats.map((table) =>
    shareBefore(
      book,
      table,
      {
        level: trialPressure(book),
        rating,
        rated: () => 'usual rating',
        window: 'usual',
        rows: 'single',
        water,
        tillage: 'conventional',
        yearsOut,
        stand: table.referenceStand,
        vine: 1,
        vineKey: '',
      },
      calculation,
    ),
  )
  const left = threats.map((table) => [usualControlFigure(book, table)])
  return combineLosses(practiceLosses({ threats, canopy, book }, shares, left, calculation))
}

function trialPressure(book: Book): PressureLevel {
  const word = book.word('rotation/trial/pressure')
  return pressureLevels.find((level) => level === word) ?? 'moderate'
}

/**
 * @param yearsOut whole seasons; beyond the last published one it counts as that
 * @returns [× yield two years out] 1 at two years out
 */
export function rotationShare(
  { book, rotation: table, threats, canopy }: Pick<Context, 'book' | 'rotation' | 'threats' | 'canopy'>,
  water: Water,
  yearsOut: number,
  calculation: Calculation,
): number {
  const years = table[water]
  const here = years[Math.min(yearsOut, years.length - 1)]
  if (here === undefined) return 1
  const against = years[publishedAgainst] ?? here
  if (calculation.keepsLines && here !== against) {
    for (const out of [publishedAgainst, Math.min(yearsOut, years.length - 1)]) {
      const trial = calculation.partOf(`trial, ${out} years out`)
      diseaseInTrial(book, threats, canopy, water, out, trial)
      calculation.add(trial)
    }
  }
  return calculation.line(
    'kept in proportion',
    [
      rowFigure(
        book,
        here.key,
        yearsOut === 1 ? '1 year out of peanut' : `${yearsOut} years out of peanut`,
        here.published,
      ),
      figure(against.disease, 'diseases in the trial two years out', 'share of yield'),
      figure(here.disease, 'diseases in the trial this far out', 'share of yield'),
    ],
    () => ({ id: 'rotation', label: 'Rotation, beside the diseases counted', unit: '× two years out' }),
  )
}
