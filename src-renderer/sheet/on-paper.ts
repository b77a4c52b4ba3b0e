/** The columns that a table has on paper, where room is dear: those in which something stands, each value in one unit. Pure. */
import type { Column } from '../grid/columns.ts'

/** @returns `empty`: labels of columns that are left out because nothing stands in them; a table without rows keeps all */
export function onPaper<Row>(
  columns: readonly Column<Row>[],
  rows: readonly Row[],
): { columns: Column<Row>[]; empty: string[] } {
  const paths = columns.map(({ id, path }) => path ?? id)
  // The same value in another unit says nothing new.
  const once = columns.filter((_, at) => paths.indexOf(paths[at] as string) === at)
  const [filled, empty] = [[] as Column<Row>[], [] as string[]]
  for (const column of once) {
    if (rows.length === 0 || rows.some((row) => column.show(row) !== '')) filled.push(column)
    else empty.push(column.label)
  }
  return { columns: filled, empty }
}
