/** Rows of a table → records of one noun, by its columns; every cell that will not do is a problem at its place. */
import * as v from 'valibot'
import type { Problem } from '../../../src-shared/problem.ts'
import type { Reading } from '../../../src-shared/read-text.ts'
import type { Table } from './read-table.ts'

export interface Column {
  /** As it stands in the file's header; compared without regard to capitals. */
  header: string
  /** Property of the record. */
  key: string
  read(text: string): Reading<unknown>
}

/** Columns that share a beginning, as `rating spotted wilt`: what follows it is the key in the property's record. */
export interface ColumnFamily {
  prefix: string
  key: string
  read(text: string): Reading<unknown>
}

export interface Columns {
  columns: readonly Column[]
  families?: readonly ColumnFamily[]
}

export interface RowsRead<Noun> {
  records: { row: number; value: Noun }[]
  problems: Problem[]
}

/**
 * @param schema checks each record; its messages are placed at the cell
 * @param finish puts values into the record's own shape, where a cell is not simply a property
 */
export function readRows<Schema extends v.GenericSchema>(
  table: Table,
  schema: Schema,
  { columns, families = [] }: Columns,
  finish: (record: Record<string, unknown>) => Record<string, unknown> = (record) => record,
): RowsRead<v.InferOutput<Schema>> {
  const problems = unknownColumns(table, columns, families)
  const records: RowsRead<v.InferOutput<Schema>>['records'] = []
  for (const { row, cells } of table.rows) {
    const record: Record<string, unknown> = {}
    const before = problems.length
    const take = (header: string, read: Column['read'], set: (value: unknown) => void) => {
      const text = cells.get(header.toLowerCase()) ?? ''
      if (text.trim() === '') return
      const reading = read(text)
      if (reading.ok) set(reading.value)
      else problems.push(badCell(table.file, row, header, reading.what))
    }
    for (const { header, key, read } of columns) take(header, read, (value) => (record[key] = value))
    for (const { prefix, key, read } of families) {
      for (const header of table.headers.filter((each) => each.toLowerCase().startsWith(prefix))) {
        take(header, read, (value) => {
          record[key] = { ...(record[key] as object | undefined), [header.slice(prefix.length).trim()]: value }
        })
      }
    }
    if (problems.length > before) continue
    const parsed = v.safeParse(schema, finish(record))
    if (parsed.success) records.push({ row, value: parsed.output })
    else for (const issue of parsed.issues) problems.push(badRecord(table.file, row, issue, columns, families))
  }
  return { records, problems }
}

function unknownColumns(table: Table, columns: readonly Column[], families: readonly ColumnFamily[]): Problem[] {
  return table.headers
    .filter((header) => header !== '')
    .filter((header) => {
      const name = header.toLowerCase()
      return (
        !columns.some((column) => column.header.toLowerCase() === name) &&
        !families.some(({ prefix }) => name.startsWith(prefix))
      )
    })
    .map((header) => ({
      code: 'unknown-name',
      what: `The column "${header}" is not known.`,
      where: { file: table.file, row: 1, column: header },
      remedy: `Known columns: ${[...columns.map((column) => column.header), ...families.map(({ prefix }) => `${prefix}…`)].join(', ')}.`,
    }))
}

function badCell(file: string, row: number, column: string, what: string): Problem {
  return {
    code: 'bad-value',
    what: `${what.charAt(0).toUpperCase()}${what.slice(1)}.`,
    where: { file, row, column },
    remedy: 'Correct the cell.',
  }
}

function badRecord(
  file: string,
  row: number,
  issue: v.BaseIssue<unknown>,
  columns: readonly Column[],
  families: readonly ColumnFamily[],
): Problem {
  const keys = (issue.path ?? []).map((item) => String(item.key))
  const family = families.find((each) => each.key === keys[0])
  const header =
    family !== undefined && keys[1] !== undefined
      ? `${family.prefix}${keys[1]}`
      : (columns.find((column) => column.key === keys[0])?.header ?? keys.join('.'))
  const isMissing = issue.received === 'undefined'
  return {
    code: isMissing ? 'missing' : 'bad-value',
    what: isMissing ? `"${header}" is empty.` : `"${header}" ${issue.message}.`,
    where: { file, row, column: header },
    remedy: isMissing ? 'Fill it in.' : 'Correct the cell.',
  }
}
