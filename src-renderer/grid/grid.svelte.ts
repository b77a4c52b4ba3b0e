/**
 * The grid without its table: where one stands, what is marked, what is being typed, how lines are ordered. What is
 * entered goes through entry.svelte.ts. Knows no DOM and no noun; Grid.svelte draws it and passes keys in.
 * Long because these share the same cell addresses, and apart they would have to be told of one another.
 */
import type { CellValue } from '../../src-shared/sheet/sheet.ts'
import { showCount } from '../../src-shared/show.ts'
import { toHtml, toText } from './clipboard.ts'
import type { Column } from './columns.ts'
import { Entry, type GridGiven, type Target } from './entry.svelte.ts'
import type { HalfTyped } from './half-typed.ts'
import type { EditAction, GridAction } from './keys.ts'
import { lacking, type Line } from './lines.ts'
import { arrange, inOrder, nextSorts, type Sort } from './order.ts'
import type { Refused } from './refused.ts'

/** Row −1 is the header. */
export interface Spot {
  row: number
  column: number
}

export const headerRow = -1

/** A cell that is being typed in. */
interface Editing {
  key: number
  column: string
  text: string
  isReplacing: boolean
  /** What the farm had in it as the typing began, where that is known. */
  seen: CellValue | undefined
}

export class GridController<Row> {
  readonly #given: GridGiven<Row>
  readonly entry: Entry<Row>
  active = $state.raw<Spot>({ row: 0, column: 0 })
  /** The other corner of what is marked. */
  anchor = $state.raw<Spot>({ row: 0, column: 0 })
  editing = $state.raw<Editing | null>(null)
  /** What rows are sorted by, first and within that. */
  sorts = $state.raw<readonly Sort[]>([])
  filter = $state('')
  /** Keys of the rows shown. Made anew by sorting and filtering only, so that an edited row stays where it is. */
  #order = $state.raw<{ shown: readonly number[]; known: readonly number[] } | null>(null)

  constructor(given: GridGiven<Row>) {
    this.#given = given
    this.entry = new Entry(
      given,
      () => this.#hold(),
      (ids) => this.#goOnIn(ids),
    )
  }

