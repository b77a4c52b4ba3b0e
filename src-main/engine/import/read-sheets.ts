/** Bytes of a CSV or XLSX file → its sheets as grids, whatever their encoding, delimiter and merged cells. Text stays text. */
import { parse } from 'csv-parse/sync'
import readWorkbook from 'read-excel-file/node'
import { fail, ok, type Result } from '../../../src-shared/problem.ts'
import type { Cell, Grid, Merge } from '../../../src-shared/recognize/grid.ts'
import { alignedRows } from './aligned-text.ts'
import { csvFault } from './csv-fault.ts'
import { mergesOf } from './workbook-merges.ts'
import { safeZip } from './zip.ts'
import { mostCells, mostColumns, mostRows, workbookFault } from './zip-claims.ts'

export interface SheetsRead {
  file: string
  sheets: { page: string | null; grid: Grid }[]
  /** Semicolons part its columns. */
  isForeign: boolean
}

/** @returns every sheet with anything on it, or why the file is none */
export async function readSheets(name: string, bytes: Buffer): Promise<Result<SheetsRead>> {
  if (bytes.length === 0)
    return refuse(name, 'The file is empty.', 'Choose a file with a header row and rows below it.')
  const isZip = bytes[0] === 0x50 && bytes[1] === 0x4b
  if (isZip) return readXlsx(name, bytes)
  if (/\.xlsx?$/i.test(name) || bytes[0] === 0xd0) {
    return refuse(name, 'This is not a workbook that can be read.', 'Save it as .xlsx or .csv and try again.')
  }
  return readCsv(name, bytes)
}

async function readXlsx(name: string, bytes: Buffer): Promise<Result<SheetsRead>> {
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
  if (sheets.length === 0) return refuse(name, 'The workbook has no sheet.', 'Save the sheet as CSV and try again.')
  const merges = mergesOf(zip.files)
  const out: SheetsRead['sheets'] = []
  for (const { sheet, data } of sheets) {
    const rows = data.map((row) => row.map(cellOf))
    const large = tooLarge(rows)
    if (large !== null)
      return refuse(
        name,
        large,
        `Import a part of it: up to ${mostRows.toLocaleString('en-US')} rows and ${mostColumns} columns.`,
      )
    const grid = gridOf(rows, merges.get(sheet) ?? [])
    if (grid.rows.length > 0) out.push({ page: sheet, grid })
  }
  if (out.length === 0) return refuse(name, 'The workbook is empty.', 'Choose one with a header row and rows below it.')
  return ok({ file: name, sheets: out, isForeign: false })
}

/** Dates of a workbook are dates, whatever their order on the screen. */
function cellOf(value: unknown): Cell {
  if (value instanceof Date) return Number.isNaN(value.getTime()) ? '' : value.toISOString().slice(0, 10)
  if (typeof value === 'string') return unguarded(value)
  return typeof value === 'number' || typeof value === 'boolean' ? value : ''
}

function readCsv(name: string, bytes: Buffer): Result<SheetsRead> {
  const text = decode(bytes).replace(/^\uFEFF/, '')
  if (text.includes('\u0000')) return refuse(name, 'The file is not text.', 'Save it as CSV or XLSX and try again.')
  const said = /^"?sep=(.)"?[ \t]*(\r\n|\n|\r)/i.exec(text)
  const body = said ? text.slice(said[0].length) : text
  const delimited = delimiterOf(body)
  const delimiter = said?.[1] ?? delimited.delimiter
  try {
    const aligned = alignedRows(body, mostRows)
    const rows =
      (aligned !== null &&
      (aligned.fullLines > delimited.lines ||
        (aligned.fullLines === delimited.lines && aligned.columns > delimited.columns))
        ? aligned.rows
        : null) ??
      (parse(body, {
        bom: true,
        delimiter,
        record_delimiter: ['\r\n', '\n', '\r'],
        relax_column_count: true,
        // An inch mark inside a cell is no quote.
        relax_quotes: true,
        skip_empty_lines: false,
        trim: false,
      }) as string[][])
    if (rows.every((row) => row.every((cell) => cell.trim() === '')))
      return refuse(name, 'The file is empty.', 'Choose a file with a header row and rows below it.')
    const large = tooLarge(rows)
    if (large !== null)
      return refuse(
        name,
        large,
        `Import a part of it: up to ${mostRows.toLocaleString('en-US')} rows and ${mostColumns} columns.`,
      )
    const grid = gridOf(
      rows.map((row) => row.map((cell) => unguarded(cell))),
      [],
    )
    return ok({
      file: name,
      sheets: [{ page: null, grid: said ? { ...grid, firstRow: 2 } : grid }],
      isForeign: delimiter === ';',
    })
  } catch (error) {
    return csvFault(name, error)
  }
}

