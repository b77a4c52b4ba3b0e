/** How wide columns are: by what stands in them until someone drags them. Pure. In rem, so that they grow with the text. */
import type { Column } from './columns.ts'

/** [rem] */
export const narrowest = 3
export const widest = 40

/** [rem] a character of text takes on average, and the blanks at a cell's sides. */
const perCharacter = 0.5
const sides = 1.4

/** [rows] looked at: enough to know, few enough for 10,000 rows. */
const looked = 200

/** [character] the first column has at least: it names the row, and says where a new one begins. */
const leastFirst = 14

/** [rem] room for the header in two lines, for nearly all of what is shown, and for the sum below. */
export function usualWidth<Row>(column: Column<Row>, rows: readonly Row[], isFirst: boolean, foot = ''): number {
  const most = column.width ?? 24
  const longestWord = Math.max(...column.label.split(' ').map((word) => word.length + 1))
  const header = Math.max(
    longestWord,
    Math.ceil(column.label.length / 2) + 2,
    Math.min(20, (column.unit ?? '').length * 0.92),
  )
  const cells = rows.slice(0, looked).map((row) => lengthOf(column.show(row)))
  const wanted = Math.max(header, Math.min(most, Math.max(3, ...cells)), foot.length + 1)
  return clampWidth((isFirst && !column.isFigure ? Math.max(leastFirst, wanted) : wanted) * perCharacter + sides)
}

/** [character] A mark, as the cross of a refused cell, takes the room of three. */
function lengthOf(text: string): number {
  return text.length + 2 * (text.match(/[✕→≠]/g)?.length ?? 0)
}

export function clampWidth(rem: number): number {
  return Math.min(widest, Math.max(narrowest, Math.round(rem * 10) / 10))
}
