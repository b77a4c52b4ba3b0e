/** A table whose figures can be asked about: what it shows, and which figure each cell is. Pure. */
import type { Figure } from '../../../src-shared/review/figure.ts'

export interface FigureCell {
  text: string
  /** Absent: nothing is behind it. */
  figure?: Figure
  heed?: boolean
  quiet?: boolean
}

export interface FigureRow {
  key: string
  label: string
  /** Beneath the label. */
  note?: string
  cells: FigureCell[]
  /** Set in from the row above, of which it is a part. */
  isPart?: boolean
  isTotal?: boolean
}

export interface FigureColumn {
  label: string
  /** Words, not figures. */
  isWords?: boolean
}

/** Said where nothing is known: a nought would be a figure. */
export const unknown = '–'

/** The next cell with something behind it in a direction; where there is none, the same. */
export function nextCell(
  rows: readonly FigureRow[],
  from: { row: number; cell: number },
  key: string,
): { row: number; cell: number } {
  const has = (row: number, cell: number) => rows[row]?.cells[cell]?.figure !== undefined
  const steps: Record<string, [number, number]> = {
    ArrowUp: [-1, 0],
    ArrowDown: [1, 0],
    ArrowLeft: [0, -1],
    ArrowRight: [0, 1],
  }
  const [down, right] = steps[key] ?? [0, 0]
  let { row, cell } = from
  for (;;) {
    row += down
    cell += right
    if (rows[row]?.cells[cell] === undefined) return from
    if (has(row, cell)) return { row, cell }
  }
}

export function firstCell(rows: readonly FigureRow[]): { row: number; cell: number } | null {
  for (const [row, { cells }] of rows.entries()) {
    const cell = cells.findIndex(({ figure }) => figure !== undefined)
    if (cell >= 0) return { row, cell }
  }
  return null
}
