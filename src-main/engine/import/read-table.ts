/** CSV text → named cells with the row numbers of the file. Values stay text here: columns decide what they mean. */
import { parse } from 'csv-parse/sync'
import { fail, ok, type Result } from '../../../src-shared/problem.ts'
import { csvFault } from './csv-fault.ts'

export interface TableRow {
  /** Row in the file as a spreadsheet counts it: the header is 1. */
  row: number
  /** Header, in lower case, → text. */
  cells: ReadonlyMap<string, string>
}

export interface Table {
  file: string
  /** As written, in order. */
  headers: string[]
  rows: TableRow[]
}

/** Reads a whole file or nothing. Blank rows are passed over; a header that stands twice is refused. */
export function readTable(text: string, file: string): Result<Table> {
  let records: string[][]
  try {
    records = parse(text, { bom: true, relax_column_count: true, skip_empty_lines: false, trim: false })
  } catch (error) {
    return csvFault(file, error)
  }
  const headers = (records[0] ?? []).map((header) => header.trim())
  if (headers.every((header) => header === '')) {
    return fail({
      code: 'bad-file',
      what: 'The file has no header row.',
      where: { file, row: 1 },
      remedy: 'Put the column names in the first row.',
    })
  }
  const names = headers.map((header) => header.toLowerCase())
  const twice = names.find((header, index) => header !== '' && names.indexOf(header) !== index)
  if (twice !== undefined) {
    return fail({
      code: 'repeated-name',
      what: `The column "${twice}" stands twice.`,
      where: { file, row: 1, column: twice },
      remedy: 'Rename or remove one of the two.',
    })
  }
  const rows = records.slice(1).flatMap((record, index): TableRow[] => {
    if (record.every((cell) => cell.trim() === '')) return []
    return [{ row: index + 2, cells: new Map(names.map((name, column) => [name, record[column] ?? ''])) }]
  })
  return ok({ file, headers, rows })
}
