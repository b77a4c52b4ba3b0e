/** A block of cells ↔ what spreadsheets put on the clipboard: text with tabs, or an HTML table. */

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

const marks: Record<string, string> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' }

/** Rows of cells → an HTML table, for programs that paste tables and not text. */
export function toHtml(rows: readonly (readonly string[])[]): string {
  const escaped = (cell: string) => cell.replace(/[&<>"]/g, (mark) => marks[mark] ?? mark)
  const lines = rows.map((row) => `<tr>${row.map((cell) => `<td>${escaped(cell)}</td>`).join('')}</tr>`)
  return `<table>${lines.join('')}</table>`
}

/** The first table of an HTML text → rows of cells; null where there is none. Nothing in it is run or fetched. */
export function fromHtml(html: string): string[][] | null {
  const table = new DOMParser().parseFromString(html, 'text/html').querySelector('table')
  if (!table) return null
  const rows = [...table.querySelectorAll('tr')].map((row) =>
    [...row.querySelectorAll('td, th')].map((cell) => (cell.textContent ?? '').replace(/\s+/g, ' ').trim()),
  )
  return rows.length === 0 ? null : rows
}

/** Plain text first: spreadsheets' HTML holds rounded numbers. */
export function fromClipboard(data: Pick<DataTransfer, 'getData'>): string[][] | null {
  const text = data.getData('text/plain')
  if (text !== '') return fromText(text)
  const html = data.getData('text/html')
  return html === '' ? null : fromHtml(html)
}
