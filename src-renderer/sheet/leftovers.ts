/** What an import does not take, to be mended and imported again: rows and cells as their files have them, each with its reason. Pure. */
import type { TableLook } from '../../src-shared/sheet/bring-in.ts'
import type { TableOut } from './table-out.ts'

/** One table of all files; their own headings stand above the rows of each. */
export function leftovers(tables: readonly TableLook[]): TableOut {
  const rows: (string | number | null)[][] = []
  let width = 0
  for (const { file, page, columns, rows: all } of tables) {
    const own = all.filter(({ problems, left }) => problems.length + left.length > 0)
    if (own.length === 0) continue
    const headings = columns.map(({ heading }) => heading)
    width = Math.max(width, headings.length)
    if (rows.length > 0) rows.push([])
    rows.push(['File', 'Row', 'Result', 'Why', ...headings])
    for (const { row, fate, cells, problems, left } of own) {
      const why = [...problems, ...left]
        .map(({ column, what, remedy }) => `${column < 0 ? '' : `${headings[column]}: `}${what} ${remedy}`)
        .join(' ')
      rows.push([
        page === null ? file : `${file}, ${page}`,
        row,
        fate === 'refused' ? 'row refused' : 'cell left empty',
        why,
        ...cells,
      ])
    }
  }
  const [headers = [], ...rest] = rows.map((row) => [
    ...row,
    ...Array.from({ length: width + 4 - row.length }, () => ''),
  ])
  return { headers: headers.map(String), rows: rest }
}
