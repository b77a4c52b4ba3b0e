/** A table as it is shown → a workbook; text that could be run is guarded as in CSV. Apart, for the reader it brings along. */
import writeFile from 'write-excel-file/node'
import { guarded, type TableCell } from './write-csv.ts'

interface SheetTable {
  title: string
  headers: readonly string[]
  rows: readonly (readonly TableCell[])[]
}

export async function writeXlsx(
  title: string,
  headers: readonly string[],
  rows: readonly (readonly TableCell[])[],
): Promise<Buffer> {
  return writeWorkbook([{ title, headers, rows }])
}

/**
 * One sheet for each table. Text in a workbook is typed as text and is never run; it is guarded all the same, for those who
 * save it as CSV.
 */
export async function writeWorkbook(tables: readonly SheetTable[]): Promise<Buffer> {
  return writeFile(tables.map(sheetOf)).toBuffer()
}

function sheetOf({ title, headers, rows }: SheetTable) {
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
  return { data: [head, ...rows.map((row) => row.map(cellOf))], columns, sheet, stickyRowsCount: 1 }
}