const delimiters: readonly string[] = [',', ';', '\t', '|']

/** Whatever parts most of the first lines into the same number of columns, more than one, and how many lines it parts so. */
function delimiterOf(text: string): { delimiter: string; lines: number; columns: number } {
  const lines = text
    .slice(0, 20_000)
    .split(/\r\n|\n|\r/)
    .slice(0, 40)
    .filter((line) => line.trim() !== '')
  let best = { delimiter: ',', score: 0, lines: 0, columns: 1 }
  for (const delimiter of delimiters) {
    // What stands in quotes parts nothing.
    const counts = lines.map((line) => line.replace(/"[^"]*"/g, '').split(delimiter).length - 1)
    const filled = counts.filter((count) => count > 0)
    if (filled.length === 0) continue
    const usual = [...Map.groupBy(filled, (count) => count)].toSorted(
      ([, one], [, other]) => other.length - one.length,
    )[0] as [number, number[]]
    const score = (usual[1].length / lines.length) * Math.min(4, 1 + usual[0] / 3) + filled.length / lines.length / 10
    if (score > best.score) best = { delimiter, score, lines: usual[1].length, columns: usual[0] + 1 }
  }
  return best
}

/**
 * UTF-8 or UTF-16 where it says so or looks so; else UTF-8 if it is that; else what older programs write: Mac Roman where its
 * apostrophe stands between letters, Windows-1252 otherwise.
 */
function decode(bytes: Buffer): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder('utf-16le').decode(bytes)
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder('utf-16be').decode(bytes)
  const head = bytes.subarray(0, 2000)
  const zeros = [0, 0]
  for (let at = 0; at < head.length; at += 1) if (head[at] === 0) zeros[at % 2] = (zeros[at % 2] ?? 0) + 1
  const [even = 0, odd = 0] = zeros
  if (odd > head.length / 5 && even === 0) return new TextDecoder('utf-16le').decode(bytes)
  if (even > head.length / 5 && odd === 0) return new TextDecoder('utf-16be').decode(bytes)
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    const text = new TextDecoder('windows-1252').decode(bytes)
    return /[a-z]Õ[a-z]/i.test(text) ? new TextDecoder('macintosh').decode(bytes) : text
  }
}

function tooLarge(rows: readonly (readonly Cell[])[]): string | null {
  let width = 0
  for (const row of rows) width = Math.max(width, row.length)
  if (rows.length > mostRows || width > mostColumns)
    return `The table has ${rows.length.toLocaleString('en-US')} rows and ${width.toLocaleString('en-US')} columns. That is more than a farm has.`
  if (rows.length * width > mostCells)
    return `The table has ${(rows.length * width).toLocaleString('en-US')} cells. That is more than a farm has.`
  return null
}

function gridOf(rows: Cell[][], merges: readonly Merge[]): Grid {
  // What spreadsheets leave below the last row is no row.
  while (
    rows.length > 0 &&
    rows.at(-1)?.every((cell) => cell === '' || (typeof cell === 'string' && cell.trim() === ''))
  )
    rows.pop()
  return { rows, merges, firstRow: 1 }
}

/** [character] */
const longestCell = 10_000

/** The mark that our own exports put before text a spreadsheet would run. */
function unguarded(cell: string): string {
  // No cell of a farm is so long; what reads it further would take minutes over one of millions.
  return (cell.length > longestCell ? `${cell.slice(0, longestCell)}…` : cell).replace(
    /^'(?=["'\s]*[=+\-@\t\r＝＋－＠])/,
    '',
  )
}

function refuse(file: string, what: string, remedy: string): Result<never> {
  return fail({ code: 'bad-file', what, where: { file }, remedy })
}
