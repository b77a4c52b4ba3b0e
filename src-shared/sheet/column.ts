/** What a column of a sheet is, and the two that several sheets have. */
import { choice, words, type Kind } from './kind.ts'

export interface SheetColumn {
  /** Of the column; also the path it writes to, unless `path` says another. */
  id: string
  /** Property of the noun, with `/` and a key for an entry of a record. */
  path?: string
  label: string
  unit?: string
  kind: Kind
  /** Other headings by which a file may call it. */
  heads?: readonly string[]
  /** [character] roughly, for long words. */
  width?: number
  /** Least and most that are usual, in the unit shown; a value beyond them is taken, with these said beside it. */
  usual?: readonly [number, number]
  /** A row cannot be without it, and there is nothing to put in its place. */
  isNeeded?: boolean
}

/** What the columns of a sheet hang on besides the sheet. */
export interface Names {
  threats: readonly string[]
  windows?: readonly string[]
  varieties?: readonly string[]
  dealers?: readonly string[]
  fields?: readonly string[]
}

export const note: SheetColumn = { id: 'note', label: 'Note', kind: words, width: 30 }

const title = (name: string) => name.charAt(0).toUpperCase() + name.slice(1)

/** A column a threat: one entry of a record of the noun. @param heads how a file may call that of a threat */
export function perThreat(
  record: string,
  unit: string,
  kind: Kind,
  heads: (threat: string) => readonly string[],
): (names: Names) => SheetColumn[] {
  return ({ threats }) =>
    threats.map((threat) => ({ id: `${record}/${threat}`, label: title(threat), unit, kind, heads: heads(threat) }))
}

/** One of the names that are there; all are offered as choices. */
export function oneOf(known: readonly string[] | undefined): Kind {
  return known === undefined || known.length === 0 ? words : choice(known)
}
