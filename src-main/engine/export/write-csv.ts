/**
 * A table as it is shown → CSV. Text that a spreadsheet would run as a formula is marked as text (OWASP ASVS 1.2.10);
 * numbers stay numbers, negative ones too. It begins with a mark by which spreadsheets know that it is UTF-8.
 */

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
