/** A block of cells ↔ the text that spreadsheets put on the clipboard: tabs between cells, quotes round odd ones. */

/** Rows of cells → text. A cell with a tab, a line break or a leading quote is quoted, as spreadsheets do. */
export function toText(rows: readonly (readonly string[])[]): string {
  return rows.map((row) => row.map(quoted).join('\t')).join('\n')
}

function quoted(cell: string): string {
  return /[\t\n\r]|^"/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell
}

/** Text → rows of cells. The line break that ends the last row adds no row of its own. */
export function fromText(text: string): string[][] {
  const rows: string[][] = []
  let row: string[] = []
  let cell = ''
  let isQuoted = false
  const plain = text.replace(/\r\n?/g, '\n').replace(/\n$/, '')
  for (let at = 0; at < plain.length; at += 1) {
    const letter = plain[at]
    if (isQuoted) {
      if (letter !== '"') cell += letter
      else if (plain[at + 1] === '"') {
        cell += '"'
        at += 1
      } else isQuoted = false
    } else if (letter === '"' && cell === '') isQuoted = true
    else if (letter === '\t') {
      row.push(cell)
      cell = ''
    } else if (letter === '\n') {
      rows.push([...row, cell])
      row = []
      cell = ''
    } else cell += letter
  }
  rows.push([...row, cell])
  return rows
}
