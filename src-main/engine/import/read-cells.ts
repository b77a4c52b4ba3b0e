/** Bytes of a CSV or XLSX file → headers and rows of cells. Text stays text: “007” and “3E5” are not numbers here. */
import { parse } from 'csv-parse/sync'
import readWorkbook from 'read-excel-file/node'
import { fail, ok, type Result } from '../../../src-shared/problem.ts'
import { csvFault } from './csv-fault.ts'
import { safeZip } from './zip.ts'
import { mostCells, mostColumns, mostRows, workbookFault } from './zip-claims.ts'

export type Cell = string | number | boolean

export interface Cells {
  file: string
  headers: string[]
  /** Row numbers as a spreadsheet counts them; blank rows are among them. */
  rows: { row: number; cells: Cell[] }[]
  pages: string[]
  page: string | null
}

/** @param page of a workbook; absent: the first with anything on it. @returns what was read, or why the file is none */
export async function readCells(name: string, bytes: Buffer, page?: string): Promise<Result<Cells>> {
  if (bytes.length === 0)
    return refuse(name, 'The file is empty.', 'Choose a file with a header row and rows below it.')
  const isZip = bytes[0] === 0x50 && bytes[1] === 0x4b
  if (isZip) return readXlsx(name, bytes, page)
  if (/\.xlsx?$/i.test(name) || bytes[0] === 0xd0) {
    return refuse(name, 'This is not a workbook that can be read.', 'Save it as .xlsx or .csv and try again.')
  }
  return readCsv(name, bytes)
}

async function readXlsx(name: string, bytes: Buffer, page?: string): Promise<Result<Cells>> {
  const zip = safeZip(bytes)
  if (!zip.ok) return refuse(name, `The workbook cannot be read: ${zip.why}.`, 'Save the sheet as CSV and try again.')
  const fault = workbookFault(zip.files)
  if (fault !== null) return refuse(name, fault, 'Delete what lies outside the table, or save the table as CSV.')
  let sheets: { sheet: string; data: unknown[][] }[]
  try {
    sheets = (await readWorkbook(zip.bytes)) as typeof sheets
  } catch {
    return refuse(name, 'The workbook cannot be read.', 'Open it in a spreadsheet, save it again and try once more.')
  }
  const chosen = sheets.find(({ sheet }) => sheet === page) ?? sheets.find(({ data }) => data.length > 0) ?? sheets[0]
  if (chosen === undefined) return refuse(name, 'The workbook has no sheet.', 'Save the sheet as CSV and try again.')
  const table = chosen.data.map((row) => row.map(cellOf))
  return shaped(
    name,
    table,
    sheets.map(({ sheet }) => sheet),
    chosen.sheet,
  )
}

/** Dates of a workbook are dates, whatever their order on the screen. */
function cellOf(value: unknown): Cell {
  if (value instanceof Date) return Number.isNaN(value.getTime()) ? '' : value.toISOString().slice(0, 10)
  return typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean' ? value : ''
}

function readCsv(name: string, bytes: Buffer): Result<Cells> {
  const text = decode(bytes)
  if (text.includes('\u0000')) return refuse(name, 'The file is not text.', 'Save it as CSV or XLSX and try again.')
  const first = text.slice(0, text.search(/[\r\n]|$/))
  // Whatever parts the header most often parts the rows.
  const [delimiter = ','] = [',', ';', '\t'].toSorted(
    (one, other) => first.split(other).length - first.split(one).length,
  )
  try {
    const options = {
      bom: true,
      delimiter,
      record_delimiter: ['\r\n', '\n', '\r'],
      relax_column_count: true,
      skip_empty_lines: false,
      trim: false,
    }
    return shaped(name, parse(text, options) as string[][], [], null)
  } catch (error) {
    return csvFault(name, error)
  }
}

/** UTF-8 or UTF-16 where it says so; else UTF-8 if it is that, else what older Windows programs write. */
function decode(bytes: Buffer): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder('utf-16le').decode(bytes)
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder('utf-16be').decode(bytes)
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    return new TextDecoder('windows-1252').decode(bytes)
  }
}

function shaped(name: string, table: Cell[][], pages: string[], page: string | null): Result<Cells> {
  const headers = (table[0] ?? []).map((header) =>
    String(header)
      .replace(/^\uFEFF/, '')
      .trim(),
  )
  while (headers.length > 0 && headers.at(-1) === '') headers.pop()
  if (headers.length === 0) {
    return refuse(name, 'The file has no header row.', 'Put the names of the columns in the first row.')
  }
  if (table.length > mostRows || headers.length > mostColumns) {
    const what = `The table has ${table.length} rows and ${headers.length} columns; that is more than a farm has.`
    return refuse(name, what, `Bring in a part of it: up to ${mostRows} rows and ${mostColumns} columns.`)
  }
  if (table.length * headers.length > mostCells) {
    const cells = (table.length * headers.length).toLocaleString('en-US')
    const most = mostCells.toLocaleString('en-US')
    return refuse(name, `The table has ${cells} cells.`, `Import a part of it: up to ${most} cells.`)
  }
  const rows = table.slice(1).map((cells, index) => ({ row: index + 2, cells: cells.map(unguarded) }))
  // What spreadsheets leave below the last row is no row.
  while (rows.length > 0 && rows.at(-1)?.cells.every((cell) => cell === '')) rows.pop()
  return ok({ file: name, headers, rows, pages, page })
}

/** The mark that our own exports put before text a spreadsheet would run. */
function unguarded(cell: Cell): Cell {
  return typeof cell === 'string' ? cell.replace(/^'(?=["'\s]*[=+\-@\t\r＝＋－＠])/, '') : cell
}

function refuse(file: string, what: string, remedy: string): Result<never> {
  return fail({ code: 'bad-file', what, where: { file }, remedy })
}
