/**
 * The grid without its table: where one stands, what is marked, what is being typed, what was not taken, how rows
 * are ordered. Knows no DOM and no noun; Grid.svelte draws it and passes keys in. Long because these five share the
 * same cell addresses, and apart they would have to be told of one another.
 */
import type { Problem } from '../../src-shared/problem.ts'
import { fromText, toText } from './clipboard.ts'
import type { CellValue, Column } from './columns.ts'
import type { EditAction, GridAction } from './keys.ts'
import { arrange, inOrder, nextSort, type Sort } from './order.ts'
import { noneRefused, withRefused, type Refused, type RefusedCells } from './refused.ts'

/** Row −1 is the header. */
export interface Spot {
  row: number
  column: number
}

/** What a finished action has to say to someone who does not see it. */
export type Say = (words: string) => void

export interface GridGiven<Row> {
  rows(): readonly Row[]
  columns(): readonly Column<Row>[]
  keyOf(row: Row): number
  /** Writes one cell; an empty list means that it was taken. */
  write(row: Row, column: Column<Row>, value: CellValue): Promise<readonly Problem[]>
  say: Say
}

export const headerRow = -1

export class GridController<Row> {
  readonly #given: GridGiven<Row>
  active = $state.raw<Spot>({ row: 0, column: 0 })
  /** The other corner of what is marked. */
  anchor = $state.raw<Spot>({ row: 0, column: 0 })
  editing = $state.raw<{ key: number; column: string; text: string; isReplacing: boolean } | null>(null)
  refused = $state.raw<RefusedCells>(noneRefused)
  sort = $state.raw<Sort | null>(null)
  filter = $state('')
  /** Keys of the rows shown. Made anew by sorting and filtering only, so that an edited row stays where it is. */
  #order = $state.raw<{ shown: readonly number[]; known: readonly number[] } | null>(null)

  constructor(given: GridGiven<Row>) {
    this.#given = given
  }

  columns = $derived.by(() => this.#given.columns())

  view: readonly Row[] = $derived.by(() => {
    const rows = this.#given.rows()
    return this.#order === null ? rows : inOrder(rows, this.#given.keyOf, this.#order)
  })

  /** Corners of what is marked, inside the table. */
  marked = $derived.by(() => ({
    top: Math.max(0, Math.min(this.active.row, this.anchor.row)),
    bottom: Math.max(this.active.row, this.anchor.row),
    left: Math.min(this.active.column, this.anchor.column),
    right: Math.max(this.active.column, this.anchor.column),
  }))

  isMarked(row: number, column: number): boolean {
    const { top, bottom, left, right } = this.marked
    return row >= top && row <= bottom && column >= left && column <= right && (top !== bottom || left !== right)
  }

  refusedAt(row: Row, column: Column<Row>): Refused | undefined {
    return this.refused.get(this.#address(row, column))
  }

  stand(spot: Spot, extend = false) {
    const row = clamp(spot.row, extend ? 0 : headerRow, this.view.length - 1)
    this.active = { row, column: clamp(spot.column, 0, this.columns.length - 1) }
    if (!extend) this.anchor = this.active
  }

  sortBy(column: string) {
    this.sort = nextSort(this.sort, column)
    this.#arrange()
    const label = this.columns.find((each) => each.id === column)?.label ?? column
    this.#given.say(this.sort ? `Sorted by ${label}, ${this.sort.way}` : 'In the usual order')
  }

  filterBy(text: string) {
    this.filter = text
    this.#arrange()
    this.stand({ row: Math.max(0, this.active.row), column: this.active.column })
  }

  #arrange() {
    const rows = this.#given.rows()
    const isPlain = this.sort === null && this.filter.trim() === ''
    const keys = (of: readonly Row[]) => of.map(this.#given.keyOf)
    this.#order = isPlain
      ? null
      : { shown: keys(arrange(rows, this.columns, this.filter, this.sort)), known: keys(rows) }
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
        if (row === headerRow) this.sortBy(this.columns[column]?.id ?? '')
        else this.startEdit()
        return true
      case 'replace':
        if (row !== headerRow) this.startEdit(action.text)
        return true
      case 'clear':
        void this.clear()
        return true
      case 'select':
        this.#select(action.what)
        return true
      case 'collapse':
        this.anchor = this.active
        return true
    }
  }

  #edge(edge: string): Spot {
    const { row, column } = this.active
    const [lastRow, lastColumn] = [this.view.length - 1, this.columns.length - 1]
    if (edge === 'row-start') return { row, column: 0 }
    if (edge === 'row-end') return { row, column: lastColumn }
    if (edge === 'column-start') return { row: 0, column }
    if (edge === 'column-end') return { row: lastRow, column }
    return edge === 'first' ? { row: 0, column: 0 } : { row: lastRow, column: lastColumn }
  }

