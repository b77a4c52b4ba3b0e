/** The review's tables and pictures from random seasons: every row as wide as its head, what is unknown is a dash, the waterfall ends at what was paid. */
import { describe, expect, it } from 'vitest'
import { views } from '../../../../src-shared/review/money-rows.ts'
import { figureSchema } from '../../../../src-shared/review/figure.ts'
import { reckon, reviewOf } from '../../../../src-shared/review/review.ts'
import { measures } from '../../../../src-shared/review/side-by-side.ts'
import * as v from 'valibot'
import { marginRows, troubleRows, waterfallBase, waterfallRows } from '../../../../src-renderer/pages/review/charts.ts'
import { firstCell, nextCell, type FigureRow } from '../../../../src-renderer/pages/review/figure-cells.ts'
import { seedTable } from '../../../../src-renderer/pages/review/seed-table.ts'
import {
  farmTable,
  marginTable,
  moneyTable,
  pairWords,
  standTable,
  troubleTable,
  varietyTable,
  type Shown,
} from '../../../../src-renderer/pages/review/tables.ts'
import { randomRecord } from '../../../support/review-input.ts'

describe.each([2, 5, 9, 33, 71])('season %i', (seed) => {
  const review = reviewOf(reckon(randomRecord(seed, { fields: 6, lots: 6, loads: 18 })))
  const shown: [string, Shown][] = [
    ['farm', farmTable(review)],
    ...measures.map((measure): [string, Shown] => [measure, varietyTable(review, measure)]),
    ...views.map((view): [string, Shown] => [view, moneyTable(review, view)]),
    ...(review.seed === null ? [] : [['seed', seedTable(review.seed)] as [string, Shown]]),
    ['stands', standTable(review.stands)],
    ['trouble', troubleTable(review.trouble)],
    ['margins', marginTable(review)],
  ]
  it.each(shown)('%s', (_name, { columns, rows }) => {
    expect(new Set(rows.map(({ key }) => key)).size).toBe(rows.length)
    for (const { cells } of rows) {
      expect(cells).toHaveLength(columns.length)
      for (const { text, figure } of cells) {
        expect(text).not.toMatch(/NaN|undefined|null|Infinity/)
        if (figure !== undefined) expect(v.is(figureSchema, figure)).toBe(true)
      }
    }
  })

  it('the seed walk: planned and paid add up to their foot', () => {
    if (review.seed === null) return
    const cents = (text: string | undefined) => Number((text ?? '').replace('−', '-').replace(/[$,]/g, ''))
    const { rows } = seedTable(review.seed)
    for (const column of [0, rows[0]!.cells.length - 1]) {
      const parts = rows.slice(0, -1).map(({ cells }) => cents(cells[column]?.text))
      // Whole dollars: each row may be half a dollar off.
      const off = parts.reduce((sum, part) => sum + part, 0) - cents(rows.at(-1)!.cells[column]?.text)
      expect(Math.abs(off)).toBeLessThanOrEqual(rows.length / 2)
    }
  })

  it('pictures', () => {
    if (review.seed !== null) {
      const rows = waterfallRows(review.seed)
      expect(rows[0]!.bars![0]!.to).toBe(review.seed.plannedCents)
      expect(rows.at(-1)!.bars![0]!.to).toBe(review.seed.paidCents)
      // Each step begins where the one before ended, and the last ends at what was paid.
      for (const [at, row] of rows.slice(1, -1).entries()) expect(row.bars![0]!.from).toBe(rows[at]!.leadsAt)
      expect(rows.at(-2)!.leadsAt).toBe(review.seed.paidCents)
      for (const { bars } of rows)
        expect(Math.min(bars![0]!.from, bars![0]!.to)).toBeGreaterThanOrEqual(waterfallBase(review.seed))
    }
    expect(troubleRows(review.trouble)).toHaveLength(review.trouble.filter(({ told }) => told !== null).length)
    expect(marginRows(review).map(({ dots }) => dots?.length)).toEqual(
      review.margins.varieties.map(({ spread }) => spread.count),
    )
    const count = review.margins.varieties.length
    expect(pairWords(review)).toHaveLength((count * (count - 1)) / 2)
  })
})

it('arrows go from figure to figure over what has nothing behind it, and stay at the edge', () => {
  const figure = { of: 'trouble', threat: 'x' } as const
  const rows: FigureRow[] = [
    { key: 'a', label: 'a', cells: [{ text: '–' }, { text: '1', figure }, { text: '2', figure }] },
    { key: 'b', label: 'b', cells: [{ text: '–' }, { text: '–' }, { text: '3', figure }] },
    { key: 'c', label: 'c', cells: [{ text: '–' }, { text: '4', figure }, { text: '5', figure }] },
  ]
  expect(firstCell(rows)).toEqual({ row: 0, cell: 1 })
  expect(nextCell(rows, { row: 0, cell: 1 }, 'ArrowDown')).toEqual({ row: 2, cell: 1 })
  expect(nextCell(rows, { row: 0, cell: 1 }, 'ArrowLeft')).toEqual({ row: 0, cell: 1 })
  expect(nextCell(rows, { row: 2, cell: 1 }, 'ArrowRight')).toEqual({ row: 2, cell: 2 })
  expect(nextCell(rows, { row: 1, cell: 2 }, 'ArrowUp')).toEqual({ row: 0, cell: 2 })
  expect(firstCell([])).toBeNull()
})
