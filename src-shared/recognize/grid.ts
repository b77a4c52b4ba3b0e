/** A sheet as it is read: rows of cells, with what is merged. Pure. */

export type Cell = string | number | boolean

export interface Merge {
  top: number
  left: number
  bottom: number
  right: number
}

export interface Grid {
  rows: readonly (readonly Cell[])[]
  merges: readonly Merge[]
  /** [row] as a spreadsheet counts it, of the first. */
  firstRow: number
}

export const textOf = (cell: Cell | undefined): string =>
  cell === undefined ? '' : typeof cell === 'boolean' ? (cell ? 'yes' : 'no') : String(cell).trim()

export const isBlank = (cell: Cell | undefined): boolean =>
  cell === undefined || (typeof cell === 'string' && cell.trim() === '')

export const isBlankRow = (row: readonly Cell[] | undefined): boolean => row === undefined || row.every(isBlank)

/** A number, or a text that is one: what headings seldom are. */
export const isNumeric = (cell: Cell | undefined): boolean =>
  typeof cell === 'number' || (typeof cell === 'string' && /^[\s$~+-]*[\d.,]*\d[\d.,]*\s*%?\s*$/.test(cell))

/** Rows and columns changed about. */
export function turned(grid: Grid): Grid {
  const width = Math.max(0, ...grid.rows.map((row) => row.length))
  const rows = Array.from({ length: width }, (_, at) => grid.rows.map((row) => row[at] ?? ''))
  const merges = grid.merges.map(({ top, left, bottom, right }) => ({
    top: left,
    left: top,
    bottom: right,
    right: bottom,
  }))
  return { rows, merges, firstRow: 1 }
}
