/** What the sheets ask of a noun's tables: which rows there are, a new one, one property, away with one. */
import type * as v from 'valibot'
import type { NamedTable, Writer } from './writer.ts'

/** A record of the noun that its schema has passed. */
export type Noun = Record<string, unknown>

/** Values of one row that cannot be true together. */
export interface Askew {
  path: string
  what: string
  remedy: string
}

export interface Store {
  /** The noun's schema, property by property. */
  entries: Readonly<Record<string, v.GenericSchema>>
  /** Properties that name other things: where to look the name up. */
  refers?: Readonly<Record<string, NamedTable>>
  /** What a new row begins with where nothing was typed. */
  start?: Readonly<Noun>
  /** Properties that are one column of the row, and where that stands: what is in one is known without listing the sheet. */
  plain?: { names: ReadonlySet<string>; value(writer: Writer, id: number, property: string): unknown }
  /** Ids of the rows of this season. */
  ids(writer: Writer): Set<number>
  /** A sentence where another row has these values already, or null. @param id of the row itself, or null for a new one */
  clash(writer: Writer, id: number | null, values: Noun): string | null
  /** A sentence where the row would lack something that depends on its other values, or null. */
  lacks?(writer: Writer, id: number | null, values: Noun): { path: string; what: string } | null
  /** A sentence where the row's values would contradict one another, or null. @param values those that change, or all */
  askew?(writer: Writer, id: number | null, values: Noun): Askew | null
  insert(writer: Writer, values: Noun): number
  /** @param entry of the record or of the pair, as the threat in `pressure/spotted wilt`; null for the property itself */
  update(writer: Writer, id: number, property: string, entry: string | null, value: unknown): void
  remove(writer: Writer, id: number): void
}
