/** What a person is told of a file that is no table: the row, where it is known. */
import { CsvError } from 'csv-parse/sync'
import { fail, type Result } from '../../../src-shared/problem.ts'

export function csvFault(file: string, error: unknown): Result<never> {
  return fail({
    code: 'bad-file',
    what: 'The file cannot be read as a table: a quote mark is opened and not closed, or stands inside a value.',
    where: { file, row: error instanceof CsvError ? Number(error['lines']) : undefined },
    remedy: 'Open it in a spreadsheet and save it again as CSV.',
  })
}
