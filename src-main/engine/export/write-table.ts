/**
 * A table as it is shown → CSV or a workbook. Text that a spreadsheet would run as a formula is marked as text (OWASP
 * ASVS 1.2.10); numbers stay numbers, negative ones too. CSV begins with a mark by which spreadsheets know it is UTF-8.
 */
import writeWorkbook from 'write-excel-file/node'

export type TableCell = string | number | null

/** Also after blanks and quotes, and in the full-width forms that some spreadsheets take for the plain ones. */
const runs = /^["'\s]*[=+\-@\t\r＝＋－＠]/

export function guarded(text: string): string {
  const plain = text.replaceAll('\u0000', '')
  return runs.test(plain) || /^[\t\r]/.test(plain) ? `'${plain}` : plain
}

function field(cell: TableCell): string {
  if (typeof cell === 'number') return Number.isFinite(cell) ? String(cell) : ''
  const text = guarded(cell ?? '')
  return /[",;\t\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text
}

export function writeCsv(headers: readonly string[], rows: readonly (readonly TableCell[])[]): Buffer {
  const lines = [headers, ...rows].map((row) => row.map(field).join(','))
  return Buffer.from(`\uFEFF${lines.join('\r\n')}\r\n`, 'utf8')
}

/** Text in a workbook is typed as text and is never run; it is guarded all the same, for those who save it as CSV. */
export async function writeXlsx(
  title: string,
  headers: readonly string[],
  rows: readonly (readonly TableCell[])[],
): Promise<Buffer> {
  const cellOf = (cell: TableCell) => {
    if (cell === null || cell === '' || (typeof cell === 'number' && !Number.isFinite(cell))) return null
    return typeof cell === 'number' ? { value: cell, type: Number } : { value: guarded(cell), type: String }
  }
  const head = headers.map((header) => ({ value: guarded(header), type: String, fontWeight: 'bold' as const }))
  const columns = headers.map((header, at) => ({
    width: Math.min(
      40,
      Math.max(8, header.length, ...rows.slice(0, 200).map((row) => String(row[at] ?? '').length)) + 1,
    ),
  }))
  // A sheet's name takes 31 characters and not these.
  const sheet = title.replace(/[[\]:*?/\\]/g, ' ').slice(0, 31)
  return writeWorkbook([head, ...rows.map((row) => row.map(cellOf))], { columns, sheet, stickyRowsCount: 1 }).toBuffer()
}
