/** The columns of a noun's table, from the noun's own schema: a plain property is added there and by a migration, and nowhere else. */
import type * as v from 'valibot'
import type { Column } from './column.ts'

/** SQLite has no booleans. */
type Plain<Value> = Value extends boolean ? number : Value

type Stored<Schema> =
  Schema extends v.OptionalSchema<infer Inner extends v.GenericSchema, infer Default>
    ? Default extends undefined
      ? Column<Plain<v.InferOutput<Inner>> | null>
      : Column<Plain<v.InferOutput<Inner>>, Plain<v.InferOutput<Inner>> | undefined>
    : Schema extends v.GenericSchema
      ? Column<Plain<v.InferOutput<Schema>>>
      : never

type Entries = Readonly<Record<string, v.GenericSchema>>

/** Enough of a schema to know how its values are stored. */
interface Inside {
  type: string
  wrapped?: Inside
  default?: unknown
  pipe?: readonly { type: string }[]
}

/** @param kept otherwise: what names another row, or is a table below this one */
export function nounColumns<All extends Entries, Kept extends keyof All = never>(
  entries: All,
  kept: readonly Kept[] = [],
): { [Name in Exclude<keyof All, Kept>]: Stored<All[Name]> } {
  const plain = Object.entries(entries).filter(([name]) => !kept.includes(name as Kept))
  return Object.fromEntries(plain.map(([name, schema]) => [name, columnOf(schema as Inside)])) as never
}

function columnOf(schema: Inside): Column<unknown> {
  const { wrapped } = schema
  if (schema.type !== 'optional' || wrapped === undefined)
    return { sql: sqlOf(schema), isNullable: false, isPreset: false }
  const isPreset = schema.default !== undefined
  return { sql: sqlOf(wrapped), isNullable: !isPreset, isPreset }
}

function sqlOf({ type, pipe }: Inside): Column<unknown>['sql'] {
  if (type === 'boolean') return 'INTEGER'
  if (type === 'number') return pipe?.some((each) => each.type === 'integer') ? 'INTEGER' : 'REAL'
  if (type === 'string' || type === 'picklist') return 'TEXT'
  throw new Error(`A ${type} is no plain column.`)
}
