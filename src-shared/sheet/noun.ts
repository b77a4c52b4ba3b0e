/**
 * One noun, one definition: of each property what it may be, how it is called, typed and found in files. From it come the schema
 * that the engine checks with, the type of its rows and the columns of its sheet, its imports and its exports.
 */
import * as v from 'valibot'
import { note } from '../primitive.ts'
import type { Names, SheetColumn } from './column.ts'
import { words, type Kind } from './kind.ts'

/** A property that is one cell. */
interface Cell {
  label: string
  unit?: string
  /** Of what names another thing: by those that are there. */
  kind: Kind | ((names: Names) => Kind)
  /** Other headings by which a file may call it. */
  heads?: readonly string[]
  /** Least and most that are usual, in the unit shown: said beside a value that lies beyond. */
  usual?: readonly [number, number]
  /** [character] roughly, for long words. */
  width?: number
}

/** A property that is no cell, or several: as one a threat. */
interface Cells {
  cells: (names: Names) => readonly SheetColumn[]
}

export type Property<Schema extends v.GenericSchema = v.GenericSchema> = (Cell | Cells) & {
  /** What it may be. One that is not optional must be typed in a new row. */
  is: Schema
  /** A row must have it, and a new one has it without anybody typing it. */
  isStarted?: true
}

type Properties = Readonly<Record<string, Property>>
type Entries<All extends Properties> = { readonly [Name in keyof All]: All[Name]['is'] }

export interface Noun<All extends Properties> {
  schema: v.StrictObjectSchema<Entries<All>, undefined>
  columns: (names: Names) => SheetColumn[]
}

/**
 * @param properties in the order in which files have them
 * @param inSheet their order in the sheet, where that is another
 */
export function noun<const All extends Properties>(
  properties: All,
  inSheet: readonly (keyof All & string)[] = Object.keys(properties),
): Noun<All> {
  const entries = Object.fromEntries(Object.entries(properties).map(([name, { is }]) => [name, is])) as Entries<All>
  return {
    schema: v.strictObject(entries),
    columns: (names) => inSheet.flatMap((name) => cellsOf(name, properties[name] as Property, names)),
  }
}

function cellsOf(name: string, property: Property, names: Names): readonly SheetColumn[] {
  if ('cells' in property) return property.cells(names)
  const { is, kind, isStarted, ...rest } = property
  const isNeeded = is.type !== 'optional' && isStarted !== true
  return [
    { id: name, ...rest, kind: typeof kind === 'function' ? kind(names) : kind, ...(isNeeded ? { isNeeded } : {}) },
  ]
}

/** Free words of the grower, which nothing is worked out from. */
export const noteProperty = { is: v.optional(note), label: 'Note', kind: words, width: 30 } as const
