/** A landlord or a place that stands once, above empty cells: whether it goes on is asked once for the column. Pure. */
import type { Context } from './context.ts'
import { textOf } from './grid.ts'

/** Each is another than the one before, the first row has one, and cells between are empty. */
function standsOnce(cells: readonly string[]): boolean {
  const filled = cells.filter((cell) => cell !== '')
  return (
    cells[0] !== '' &&
    filled.length > 1 &&
    filled.length < cells.length &&
    filled.every((cell, at) => cell !== filled[at - 1])
  )
}

/** @returns places of the columns whose empty cells are as the one above */
export function askGoingOn({ columns, found, given, ask }: Context): ReadonlySet<number> {
  const out = new Set<number>()
  for (const { at, heading, column } of columns) {
    if (column.reads !== 'place') continue
    const cells = found.rows.map((row) => textOf(row.cells[at]))
    if (!standsOnce(cells)) continue
    const key = `goes on/${heading}`
    const answer = given.answers[key]
    if (answer === 'same') out.add(at)
    if (answer !== undefined) continue
    ask(
      {
        key,
        scope: 'table',
        header: heading,
        says: `Below “${cells[0]}” some cells of ${heading} are empty. Are they the same?`,
        answers: [
          { value: 'same', says: 'yes, as the one above' },
          { value: '', says: 'no, leave them empty' },
        ],
        suggestion: 'same',
      },
      cells.filter((cell) => cell === '').length,
    )
  }
  return out
}
