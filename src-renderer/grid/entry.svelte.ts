/**
 * What is entered into a grid, from one cell to a pasted block: read cell by cell, sent as one change, and what was not
 * taken kept in its cell with the reason. Rows that are begun wait here until they have all they need. Long because every
 * way of entering shares what is typed, sent and refused.
 */
/* eslint-disable svelte/prefer-svelte-reactivity -- maps that are state are replaced whole; those changed in place are local */
import { untrack } from 'svelte'
import type { Problem } from '../../src-shared/problem.ts'
import type { CellValue } from '../../src-shared/sheet/sheet.ts'
import { showCount, showShort } from '../../src-shared/show.ts'
import type { Column } from './columns.ts'
import type { HalfTyped } from './half-typed.ts'
import { lacking, typedIn, type Begun, type Line } from './lines.ts'
import { noneRefused, withRefused, type Refused, type RefusedCells } from './refused.ts'

/** What a finished action has to say to someone who does not see it. */
export type Say = (words: string) => void

/** All that one action changes: one call, one transaction, one undo step. */
export interface GridChange {
  /** Words for the undo menu. */
  says: string
  /** `was`: the value that was seen; absent where the cell has another change on its way, which comes first. */
  cells: { id: number; path: string; value: CellValue; was?: CellValue }[]
  added: { key: number; values: Record<string, CellValue> }[]
  removed: number[]
}

export interface GridOutcome {
  /** By the row's key; the path is empty where a row as a whole was not taken. */
  refused: readonly { key: number; path: string; problem: Problem }[]
  added: readonly { key: number; id: number }[]
  /** The whole change failed. */
  problems: readonly Problem[]
}

export interface GridGiven<Row> {
  rows(): readonly Row[]
  columns(): readonly Column<Row>[]
  keyOf(row: Row): number
  /** Resolves when `rows` has what it made. */
  change(change: GridChange): Promise<GridOutcome>
  canAdd(): boolean
  say: Say
  /** How a row is called, as field and fields. */
  words(): { one: string; many: string }
  widen?(column: string, step: 1 | -1): void
}

export interface Target<Row> {
  line: Line<Row>
  column: Column<Row>
  text: string
  /** What was in the cell as its typing began; absent: what is in it now. */
  seen?: CellValue | undefined
}

export type Deed = 'change' | 'paste' | 'fill' | 'clear'

const deeds: Record<Deed, { verb: string; done: string }> = {
  change: { verb: 'Change', done: 'changed' },
  paste: { verb: 'Paste', done: 'pasted' },
  fill: { verb: 'Fill down', done: 'filled' },
  clear: { verb: 'Clear', done: 'cleared' },
}

export class Entry<Row> {
  readonly #given: GridGiven<Row>
  readonly #hold: () => void
  readonly #arrived: (ids: ReadonlyMap<number, number>) => void
  /** Begun rows on their way into the farm and its list, by key: what is typed in them meanwhile follows them. */
  readonly #underway = new Map<number, Promise<GridOutcome>>()
  /** While rows are on their way, the rows that were listed before; null while none is. */
  #before = $state.raw<ReadonlySet<number> | null>(null)
  /** Once its page is gone: told when something was not taken after all. */
  #left: (() => void) | null = null
  refused = $state.raw<RefusedCells>(noneRefused)
  /** Rows that are not in the farm yet, by a key below zero. */
  begun = $state.raw<ReadonlyMap<number, Begun>>(new Map())
  /** What was typed over cells of the farm's rows and is not answered yet, by key and column: it stands until the rows have it. */
  sent = $state.raw<ReadonlyMap<number, Begun>>(new Map())
  /** Key of the empty line at the end. */
  nextKey = $state(-1)

  /**
   * @param hold keeps rows where they are, before the farm's list comes back in another order
   * @param arrived told the ids of rows that were begun and are in the farm now, by the key they had
   */
  constructor(given: GridGiven<Row>, hold: () => void, arrived: (ids: ReadonlyMap<number, number>) => void) {
    this.#given = given
    this.#hold = hold
    this.#arrived = arrived
  }

