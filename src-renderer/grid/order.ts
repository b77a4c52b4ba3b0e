/** Which rows are shown, and in what order. Pure. */
import { compareNames } from '../../src-shared/name-order.ts'
import type { Column } from './columns.ts'

export interface Sort {
  column: string
  way: 'ascending' | 'descending'
}

/**
 * A header chosen once sorts up, twice down, three times not at all.
 * @param isFurther within what is sorted by already, instead of in its place
 */
export function nextSorts(sorts: readonly Sort[], column: string, isFurther: boolean): Sort[] {
  const own = isFurther || sorts.length === 1 ? sorts.find((sort) => sort.column === column) : undefined
  const next: Sort[] =
    own === undefined ? [{ column, way: 'ascending' }] : own.way === 'ascending' ? [{ column, way: 'descending' }] : []
  if (!isFurther) return next
  return own === undefined ? [...sorts, ...next] : sorts.flatMap((sort) => (sort === own ? next : [sort]))
}

/** Rows in which every word of the filter stands somewhere, sorted; empty cells come last either way. */
export function arrange<Row>(
  rows: readonly Row[],
  columns: readonly Column<Row>[],
  filter: string,
  sorts: readonly Sort[],
): Row[] {
  const words = filter.toLowerCase().split(/\s+/).filter(Boolean)
  const kept = rows.filter((row) => {
    if (words.length === 0) return true
    const text = columns.map((column) => column.show(row).toLowerCase()).join('\n')
    return words.every((word) => text.includes(word))
  })
  const by = sorts.flatMap(({ column, way }) => {
    const own = columns.find((each) => each.id === column)
    return own ? [{ column: own, turn: way === 'ascending' ? 1 : -1 }] : []
  })
  if (by.length === 0) return kept
  return kept.sort((one, other) => {
    for (const { column, turn } of by) {
      const order = compare(column.sortBy(one), column.sortBy(other), turn)
      if (order !== 0) return order
    }
    return 0
  })
}

function compare(one: string | number | null, other: string | number | null, turn: number): number {
  if (one === null || other === null) return one === other ? 0 : one === null ? 1 : -1
  if (typeof one === 'number' && typeof other === 'number') return turn * (one - other)
  return turn * compareNames(String(one), String(other))
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
