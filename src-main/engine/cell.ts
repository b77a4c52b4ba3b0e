/** Checks one cell with its column's own schema, so that a grid, a season file and the engine agree on every range. */
import * as v from 'valibot'
import { ProblemError } from '../../src-shared/problem.ts'

export type CellValue = string | number | boolean | null

/**
 * @param entries the noun's schema, column by column; an optional column may be emptied with null
 * @returns what is to be stored; throws a `bad-value` problem naming the cell
 */
export function checkCell<Column extends string>(
  entries: Record<Column, v.GenericSchema>,
  table: string,
  id: number,
  column: Column,
  given: CellValue,
): string | number | null {
  const schema = entries[column] as v.GenericSchema & { default?: unknown }
  const mayBeEmpty = schema.type === 'optional' && schema.default === undefined
  if (mayBeEmpty && (given === null || (typeof given === 'string' && given.trim() === ''))) return null
  if (typeof given === 'string' && given.includes('\u0000'))
    throw refused(table, id, column, given, 'must not hold a NUL character')
  const checked = v.safeParse(schema, given ?? undefined)
  // A column with a default is never empty: the default is for files, not for a cell that was cleared.
  if (given !== null && checked.success)
    return typeof checked.output === 'boolean' ? Number(checked.output) : (checked.output as string | number)
  const message = checked.success || given === null ? 'must not be empty' : checked.issues[0].message
  throw refused(table, id, column, given, message)
}

/** A message of ours starts with must or is; the schema library's own are replaced. */
function refused(table: string, id: number, column: string, given: CellValue, message: string): ProblemError {
  const isOurs = /^(must|is) /.test(message)
  return new ProblemError([
    {
      code: 'bad-value',
      what: `${given === null || given === '' ? 'An empty cell' : `“${shorten(String(given))}”`} is not taken here: the value ${isOurs ? message : 'is of another kind'}.`,
      where: { table, id, column },
      remedy: 'Enter a value that the column takes, or press Escape to keep the old one.',
    },
  ])
}

function shorten(text: string): string {
  return text.length > 40 ? `${text.slice(0, 40)}…` : text
}