  columns = $derived.by(() => this.#given.columns())

  view: readonly Row[] = $derived.by(() => {
    const { rows } = this.entry
    return this.#order === null ? rows : inOrder(rows, this.#given.keyOf, this.#order)
  })

  /** The rows shown, then those begun, then an empty line to begin the next in. */
  lines: readonly Line<Row>[] = $derived.by(() => {
    const rows = this.view.map((row) => this.#lineOf(row))
    if (!this.#given.canAdd()) return rows
    const begun = [...this.entry.begun.keys()].map((key): Line<Row> => ({ key, row: null }))
    return [...rows, ...begun, { key: this.entry.nextKey, row: null }]
  })

  /** A row that stays the same keeps its line, and is not drawn anew. */
  readonly #known = new WeakMap<WeakKey, Line<Row>>()
  #lineOf(row: Row): Line<Row> {
    const key = this.#given.keyOf(row)
    const known = this.#known.get(row as WeakKey)
    if (known?.key === key) return known
    const line: Line<Row> = { key, row }
    this.#known.set(row as WeakKey, line)
    return line
  }

  /** Corners of what is marked, inside the table. */
  marked = $derived.by(() => ({
    top: Math.max(0, Math.min(this.active.row, this.anchor.row)),
    bottom: Math.max(this.active.row, this.anchor.row),
    left: Math.min(this.active.column, this.anchor.column),
    right: Math.max(this.active.column, this.anchor.column),
  }))

  /** More than the one cell is marked, and this line is among it. */
  isLineMarked(row: number): boolean {
    const { top, bottom, left, right } = this.marked
    return row >= top && row <= bottom && (top !== bottom || left !== right)
  }

  isFresh(line: Line<Row>): boolean {
    return line.key === this.entry.nextKey
  }

  refusedAt(line: Line<Row>, column: Column<Row>): Refused | undefined {
    return this.entry.refusedAt(line.key, column.id)
  }

  /** Labels of what a row that is begun still lacks. */
  needs(line: Line<Row>): string[] {
    const begun = this.entry.begun.get(line.key)
    return begun ? lacking(this.columns, begun) : []
  }

  /** Count, sum and average of the figures that are marked; null where fewer than two cells are. */
  summary = $derived.by(() => {
    const { top, bottom, left, right } = this.marked
    const cells = (bottom - top + 1) * (right - left + 1)
    if (cells < 2 || this.active.row === headerRow) return null
    const columns = this.columns.slice(left, right + 1).filter((column) => column.figure)
    // Acres and pounds have no sum.
    if (columns.some(({ unit }) => unit !== columns[0]?.unit)) return { cells, figures: 0, sum: 0, average: null }
    const figures = this.lines
      .slice(top, bottom + 1)
      .flatMap(({ row }) => (row === null ? [] : columns.map((column) => column.figure?.(row) ?? null)))
      .filter((figure) => figure !== null)
    const sum = figures.reduce((total, figure) => total + figure, 0)
    return { cells, figures: figures.length, sum, average: figures.length > 0 ? sum / figures.length : null }
  })

  /** Words on what removes the marked lines; null where there are none. */
  removal = $derived.by(() => {
    const { top, bottom } = this.marked
    const count = this.lines.slice(top, bottom + 1).filter((line) => !this.isFresh(line)).length
    const { one, many } = this.#given.words()
    if (count === 0) return null
    return count > 1 ? `Remove ${showCount(count, one, many)}` : `Remove this ${one}`
  })

  counted = $derived.by(() => this.#count(this.view.length))

  /** How many rows that are begun are not in the farm yet, in words. */
  waiting = $derived.by(() => (this.entry.begun.size > 0 ? `${this.#count(this.entry.begun.size)} not added yet` : ''))

  #count(count: number): string {
    const { one, many } = this.#given.words()
    return showCount(count, one, many)
  }

  stand(spot: Spot, extend = false) {
    const row = clamp(spot.row, extend ? 0 : headerRow, this.lines.length - 1)
    this.active = { row, column: clamp(spot.column, 0, this.columns.length - 1) }
    if (!extend) this.anchor = this.active
  }

  /** Where another than the grid's own keys puts the focus, as a screen reader does, one stands. */
  comeTo(spot: Spot | null) {
    if (spot === null || this.editing) return
    if (spot.row !== this.active.row || spot.column !== this.active.column) this.stand(spot)
  }

  sortBy(column: string, isFurther = false) {
    this.sorts = nextSorts(this.sorts, column, isFurther)
    this.#arrange()
    const words = this.sorts.map(
      (sort) => `${this.columns.find((each) => each.id === sort.column)?.label ?? sort.column}, ${sort.way}`,
    )
    this.#given.say(words.length > 0 ? `Sorted by ${words.join(', then by ')}` : 'In the usual order')
  }

  filterBy(text: string) {
    this.filter = text
    this.#arrange()
    this.stand({ row: Math.max(0, this.active.row), column: this.active.column })
  }

  #arrange() {
    const rows = this.#given.rows()
    const isPlain = this.sorts.length === 0 && this.filter.trim() === ''
    const keys = (of: readonly Row[]) => of.map(this.#given.keyOf)
    this.#order = isPlain
      ? null
      : { shown: keys(arrange(rows, this.columns, this.filter, this.sorts)), known: keys(rows) }
  }

  /** Rows stay where they are while they are typed in, and new ones follow at the end: nothing jumps away. */
  #hold() {
    const keys = (of: readonly Row[]) => of.map(this.#given.keyOf)
    this.#order ??= { shown: keys(this.view), known: keys(this.#given.rows()) }
  }

  /** @returns false where the key is to go on: Tab past the end of a row leaves the grid */
  act(action: GridAction, pageRows: number): boolean {
    const { row, column } = this.active
    switch (action.kind) {
      case 'move':
        this.stand({ row: row + action.rows, column: column + action.columns }, action.extend)
        return true
      case 'page':
        this.stand({ row: Math.max(0, row + action.pages * pageRows), column }, action.extend)
        return true
      case 'edge':
        this.stand(this.#edge(action.edge), action.extend)
        return true
      case 'tab': {
        const next = column + action.step
        if (next < 0 || next >= this.columns.length) return false
        this.stand({ row, column: next })
        return true
      }
      case 'edit':
        if (row === headerRow) this.sortBy(this.columns[column]?.id ?? '', action.isFurther)
        else this.startEdit()
        return true
      case 'replace':
        if (row !== headerRow) this.startEdit(action.text)
        return true
      case 'clear':
        if (row !== headerRow) void this.clear()
        return true
      case 'select':
        this.#select(action.what)
        return true
      case 'fill-down':
        if (row !== headerRow) void this.fillDown()
        return true
      case 'remove-rows':
        if (row !== headerRow) void this.removeRows()
        return true
      case 'width':
        this.#given.widen?.(this.columns[column]?.id ?? '', action.step)
        return true
      case 'collapse':
        for (const { line, column } of this.#targets()) this.entry.forget(line.key, column.id)
        this.anchor = this.active
        return true
    }
  }

  #edge(edge: string): Spot {
    const { row, column } = this.active
    const [lastRow, lastColumn] = [this.lines.length - 1, this.columns.length - 1]
    if (edge === 'row-start') return { row, column: 0 }
    if (edge === 'row-end') return { row, column: lastColumn }
    if (edge === 'column-start') return { row: 0, column }
    if (edge === 'column-end') return { row: this.#lastRow(), column }
    return edge === 'first' ? { row: 0, column: 0 } : { row: lastRow, column: lastColumn }
  }

  /** The last line that holds anything. */
  #lastRow(): number {
    const last = this.lines.length - 1
    const line = this.lines[last]
    return last > 0 && line && this.isFresh(line) ? last - 1 : last
  }

  #select(what: 'all' | 'row' | 'column') {
    const { row, column } = this.active
    const [lastRow, lastColumn] = [this.#lastRow(), this.columns.length - 1]
    // The corner one stands in is the first, so that nothing scrolls away.
    this.active = { row: what === 'row' ? Math.max(0, row) : 0, column: what === 'column' ? column : 0 }
    this.anchor = { row: what === 'row' ? Math.max(0, row) : lastRow, column: what === 'column' ? column : lastColumn }
  }

  /** Opens the cell where one stands; with what was typed in place of what was there, or with it to be mended. */
  startEdit(replacement?: string) {
    const [line, column] = this.#here()
    if (!line || !column) return
    if (!column.edit) {
      const working = line.row === null ? undefined : column.working?.(line.row)
      this.#given.say(`${column.label} cannot be typed here. ${working ?? column.from ?? ''}`.trim())
      return
    }
    const text = replacement ?? this.refusedAt(line, column)?.text ?? this.entry.typedIn(line, column)
    this.anchor = this.active
    const seen = this.entry.seenIn(line, column)
    this.editing = { key: line.key, column: column.id, text, isReplacing: replacement !== undefined, seen }
  }

  halfTyped: HalfTyped = $derived.by(() => this.#half([...this.entry.begun]))

  /** The same for when the page is left: rows on their way into the farm are its own no longer. */
  halfLeft(): HalfTyped {
    return this.#half(this.entry.staying)
  }

  #half(begun: HalfTyped['begun']): HalfTyped {
    const { key, column, text } = this.editing ?? {}
    return {
      editing: key === undefined || column === undefined || text === undefined ? null : { key, column, text },
      begun,
      refused: [...this.entry.refused],
    }
  }

  /** Goes on where the window was left: the cell that was being typed is open again, with its text. */
  restore(half: HalfTyped) {
    this.entry.restore(half)
    const { editing } = half
    if (!editing) return
    const row = this.lines.findIndex(({ key }) => key === editing.key)
    const column = this.columns.findIndex(({ id, edit }) => id === editing.column && edit)
    if (row < 0 || column < 0) return
    this.stand({ row, column })
    this.startEdit(editing.text)
  }

  isEditing(line: Line<Row>, column: Column<Row>): boolean {
    return this.editing?.key === line.key && this.editing.column === column.id
  }

  /** Ends the typing and moves on. @returns false where Tab leaves the grid */
  finish(action: EditAction): boolean {
    if (action.kind === 'give-up') {
      this.giveUp()
      return true
    }
    void this.commit()
    const { row, column } = this.active
    const [rows, columns] = action.kind === 'tab' ? [0, action.step] : [action.rows, action.columns]
    const isOut = action.kind === 'tab' && (column + columns < 0 || column + columns >= this.columns.length)
    this.stand({ row: Math.max(0, row + rows), column: column + columns })
    return !isOut
  }

  /** Back to what the farm has, and nothing said about what was typed. */
  giveUp() {
    const [line, column] = this.#here()
    if (line && column) this.entry.forget(line.key, column.id)
    this.editing = null
  }

  /** A cell that is open in a row that was begun goes on in the farm's. */
  #goOnIn(ids: ReadonlyMap<number, number>) {
    const key = this.editing ? ids.get(this.editing.key) : undefined
    // As typed: a text that was to be mended must not be marked anew, and be gone with the next letter.
    if (this.editing && key !== undefined) this.editing = { ...this.editing, key, isReplacing: true }
  }

  /** @param key of the line that was left, where it is known: another's typing goes on */
  async commit(key?: number): Promise<void> {
    const open = this.editing
    if (!open || (key !== undefined && key !== open.key)) return
    this.editing = null
    const line = this.lines.find((each) => each.key === open.key)
    const column = this.columns.find((each) => each.id === open.column)
    if (!line || !column?.edit) return
    const isSame = open.text === this.entry.typedIn(line, column) && !this.refusedAt(line, column)
    if (!isSame) await this.entry.enter([{ line, column, text: open.text, seen: open.seen }], 'change')
  }

  async clear(): Promise<void> {
    await this.entry.enter(
      this.#targets().map((target) => ({ ...target, text: '' })),
      'clear',
    )
  }

  /** The first marked line's cells go into those below; with one line marked, the cell above comes down. */
  async fillDown(): Promise<void> {
    const { top, bottom, left, right } = this.marked
    const source = this.lines[top === bottom ? top - 1 : top]
    if (!source) return
    const lines = this.lines.slice(top === bottom ? top : top + 1, bottom + 1)
    const columns = this.columns.slice(left, right + 1)
    const targets = lines.flatMap((line) =>
      columns.map((column) => ({ line, column, text: this.entry.typedIn(source, column) })),
    )
    await this.entry.enter(targets, 'fill')
  }

  async removeRows(): Promise<void> {
    const { top, bottom } = this.marked
    const lines = this.lines.slice(top, bottom + 1)
    this.stand({ row: top, column: this.active.column })
    await this.entry.remove(lines.filter((line) => !this.isFresh(line)))
    this.stand({ row: Math.min(top, this.lines.length - 1), column: this.active.column })
  }

  #block(): string[][] {
    const { top, bottom, left, right } = this.marked
    return this.lines
      .slice(top, bottom + 1)
      .filter((line) => top === bottom || !this.isFresh(line))
      .map((line) =>
        this.columns
          .slice(left, right + 1)
          .map((column) => this.refusedAt(line, column)?.text ?? this.entry.typedIn(line, column)),
      )
  }

  copy(): { text: string; html: string } {
    const block = this.#block()
    return { text: toText(block), html: toHtml(block) }
  }

  /** A block goes from the first marked cell outward, past the end into new rows; one value fills all that is marked. */
  async paste(block: readonly (readonly string[])[]): Promise<void> {
    const only = block.length === 1 && block[0]?.length === 1 ? block[0][0] : undefined
    const { top, left } = this.marked
    if (only !== undefined) {
      await this.entry.enter(
        this.#targets().map((target) => ({ ...target, text: only })),
        'paste',
      )
      return
    }
    const past = top + block.length - (this.lines.length - (this.#given.canAdd() ? 1 : 0))
    const fresh = this.#given.canAdd() ? this.entry.freshLines(Math.max(0, past)) : []
    const lines = [...(this.#given.canAdd() ? this.lines.slice(0, -1) : this.lines), ...fresh]
    const targets = block.flatMap((cells, r) =>
      cells.flatMap((text, c): Target<Row>[] => {
        const [line, column] = [lines[top + r], this.columns[left + c]]
        return line && column ? [{ line, column, text }] : []
      }),
    )
    const width = Math.max(...block.map((cells) => cells.length))
    await this.entry.enter(targets, 'paste')
    // One stands in the first cell, so that nothing scrolls away; the farm's list may not have come back yet.
    this.active = { row: top, column: left }
    this.anchor = { row: top + block.length - 1, column: Math.min(left + width, this.columns.length) - 1 }
  }

  #targets(): { line: Line<Row>; column: Column<Row> }[] {
    const { top, bottom, left, right } = this.marked
    const columns = this.columns.slice(left, right + 1)
    return this.lines.slice(top, bottom + 1).flatMap((line) => columns.map((column) => ({ line, column })))
  }

  #here(): [Line<Row> | undefined, Column<Row> | undefined] {
    return [this.lines[this.active.row], this.columns[this.active.column]]
  }
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(Math.max(value, low), Math.max(low, high))
}
