/** A table whose columns are kept apart by blanks alone, as pasted from a letter or a printed report → its cells. Pure. */

interface Piece {
  text: string
  from: number
  to: number
}

interface Aligned {
  rows: string[][]
  /** Lines that are rows of the table, each with as many columns. */
  fullLines: number
  columns: number
}

const piecesOf = (line: string): Piece[] =>
  [...line.matchAll(/\S+(?: \S+)*/g)].map((found) => ({
    text: found[0],
    from: found.index,
    to: found.index + found[0].length,
  }))

/**
 * Lines whose words stand two blanks or more apart. A line with fewer words than the table has columns is parted by where its
 * words stand; a line of one piece is a title or a note.
 * @returns null where no three lines have the same three columns or more
 */
export function alignedRows(text: string, mostRows: number): Aligned | null {
  if (/\t|;|\|/.test(text.slice(0, 20_000))) return null
  const lines = text.split(/\r\n|\n|\r/).slice(0, mostRows)
  const pieces = lines.map(piecesOf)
  const usual = [
    ...Map.groupBy(
      pieces.filter((each) => each.length >= 2),
      (each) => each.length,
    ),
  ].toSorted(([, one], [, other]) => other.length - one.length)[0]
  if (usual === undefined || usual[1].length < 2) return null
  const [count, full] = usual
  if (count < 3 && full.length < pieces.filter((each) => each.length > 0).length) return null
  const columns = Array.from({ length: count }, (_, at) => ({
    from: Math.min(...full.map((row) => row[at]?.from ?? 0)),
    to: Math.max(...full.map((row) => row[at]?.to ?? 0)),
  }))
  return { rows: pieces.map((row) => cellsOf(row, columns)), fullLines: full.length, columns: count }
}

function cellsOf(row: readonly Piece[], columns: readonly { from: number; to: number }[]): string[] {
  if (row.length === columns.length || row.length <= 1) return row.length === 0 ? [''] : row.map(({ text }) => text)
  const cells = columns.map(() => '')
  for (const piece of row) {
    const overlaps = columns.map(({ from, to }) => Math.min(to, piece.to) - Math.max(from, piece.from))
    const at = overlaps.indexOf(Math.max(...overlaps))
    // What stands between columns, or twice in one, is no row of the table.
    if ((overlaps[at] ?? 0) <= 0 || cells[at] !== '') return [row.map(({ text }) => text).join(' ')]
    cells[at] = piece.text
  }
  return cells
}
