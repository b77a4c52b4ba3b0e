/** Which rows are shown, and in what order. Pure. */
import type { Column } from './columns.ts'

export interface Sort {
  column: string
  way: 'ascending' | 'descending'
}

/** A header clicked once sorts up, twice down, three times not at all. */
export function nextSort(sort: Sort | null, column: string): Sort | null {
  if (sort?.column !== column) return { column, way: 'ascending' }
  return sort.way === 'ascending' ? { column, way: 'descending' } : null
}

/** Rows in which every word of the filter stands somewhere, sorted; empty cells come last either way. */
export function arrange<Row>(
  rows: readonly Row[],
  columns: readonly Column<Row>[],
  filter: string,
  sort: Sort | null,
): Row[] {
  const words = filter.toLowerCase().split(/\s+/).filter(Boolean)
  const kept = rows.filter((row) => {
    if (words.length === 0) return true
    const text = columns.map((column) => column.show(row).toLowerCase()).join('\n')
    return words.every((word) => text.includes(word))
  })
  const by = columns.find((column) => column.id === sort?.column)
  if (!by || !sort) return kept
  const turn = sort.way === 'ascending' ? 1 : -1
  return kept.sort((one, other) => compare(by.sortBy(one), by.sortBy(other), turn))
}

function compare(one: string | number | null, other: string | number | null, turn: number): number {
  if (one === null || other === null) return one === other ? 0 : one === null ? 1 : -1
  if (typeof one === 'number' && typeof other === 'number') return turn * (one - other)
  return turn * String(one).localeCompare(String(other), 'en', { numeric: true })
}

/** Rows in an order made earlier. Rows that came since follow at the end: an old order hides nothing new. */
export function inOrder<Row>(
  rows: readonly Row[],
  keyOf: (row: Row) => number,
  order: { shown: readonly number[]; known: readonly number[] },
): Row[] {
  const byKey = new Map(rows.map((row) => [keyOf(row), row]))
  const known = new Set(order.known)
  return [...order.shown.flatMap((key) => byKey.get(key) ?? []), ...rows.filter((row) => !known.has(keyOf(row)))]
}
