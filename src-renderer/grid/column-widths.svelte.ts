/** How wide each column of a grid is: as it was dragged or set by keys, as it is kept with the file, else by what stands in it. */
import { untrack } from 'svelte'
import type { Column } from './columns.ts'
import { clampWidth, usualWidth } from './widths.ts'

/** Rows up to which columns still grow with what is typed: the first rows of a table say little of the rest. */
const few = 12

interface Given<Row> {
  columns(): readonly Column<Row>[]
  rows(): readonly Row[]
  /** What stands below each column. */
  foot(rows: readonly Row[]): Readonly<Record<string, string>>
  /** [rem] by column id, where they differ from the usual. */
  kept(): Readonly<Record<string, number>>
  keep(widths: Record<string, number>): void
}

/** [rem] */
const widestOnPaper = 12

/** Made in a component. */
export class ColumnWidths<Row> {
  readonly #given: Given<Row>
  /** Since the page was opened. */
  #dragged = $state.raw<Record<string, number>>({})
  /** By the rows that were there first: in a table of some length no column moves because one types. */
  #measured = $state.raw<Record<string, number>>({})
  #seen = 0
  #dragStart: number | null = null

  constructor(given: Given<Row>) {
    this.#given = given
    $effect.pre(() => {
      const [columns, rows] = [given.columns(), given.rows()]
      const known = untrack(() => this.#measured)
      const isKnown = columns.every((column) => known[column.id] !== undefined)
      if (isKnown && (this.#seen >= few || rows.length === 0)) return
      const before = this.#seen === 0 ? {} : known
      this.#seen = rows.length
      const foot = rows.length === 0 ? {} : given.foot(rows)
      this.#measured = Object.fromEntries(
        columns.map((column, at) => {
          const usual = usualWidth(column, rows, at === 0, foot[column.id])
          return [column.id, Math.max(before[column.id] ?? 0, usual)]
        }),
      )
    })
  }

  #own = $derived.by(() => ({ ...this.#given.kept(), ...this.#dragged }))

  /** [rem] of all together. */
  full = $derived.by(() => this.#given.columns().reduce((sum, column) => sum + this.of(column.id), 0))

  /** Of the page's width: long words take several lines there, so that short ones need not. */
  shareOnPaper(id: string): number {
    const width = (each: string) => Math.min(this.of(each), widestOnPaper)
    return width(id) / this.#given.columns().reduce((sum, column) => sum + width(column.id), 0)
  }

  /** [rem] */
  of(column: string): number {
    return this.#own[column] ?? this.#measured[column] ?? 8
  }

  #set(column: string, rem: number): number {
    const width = clampWidth(rem)
    this.#dragged = { ...this.#dragged, [column]: width }
    return width
  }

  /** @returns [rem] what it is now */
  widen(column: string, step: number): number {
    const rem = this.#set(column, this.of(column) + step)
    this.#given.keep(this.#own)
    return rem
  }

  /** @param pixels since the edge was taken @param isDone it is let go */
  drag(column: string, pixels: number, isDone: boolean): void {
    this.#dragStart ??= this.of(column)
    const rem = Number.parseFloat(getComputedStyle(document.documentElement).fontSize)
    this.#set(column, this.#dragStart + pixels / rem)
    if (!isDone) return
    this.#dragStart = null
    this.#given.keep(this.#own)
  }
}
