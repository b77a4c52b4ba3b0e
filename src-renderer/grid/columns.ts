/** What a grid needs to know of a column: how a cell is shown, typed, read and sorted. Knows no noun. */
import type { Reading } from '../../src-shared/read-text.ts'
import { readDollars, readNumber, readOneOf, readPercent, readWords } from '../../src-shared/read-text.ts'
import { showCents, showDay, showNumber } from '../../src-shared/show.ts'

export type CellValue = string | number | boolean | null

export interface Column<Row> {
  id: string
  label: string
  /** Shown below the label. */
  unit?: string
  isFigure: boolean
  /** As it is read. */
  show(row: Row): string
  /** As it is typed. Absent where nothing can be typed. */
  edit?(row: Row): string
  read?(text: string): Reading<CellValue>
  /** The only values taken. */
  choices?: readonly string[]
  sortBy(row: Row): string | number | null
  /** [character] roughly, for columns of words. */
  width?: number
  /** Of a column that is not typed: where it comes from. */
  from?: string
}

type Given<Row, Value> = { id: string; label: string; unit?: string; width?: number; get(row: Row): Value | undefined }

/** Words as they stand. */
export function wordsColumn<Row>({ get, ...rest }: Given<Row, string>): Column<Row> {
  return {
    ...rest,
    isFigure: false,
    show: (row) => get(row) ?? '',
    edit: (row) => get(row) ?? '',
    read: readWords,
    sortBy: (row) => get(row)?.toLowerCase() ?? null,
  }
}

/** One of a few words; sorted in the order given, which is the order of their meaning. */
export function choiceColumn<Row>({
  get,
  choices,
  ...rest
}: Given<Row, string> & { choices: readonly string[] }): Column<Row> {
  return {
    ...rest,
    choices,
    isFigure: false,
    show: (row) => get(row) ?? '',
    edit: (row) => get(row) ?? '',
    read: readOneOf(choices),
    sortBy: (row) => choices.indexOf(get(row) ?? ''),
  }
}

/** @param decimals shown; absent: as many as the number has, up to two */
export function numberColumn<Row>({ get, decimals, ...rest }: Given<Row, number> & { decimals?: number }): Column<Row> {
  return {
    ...figures(get, readNumber, (value) => String(value)),
    ...rest,
    show: (row) => shown(get(row), (value) => plainNumber(value, decimals)),
  }
}

/** A share, shown and typed in percent. The unit in the header says so. */
export function percentColumn<Row>({ get, ...rest }: Given<Row, number>): Column<Row> {
  const percent = (share: number) => Number((share * 100).toFixed(4))
  return {
    ...figures(get, readPercent, (share) => String(percent(share))),
    ...rest,
    show: (row) => shown(get(row), (share) => plainNumber(percent(share))),
  }
}

/** Cents, shown and typed in dollars. */
export function dollarsColumn<Row>({ get, ...rest }: Given<Row, number>): Column<Row> {
  return {
    ...figures(get, readDollars, (cents) => (cents / 100).toFixed(2)),
    ...rest,
    show: (row) => shown(get(row), showCents),
  }
}

/** A day, typed as 2027-03-15. */
export function dayColumn<Row>({ get, ...rest }: Given<Row, string>): Column<Row> {
  return { ...wordsColumn({ get, ...rest }), show: (row) => shown(get(row), showDay), isFigure: true }
}

/** Not typed here: worked out, or kept elsewhere. `from` says which. */
export function computedColumn<Row>(given: {
  id: string
  label: string
  unit?: string
  width?: number
  isFigure?: boolean
  from: string
  show(row: Row): string
  sortBy(row: Row): string | number | null
}): Column<Row> {
  return { isFigure: false, ...given }
}

function figures<Row>(
  get: (row: Row) => number | undefined,
  read: (text: string) => Reading<number>,
  type: (value: number) => string,
) {
  return {
    isFigure: true,
    edit: (row: Row) => shown(get(row), type),
    // An emptied cell is null: whether it may be empty is the engine's to say.
    read: (text: string): Reading<CellValue> => (text.trim() === '' ? { ok: true, value: null } : read(text)),
    sortBy: (row: Row) => get(row) ?? null,
  }
}

function shown<Value>(value: Value | undefined, show: (value: Value) => string): string {
  return value === undefined ? '' : show(value)
}

function plainNumber(value: number, decimals?: number): string {
  if (decimals !== undefined) return showNumber(value, decimals)
  return value.toLocaleString('en-US', { maximumFractionDigits: 2 })
}