  /**
   * Rows begun and values refused in another life of this window; of a row that is gone, nothing. One that had all it needs
   * and was not refused was on its way when that life ended: where the farm has it now, it came in.
   */
  restore({ begun: left, refused }: Pick<HalfTyped, 'begun' | 'refused'>) {
    const waiting = new Set(refused.map(([at]) => Number.parseInt(at, 10)))
    const begun = left.filter(([key, row]) => waiting.has(key) || !this.#isIn(row))
    const keys = new Set([...this.#given.rows().map(this.#given.keyOf), ...begun.map(([key]) => key)])
    this.begun = new Map(begun)
    this.refused = new Map(refused.filter(([at]) => keys.has(Number.parseInt(at, 10))))
    this.nextKey = Math.min(0, ...begun.map(([key]) => key)) - 1
  }

  #isIn(begun: Begun): boolean {
    const columns = this.#given.columns()
    if (lacking(columns, begun).length > 0) return false
    const typed = columns.filter(({ id }) => begun[id] !== undefined)
    const values = (textOf: (column: Column<Row>) => string) => JSON.stringify(typed.map((c) => c.read?.(textOf(c))))
    const asTyped = values(({ id }) => begun[id] ?? '')
    return this.#given.rows().some((row) => values(({ edit }) => edit?.(row) ?? '') === asTyped)
  }

  /** Its page is gone. What is on its way goes on, and nobody looks at the list any more. */
  leave(notTaken: () => void) {
    this.#left = notTaken
  }

  /** The farm's, without those that still stand as begun: no row is there twice for a moment. */
  get rows(): readonly Row[] {
    const before = this.#before
    const rows = this.#given.rows()
    return before ? rows.filter((row) => before.has(this.#given.keyOf(row))) : rows
  }

  /** Rows begun that are not on their way into the farm. */
  get staying(): [key: number, row: Begun][] {
    return [...this.begun].filter(([key]) => !this.#underway.has(key))
  }

  /** Rows that were not taken once and lack nothing: what they waited for, as a dealer's name, may be there now. */
  async again(): Promise<void> {
    const notes = new Map<string, Refused | null>()
    const change: GridChange = { says: '', cells: [], added: [], removed: [] }
    const waited = new Set([...this.refused.keys()].map((at) => Number.parseInt(at, 10)))
    for (const key of this.begun.keys()) if (waited.has(key)) this.#complete(key, change, notes)
    change.says = this.#says([], change, 'change')
    const { added } = await this.#send(change, () => undefined)
    const { one, many } = this.#given.words()
    if (added.length > 0) this.#given.say(`${showCount(added.length, one, many)} that waited added`)
  }

  /** What was typed in a line and is not in the farm yet. */
  ownOf(key: number): Begun | undefined {
    return this.begun.get(key) ?? this.sent.get(key)
  }

  /** As it would be typed: what was typed last, answered or not. */
  typedIn(line: Line<Row>, column: Column<Row>): string {
    return typedIn(line, column, this.ownOf(line.key))
  }

  refusedAt(key: number, column: string): Refused | undefined {
    return this.refused.get(address(key, column))
  }

  forget(key: number, column: string) {
    this.refused = withRefused(this.refused, [[address(key, column), null]])
  }

  /**
   * A refused text stands for the value it was typed over. Where that has changed, as by undo, the new one is shown.
   * Follows the rows in an effect.
   */
  dropOutdated() {
    const rows = this.#given.rows()
    const refused = untrack(() => this.refused)
    if (refused.size === 0) return
    const rowOf = new Map(rows.map((row) => [this.#given.keyOf(row), row]))
    const columns = this.#given.columns()
    const outdated = [...refused].filter(([at, { saved }]) => {
      const key = Number.parseInt(at, 10)
      const row = rowOf.get(key)
      const column = columns.find(({ id }) => address(key, id) === at)
      return saved !== undefined && row !== undefined && column !== undefined && savedIn(row, column) !== saved
    })
    this.refused = withRefused(
      refused,
      outdated.map(([at]) => [at, null]),
    )
  }

  /** New empty lines for a block that runs past the end. */
  freshLines(count: number): Line<Row>[] {
    return Array.from({ length: count }, (_, at) => ({ key: this.nextKey - at, row: null }))
  }

  async enter(given: readonly Target<Row>[], deed: Deed): Promise<void> {
    const isFollowing = given.some(({ line }) => this.#underway.has(line.key))
    const targets = isFollowing ? await this.#follow(given) : given
    const typed = targets.filter(({ column }) => column.edit)
    const notes = new Map<string, Refused | null>()
    const change: GridChange = { says: '', cells: [], added: [], removed: [] }
    const begun = new Map(this.begun)
    const byPlace = new Map<string, Target<Row>>()
    const touched = new Set<number>()
    for (const target of typed) {
      const { line, column, text } = target
      const at = address(line.key, column.id)
      byPlace.set(address(line.key, column.path ?? column.id), target)
      if (line.key < 0) {
        this.#begin(begun, line.key, column.id, text)
        touched.add(line.key)
        notes.set(at, null)
        continue
      }
      const reading = column.read?.(text)
      if (!reading) continue
      if (!reading.ok) {
        notes.set(at, { text, why: `${reading.what}.`, saved: savedIn(line.row, column) })
      } else {
        notes.set(at, null)
        const was = target.seen ?? this.seenIn(line, column)
        const cell = { id: line.key, path: column.path ?? column.id, value: reading.value }
        change.cells.push(was === undefined ? cell : { ...cell, was })
      }
    }
    const unread = [...notes.values()].filter((note) => note !== null).length
    if (touched.size > 0) this.begun = begun
    for (const key of touched) this.#complete(key, change, notes)
    this.refused = withRefused(this.refused, [...notes])
    change.says = this.#says(typed, change, deed)
    const over = typed.filter(({ line, column }) => line.key > 0 && notes.get(address(line.key, column.id)) === null)
    this.#overlay(over)
    const outcome = await this.#send(change, (key, path) => byPlace.get(address(key, path)))
    this.#uncover(over)
    const refusedCells = outcome.refused.filter(({ key }) => key > 0).length + unread
    // A blank that a block has under a worked-out column is no loss.
    const passed = targets.filter(({ column, text }) => !column.edit && text.trim() !== '').length
    this.#report(typed, passed, refusedCells, outcome, deed)
  }

  /** Undefined where a change of this cell is on its way: the engine takes them in turn. */
  seenIn({ key, row }: Line<Row>, column: Column<Row>): CellValue | undefined {
    return row === null || this.sent.get(key)?.[column.id] !== undefined ? undefined : column.value?.(row)
  }

  /** As the list has the row now: an answer may have brought it. */
  #rowNow(key: number): Row | null {
    return this.#given.rows().find((row) => this.#given.keyOf(row) === key) ?? null
  }

  #overlay(targets: readonly Target<Row>[]) {
    const sent = new Map(this.sent)
    for (const { line, column, text } of targets) sent.set(line.key, { ...sent.get(line.key), [column.id]: text })
    this.sent = sent
  }

  /** What was typed into a cell since stands on. */
  #uncover(targets: readonly Target<Row>[]) {
    const sent = new Map(this.sent)
    for (const { line, column, text } of targets) {
      const row = { ...sent.get(line.key) }
      if (row[column.id] !== text) continue
      delete row[column.id]
      if (Object.keys(row).length > 0) sent.set(line.key, row)
      else sent.delete(line.key)
    }
    this.sent = sent
  }

  /** The same in the rows that have become the farm's by now. */
  async #follow(targets: readonly Target<Row>[]): Promise<Target<Row>[]> {
    return Promise.all(targets.map(async (target) => ({ ...target, line: await this.#arrivedLine(target.line) })))
  }

  async #arrivedLine(line: Line<Row>): Promise<Line<Row>> {
    const outcome = await this.#underway.get(line.key)
    const id = outcome?.added.find(({ key }) => key === line.key)?.id
    return id === undefined ? line : { key: id, row: null }
  }

  async remove(given: readonly Line<Row>[]): Promise<void> {
    const lines = await Promise.all(given.map((line) => this.#arrivedLine(line)))
    const begun = lines.filter(({ key }) => key < 0)
    if (begun.length > 0) this.#drop(begun.map(({ key }) => key))
    const removed = lines.filter(({ key }) => key > 0).map(({ key }) => key)
    if (removed.length === 0) return
    const { one, many } = this.#given.words()
    const says = `Remove ${showCount(removed.length, one, many)}`
    const outcome = await this.#send({ says, cells: [], added: [], removed }, () => undefined)
    const [first] = outcome.refused
    const left = outcome.refused.length
    this.#given.say(
      `${showCount(removed.length - left, one, many)} removed${first ? `, ${left} not: ${first.problem.what}` : ''}`,
    )
  }

  /** Notes a cell of a row that is not in the farm yet. */
  #begin(begun: Map<number, Begun>, key: number, column: string, text: string) {
    const row = { ...begun.get(key), [column]: text }
    if (text === '') delete row[column]
    if (Object.keys(row).length > 0) begun.set(key, row)
    else begun.delete(key)
    if (key <= this.nextKey && begun.has(key)) this.nextKey = key - 1
  }

  #drop(keys: readonly number[]) {
    if (keys.length === 0) return
    const gone = new Set(keys)
    this.begun = new Map([...this.begun].filter(([key]) => !gone.has(key)))
    this.refused = new Map([...this.refused].filter(([at]) => !gone.has(Number.parseInt(at, 10))))
  }

  /** A begun row that has all it needs is sent; one that does not says what is missing. */
  #complete(key: number, change: GridChange, notes: Map<string, Refused | null>) {
    const row = this.begun.get(key)
    if (!row) return
    const columns = this.#given.columns()
    const values: Record<string, CellValue> = {}
    for (const column of columns) {
      const text = row[column.id]
      const reading = text === undefined ? undefined : column.read?.(text)
      if (!reading) continue
      if (reading.ok) values[column.path ?? column.id] = reading.value
      else notes.set(address(key, column.id), { text: text ?? '', why: `${reading.what}.` })
    }
    const isRefused = columns.some((column) => column.isNeeded && notes.get(address(key, column.id)))
    if (lacking(columns, row).length === 0 && !isRefused) change.added.push({ key, values })
  }

  /** Sends a change that has anything in it, and notes what was not taken. */
  async #send(change: GridChange, find: (key: number, path: string) => Target<Row> | undefined): Promise<GridOutcome> {
    if (change.cells.length + change.added.length + change.removed.length === 0) {
      return { refused: [], added: [], problems: [] }
    }
    this.#hold()
    if (change.added.length > 0) this.#before ??= new Set(this.#given.rows().map(this.#given.keyOf))
    const sent = this.#given.change(change)
    for (const { key } of change.added) this.#underway.set(key, sent)
    const outcome = await this.#settled(sent, change, find)
    if (outcome.refused.length + outcome.problems.length > 0) this.#left?.()
    return outcome
  }

  /** Notes what was not taken; begun rows that are the farm's now go, once its list has them. */
  async #settled(
    sent: Promise<GridOutcome>,
    change: GridChange,
    find: (key: number, path: string) => Target<Row> | undefined,
  ): Promise<GridOutcome> {
    const idOf = new Map<number, number>()
    try {
      const outcome = await sent
      for (const { key, id } of outcome.added) idOf.set(key, id)
      const notes = this.#notesOf(outcome, idOf, change, find)
      this.#arrived(idOf)
      this.#drop([...idOf.keys()])
      this.refused = withRefused(this.refused, notes)
      return outcome
    } finally {
      // With the same stroke as the begun rows go: neither both are shown nor none.
      for (const { key } of change.added) this.#underway.delete(key)
      this.#before = this.#underway.size > 0 && this.#before ? new Set([...this.#before, ...idOf.values()]) : null
    }
  }

  #notesOf(
    outcome: GridOutcome,
    idOf: ReadonlyMap<number, number>,
    change: GridChange,
    find: (key: number, path: string) => Target<Row> | undefined,
  ): [at: string, refused: Refused][] {
    const columns = this.#given.columns()
    const notes = outcome.refused.flatMap(({ key, path, problem }): [string, Refused][] => {
      const target = find(key, path)
      const column = target?.column ?? columns.find((each) => (each.path ?? each.id) === path)
      if (!column) return []
      const text = target?.text ?? this.begun.get(key)?.[column.id] ?? ''
      const saved = target ? savedIn(this.#rowNow(target.line.key), target.column) : undefined
      const refused = { text, why: problem.what, remedy: problem.remedy, saved }
      return [[address(idOf.get(key) ?? key, column.id), refused]]
    })
    const [whole] = outcome.problems
    if (whole) {
      // Nothing was taken: every cell keeps what was typed, with the one reason.
      for (const { id, path } of change.cells) {
        const target = find(id, path)
        if (!target) continue
        const saved = savedIn(target.line.row, target.column)
        const refused = { text: target.text, why: whole.what, remedy: whole.remedy, saved }
        notes.push([address(id, target.column.id), refused])
      }
    }
    return notes
  }

  /** As “Change Planted of Creek Bottom”, “Paste 40 cells”, “Add 1 field”. */
  #says(typed: readonly Target<Row>[], change: GridChange, deed: Deed): string {
    const { one, many } = this.#given.words()
    const { verb } = deeds[deed]
    const rows = change.added.length
    if (change.cells.length === 0) return `${deed === 'paste' ? 'Paste' : 'Add'} ${showCount(rows, one, many)}`
    const [only] = typed
    if (typed.length === 1 && only?.line.row) {
      const name = this.#given.columns()[0]?.show(only.line.row) ?? ''
      return showShort(`${verb} ${only.column.label} of ${name}`, 80)
    }
    return `${verb} ${showCount(change.cells.length, 'cell')}${rows > 0 ? ` and ${showCount(rows, one, many)}` : ''}`
  }

  #report(typed: readonly Target<Row>[], passed: number, left: number, outcome: GridOutcome, deed: Deed) {
    const { one, many } = this.#given.words()
    const said: string[] = []
    const standing = typed.filter(({ line }) => line.key > 0)
    const [only] = typed
    const why = only && this.refusedAt(only.line.key, only.column.id)
    const [whole] = outcome.problems
    if (whole) said.push(`Not taken: ${whole.what} ${whole.remedy}`)
    else if (typed.length === 1 && why && only.line.row) said.push(`${only.column.label} was not taken: ${why.why}`)
    else if (deed !== 'change' || typed.length !== 1) {
      if (standing.length > 0) said.push(`${showCount(standing.length - left, 'cell')} ${deeds[deed].done}`)
      if (left > 0) said.push(`${left} not taken`)
    }
    if (outcome.added.length > 0) said.push(`${showCount(outcome.added.length, one, many)} added`)
    const waiting = [...new Set(typed.map(({ line }) => line.key))].filter((key) => this.begun.has(key))
    if (waiting.length > 0) {
      const needs = lacking(this.#given.columns(), this.begun.get(waiting[0] as number) ?? {})
      if (needs.length > 0)
        said.push(`${showCount(waiting.length, one, many)} not added yet: needs ${needs.join(', ')}`)
    }
    if (passed > 0) said.push(`${passed} cannot be typed`)
    if (said.length > 0) this.#given.say(said.join(', '))
  }
}

const savedIn = <Row>(row: Row | null, column: Column<Row>): string | undefined =>
  row === null ? undefined : column.edit?.(row)

function address(key: number, column: string): string {
  return `${key} ${column}`
}