  #select(what: 'all' | 'row' | 'column') {
    const { row, column } = this.active
    const [lastRow, lastColumn] = [this.view.length - 1, this.columns.length - 1]
    this.anchor = { row: what === 'row' ? row : 0, column: what === 'column' ? column : 0 }
    this.active = { row: what === 'row' ? row : lastRow, column: what === 'column' ? column : lastColumn }
  }

  /** Opens the cell where one stands; with what was typed in place of what was there, or with it to be mended. */
  startEdit(replacement?: string) {
    const [row, column] = this.#here()
    if (!row || !column) return
    if (!column.edit) {
      this.#given.say(`${column.label} cannot be typed here. ${column.from ?? ''}`.trim())
      return
    }
    const text = replacement ?? this.refusedAt(row, column)?.text ?? column.edit(row)
    this.anchor = this.active
    this.editing = {
      key: this.#given.keyOf(row),
      column: column.id,
      text,
      isReplacing: replacement !== undefined,
    }
  }

  isEditing(row: Row, column: Column<Row>): boolean {
    return this.editing?.key === this.#given.keyOf(row) && this.editing.column === column.id
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
    const [row, column] = this.#here()
    if (row && column) this.#settle(row, column, null)
    this.editing = null
  }

  async commit(): Promise<void> {
    const open = this.editing
    if (!open) return
    this.editing = null
    const row = this.#given.rows().find((each) => this.#given.keyOf(each) === open.key)
    const column = this.columns.find((each) => each.id === open.column)
    if (!row || !column?.edit) return
    const isSame = open.text === column.edit(row) && !this.refusedAt(row, column)
    if (!isSame) await this.#enter(row, column, open.text)
  }

  async clear(): Promise<void> {
    await this.#enterAll(
      this.#cells().map(({ row, column }) => ({ row, column, text: '' })),
      'cleared',
    )
  }

  copy(): string {
    const { top, bottom, left, right } = this.marked
    return toText(
      this.view
        .slice(top, bottom + 1)
        .map((row) =>
          this.columns
            .slice(left, right + 1)
            .map((column) => this.refusedAt(row, column)?.text ?? (column.edit ?? column.show)(row)),
        ),
    )
  }

  /** A block goes from the first marked cell outward; one value fills all that is marked. */
  async paste(text: string): Promise<void> {
    const block = fromText(text)
    const only = block.length === 1 && block[0]?.length === 1 ? block[0][0] : undefined
    const { top, left } = this.marked
    const targets =
      only !== undefined
        ? this.#cells().map(({ row, column }) => ({ row, column, text: only }))
        : block.flatMap((line, r) =>
            line.flatMap((cell, c) => {
              const [row, column] = [this.view[top + r], this.columns[left + c]]
              return row && column ? [{ row, column, text: cell }] : []
            }),
          )
    if (only === undefined) {
      this.anchor = { row: top, column: left }
      const width = Math.max(...block.map((line) => line.length))
      this.stand({ row: top + block.length - 1, column: left + width - 1 }, true)
    }
    await this.#enterAll(targets, 'pasted')
  }

  #cells(): { row: Row; column: Column<Row> }[] {
    const { top, bottom, left, right } = this.marked
    const columns = this.columns.slice(left, right + 1)
    return this.view.slice(top, bottom + 1).flatMap((row) => columns.map((column) => ({ row, column })))
  }

  async #enterAll(targets: { row: Row; column: Column<Row>; text: string }[], done: string) {
    const typed = targets.filter(({ column }) => column.edit)
    let taken = 0
    for (const { row, column, text } of typed) if (await this.#enter(row, column, text)) taken += 1
    const left = typed.length - taken
    const passed = targets.length - typed.length
    this.#given.say(
      [
        `${taken} ${taken === 1 ? 'cell' : 'cells'} ${done}`,
        left > 0 ? `${left} not taken` : '',
        passed > 0 ? `${passed} cannot be typed` : '',
      ]
        .filter(Boolean)
        .join(', '),
    )
  }

  /** Reads and writes one cell. What is not taken stays in the cell with the reason. */
  async #enter(row: Row, column: Column<Row>, text: string): Promise<boolean> {
    const reading = column.read?.(text)
    if (!reading) return false
    if (!reading.ok) {
      this.#settle(row, column, { text, why: `${reading.what}.` })
      return false
    }
    // Shown as not yet taken only if it is refused; the farm's own row brings the new value.
    const problems = await this.#given.write(row, column, reading.value)
    const [first] = problems
    this.#settle(row, column, first ? { text, why: first.what } : null)
    return !first
  }

  #settle(row: Row, column: Column<Row>, refused: Refused | null) {
    this.refused = withRefused(this.refused, this.#address(row, column), refused)
    if (refused) this.#given.say(`${column.label} was not taken: ${refused.why}`)
  }

  #here(): [Row | undefined, Column<Row> | undefined] {
    return [this.view[this.active.row], this.columns[this.active.column]]
  }

  #address(row: Row, column: Column<Row>): string {
    return `${this.#given.keyOf(row)} ${column.id}`
  }
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(Math.max(value, low), Math.max(low, high))
}
