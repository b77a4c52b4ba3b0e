/** A grid as a table to be written out: units in the headers, numbers as numbers, all else as it would be typed. */
import type { Column } from '../grid/columns.ts'

export interface TableOut {
  headers: string[]
  rows: (string | number | null)[][]
}

export function tableOf<Row>(columns: readonly Column<Row>[], rows: readonly Row[]): TableOut {
  return {
    headers: columns.map(({ label, unit }) => (unit === undefined ? label : `${label} (${unit})`)),
    rows: rows.map((row) =>
      columns.map((column) => {
        if (column.figure) return column.figure(row)
        return (column.edit ?? column.show)(row) || null
      }),
    ),
  }
}
