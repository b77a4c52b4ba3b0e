/** The kinds of column that tables.ts is written in: type, whether it may be null, whether an INSERT may leave it out. */
import type { ColumnType } from 'kysely'

/** How one column is stored. `Value` is what a row holds, `Given` what an INSERT may leave out. */
export interface Column<Value, Given = Value> {
  sql: 'INTEGER' | 'REAL' | 'TEXT' | 'BLOB'
  isNullable: boolean
  /** The database fills it in where an INSERT does not. */
  isPreset: boolean
  /** Phantom: there is no value behind it. */
  type?: ColumnType<Value, Given, Value>
}

export function column<Value>(sql: Column<Value>['sql']): Column<Value> {
  return { sql, isNullable: false, isPreset: false }
}

export function orNull<Value>(of: Column<Value>): Column<Value | null> {
  return { sql: of.sql, isNullable: true, isPreset: false }
}

export function preset<Value>(of: Column<Value>): Column<Value, Value | undefined> {
  return { sql: of.sql, isNullable: false, isPreset: true }
}

/** One of a few words that a CHECK of the table lists. */
export function word<Words extends string>(): Column<Words> {
  return column<Words>('TEXT')
}

export const key: Column<number, number | undefined> = { sql: 'INTEGER', isNullable: false, isPreset: true }
export const whole = column<number>('INTEGER')
/** 0 or 1. */
export const flag = column<number>('INTEGER')
export const real = column<number>('REAL')
export const text = column<string>('TEXT')
export const bytes = column<Uint8Array>('BLOB')

/** A table's columns as Kysely wants them. */
export type ColumnsOf<Table> = {
  [Name in keyof Table]: Table[Name] extends Column<infer Value, infer Given> ? ColumnType<Value, Given, Value> : never
}
