/** What a grid needs to know of a column: how a cell is shown, typed, read and sorted. Knows no noun. */
import { showWhole } from '../../src-shared/show.ts'
import type { Reading } from '../../src-shared/read-text.ts'
import { pathOf, valueAt, type SheetColumn } from '../../src-shared/sheet/columns.ts'
import type { CellValue } from '../../src-shared/sheet/sheet.ts'

export interface Column<Row> {
  id: string
  /** Of the noun, where the cell is written to; the id where it is not given. */
  path?: string
  label: string
  /** Shown below the label. */
  unit?: string
  isFigure: boolean
  /** As it is read. */
  show(row: Row): string
  /** As the farm has it, to tell whether another has changed it meanwhile. */
  value?(row: Row): CellValue
  /** As it is typed. Absent where nothing can be typed. */
  edit?(row: Row): string
  read?(text: string): Reading<CellValue>
  /** The only values taken. */
  choices?: readonly string[]
  sortBy(row: Row): string | number | null
  /** The number that is shown, for sums and exports; null where there is none. */
  figure?(row: Row): number | null
  /** Why the value of a row is out of the ordinary; null where it is not. Said beside it; the value stands. */
  unusual?(row: Row): string | null
  /** [character] roughly, for columns of words. */
  width?: number
  /** A new row cannot be without it. */
  isNeeded?: boolean
  /** Of a column that is not typed: where it comes from. */
  from?: string
  /** It is not typed here, but not worked out either: it looks like what was typed. */
  isGiven?: boolean
  /** Of a column that is worked out: the working of this row with its numbers. */
  working?(row: Row): string
}

/** A column that is typed, as its sheet has it. */
export function typedColumn<Row extends object>(column: SheetColumn): Column<Row> {
  const { kind, id, label, unit, width, isNeeded, usual } = column
  const path = pathOf(column)
  const { figure } = kind
  return {
    id,
    path,
    label,
    isFigure: kind.isFigure,
    ...(unit === undefined ? {} : { unit }),
    ...(width === undefined ? {} : { width }),
    ...(isNeeded === undefined ? {} : { isNeeded }),
    ...(kind.choices === undefined ? {} : { choices: kind.choices }),
    value: (row) => valueAt(row, path),
    ...(usual === undefined
      ? {}
      : {
          unusual(row: Row) {
            const value = valueAt(row, path)
            const shown = value === null || figure === undefined ? null : figure(value)
            const [least, most] = usual
            return shown === null || (shown >= least && shown <= most)
              ? null
              : `usually ${showWhole(least)} to ${showWhole(most)}`
          },
        }),
    show(row) {
      const value = valueAt(row, path)
      return value === null ? '' : kind.show(value)
    },
    edit(row) {
      const value = valueAt(row, path)
      return value === null ? '' : kind.type(value)
    },
    // An emptied cell is null: whether it may be empty is the engine's to say.
    read: (text) => (text.trim() === '' ? { ok: true, value: null } : kind.read(text)),
    sortBy: (row) => kind.sort(valueAt(row, path)),
    ...(figure === undefined
      ? {}
      : {
          figure(row: Row) {
            const value = valueAt(row, path)
            return value === null ? null : figure(value)
          },
        }),
  }
}

/** Not typed here: worked out, or kept elsewhere. `from` says which. */
export function computedColumn<Row>(given: {
  id: string
  label: string
  unit?: string
  width?: number
  isFigure?: boolean
  from: string
  isGiven?: boolean
  show(row: Row): string
  sortBy(row: Row): string | number | null
  figure?(row: Row): number | null
  working?(row: Row): string
}): Column<Row> {
  return { isFigure: false, ...given }
}

/** A figure that is worked out: shown with its decimals, sorted and summed by what it is, its working on demand. */
export function workedColumn<Row>(given: {
  id: string
  label: string
  unit: string
  from: string
  value(row: Row): number | null
  show(value: number): string
  working?(row: Row): string
}): Column<Row> {
  const { value, show, ...rest } = given
  return {
    ...rest,
    isFigure: true,
    show: (row) => {
      const worked = value(row)
      return worked === null ? '' : show(worked)
    },
    sortBy: value,
    figure: value,
  }
}
