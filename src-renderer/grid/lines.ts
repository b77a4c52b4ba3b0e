/** A grid's lines: the farm's rows, and below them rows that are being typed and do not have all they need yet. Pure. */
import type { Column } from './columns.ts'

/** What was typed of a row that is not in the farm yet: text by column. */
export type Begun = Readonly<Record<string, string>>

export interface Line<Row> {
  /** The row's, or below zero for a line that is not in the farm. */
  key: number
  /** Null: not in the farm yet. */
  row: Row | null
}

/** @param own what was typed in this line and is not in the farm yet */
export function shownIn<Row>(line: Line<Row>, column: Column<Row>, own: Begun | undefined): string {
  return own?.[column.id] ?? (line.row === null ? '' : column.show(line.row))
}

export function typedIn<Row>(line: Line<Row>, column: Column<Row>, own: Begun | undefined): string {
  return own?.[column.id] ?? (line.row === null ? '' : (column.edit ?? column.show)(line.row))
}

/** Labels of what a begun row still needs. */
export function lacking<Row>(columns: readonly Column<Row>[], begun: Begun): string[] {
  return columns.filter((column) => column.isNeeded && !begun[column.id]?.trim()).map((column) => column.label)
}
