/** A file for the page to save: its name, what kind of file it is, its bytes. */
import type { WrittenFile } from '../../../src-shared/sheet/bring-in.ts'
import { writeCsv, type TableCell } from './write-csv.ts'
import { writeXlsx } from './write-table.ts'

const mediaTypes = {
  csv: 'text/csv;charset=utf-8',
  xlsx: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
  geojson: 'application/geo+json',
  ics: 'text/calendar;charset=utf-8',
  XML: 'application/xml',
} as const

type Ending = keyof typeof mediaTypes

/** @param content bytes, or text that becomes UTF-8 */
export function writtenFile(title: string, ending: Ending, content: Buffer | string): WrittenFile {
  return { name: `${title}.${ending}`, type: mediaTypes[ending], base64: Buffer.from(content).toString('base64') }
}

/** One table as it is shown, as CSV or as a workbook of one sheet. */
export async function tableFile(
  title: string,
  as: 'csv' | 'xlsx',
  headers: readonly string[],
  rows: readonly (readonly TableCell[])[],
): Promise<WrittenFile> {
  return writtenFile(title, as, as === 'csv' ? writeCsv(headers, rows) : await writeXlsx(title, headers, rows))
}
