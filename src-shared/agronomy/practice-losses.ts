/** What diseases and pests take of the yield once the practices have left what they leave. */
import type { Book } from '../assumption.ts'
import { figure, rowFigure, type Calculation, type Figure } from './calculation.ts'
import type { CanopyCurve, End } from './threat.ts'
import type { ThreatTable } from './threat-table.ts'

/**
 * What diseases and pests take after practices: the number and its working by one expression. Pricing half a million options
 * has no time for figures and lines: `lossesAfter` is the same there, and a test holds the two together.
 * @param left by disease or pest: what each practice leaves of it
 */
export function practiceLosses(
  { threats, canopy, book }: { threats: readonly ThreatTable[]; canopy: CanopyCurve; book: Book },
  shares: readonly number[],
  left: readonly (readonly Figure[])[],
  calculation: Calculation,
  end: End = 'usual',
): number[] {
  const after = threats.map((table, t) =>
    calculation.line(
      'product',
      [figure(shares[t] as number, 'without sprays', 'share'), ...(left[t] as readonly Figure[])],
      () => ({
        id: table.takes === 'leaves' ? `leaves/${table.name}` : `loss/${table.name}`,
        label: table.takes === 'leaves' ? `Leaves taken by ${table.name}` : `Yield lost to ${table.name}`,
        unit: table.takes === 'leaves' ? 'share of leaves' : 'share of yield',
      }),
    ),
  )
  const ofLeaves = threats.flatMap((table, t) => (table.takes === 'leaves' ? [{ table, t }] : []))
  if (ofLeaves.length === 0) return after
  const taken = calculation.line(
    'together',
    ofLeaves.map(({ table, t }) => figure(after[t] as number, table.name, 'share of leaves')),
    () => ({ id: 'leaves', label: 'Leaves taken together', unit: 'share of leaves' }),
  )
  const from = end === 'low' ? canopy.from.high : end === 'high' ? canopy.from.low : canopy.from.usual
  const lost = calculation.line(
    'canopy loss',
    [
      figure(taken, 'leaves taken', 'share of leaves'),
      rowFigure(book, 'canopy/loss begins at', 'loss begins at', from),
      rowFigure(book, 'canopy/most loss', 'most loss', canopy.most[end]),
      rowFigure(book, 'canopy/bend', 'bend', canopy.bend),
    ],
    () => ({ id: 'loss/leaves', label: 'Yield lost to missing leaves', unit: 'share of yield' }),
  )
  const losses = [...after]
  for (const { table, t } of ofLeaves) {
    losses[t] = calculation.line(
      'by leaves taken',
      [
        figure(lost, 'yield lost to missing leaves', 'share of yield'),
        figure(after[t] as number, `leaves taken by ${table.name}`, 'share of leaves'),
        figure(taken, 'leaves taken together', 'share of leaves'),
      ],
      () => ({ id: `loss/${table.name}`, label: `Yield lost to ${table.name}`, unit: 'share of yield' }),
    )
  }
  return losses
}

/** What the usual spray program leaves of one disease or pest. */
export function usualControlFigure(book: Book, { name, usualControl }: ThreatTable): Figure {
  const key = `threat/${name}/usual control`
  if (!book.rows.has(key)) return figure(1, 'no usual control', '×')
  return rowFigure(book, key, () => `what the usual program leaves (1 − ${usualControl})`, 1 - usualControl)
}
