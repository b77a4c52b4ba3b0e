/** Three fields in a grid without a table, and a farm behind it that may take its time. */
import { computedColumn, typedColumn, type Column } from '../../../src-renderer/grid/columns.ts'
import type { GridChange } from '../../../src-renderer/grid/entry.svelte.ts'
import { GridController } from '../../../src-renderer/grid/grid.svelte.ts'
import { valueAt } from '../../../src-shared/sheet/columns.ts'
import { choice, number, words } from '../../../src-shared/sheet/kind.ts'

export interface Row {
  id: number
  name: string
  acres: number
  water: string
}

export const columns: Column<Row>[] = [
  typedColumn({ id: 'name', label: 'Field', kind: words, isNeeded: true }),
  typedColumn({ id: 'acres', label: 'Acres', kind: number(), isNeeded: true }),
  typedColumn({ id: 'water', label: 'Water', kind: choice(['irrigated', 'dryland']) }),
  computedColumn({
    id: 'half',
    label: 'Half',
    isFigure: true,
    from: 'Acres ÷ 2.',
    show: (row) => String(row.acres / 2),
    sortBy: (row) => row.acres / 2,
    working: (row) => `${row.acres} ÷ 2 = ${row.acres / 2}`,
  }),
]

export function start(canAdd = false, isTaken = (_name: unknown) => true, until = () => Promise.resolve()) {
  let rows = $state.raw<Row[]>([
    { id: 1, name: 'Alder', acres: 38, water: 'dryland' },
    { id: 2, name: 'Big Sandy', acres: 1142, water: 'irrigated' },
    { id: 3, name: 'Creek', acres: 88, water: 'irrigated' },
  ])
  /** The list as it was, while the farm is further already; a change resolves when the list has it. */
  let held = $state.raw<Row[] | null>(null)
  let released = () => {}
  let release = Promise.resolve()
  const said: string[] = []
  const changes: GridChange[] = []
  let next = 10
  const grid = new GridController<Row>({
    rows: () => held ?? rows,
    columns: () => columns,
    keyOf: (row) => row.id,
    canAdd: () => canAdd,
    words: () => ({ one: 'field', many: 'fields' }),
    async change(change) {
      changes.push(change)
      await until()
      const refused = change.cells.filter(
        ({ id, path, value, was }) =>
          (typeof value === 'number' && value <= 0) || (was !== undefined && was !== valueAt(rowOf(id), path)),
      )
      for (const cell of change.cells) {
        const { id, path, value } = cell
        const row = rows.find((each) => each.id === id)
        if (row && !refused.includes(cell)) {
          rows = rows.map((each) => (each === row ? { ...each, [path]: value } : each))
        }
      }
      rows = rows.filter((row) => !change.removed.includes(row.id))
      const taken = change.added.filter(({ values }) => isTaken(values['name']))
      const added = taken.map(({ key, values }) => {
        rows = [...rows, { id: (next += 1), water: '', ...values } as Row]
        return { key, id: next }
      })
      const problem = { code: 'bad-value' as const, what: 'must be more than 0 acres', remedy: 'Type more.' }
      const cells = refused.map(({ id, path }) => ({ key: id, path, problem }))
      const waiting = change.added.filter((row) => !taken.includes(row))
      const names = waiting.map(({ key }) => ({ key, path: 'name', problem }))
      if (held) await release
      return { refused: [...cells, ...names], added, problems: [] }
    },
    say: (spoken) => said.push(spoken),
  })
  const rowOf = (id: number) => rows.find((row) => row.id === id)!
  /** As another window changes it. */
  const setRow = (row: Row) => void (rows = rows.map((each) => (each.id === row.id ? row : each)))
  const holdList = (isHeld: boolean) => {
    if (isHeld && !held) release = new Promise((done) => (released = done))
    held = isHeld ? rows : null
    if (!isHeld) released()
  }
  return { grid, rows: () => rows, said, changes, holdList, setRow }
}

/** Types it in place of what is in the cell where one stands. */
export async function type(grid: GridController<Row>, text: string) {
  grid.startEdit('')
  if (grid.editing) grid.editing = { ...grid.editing, text }
  await grid.commit()
}

/** Changes wait until they are answered. */
export function startSlowly() {
  let answer = () => {}
  const slow = start(
    true,
    () => true,
    () => new Promise((done) => (answer = done)),
  )
  return { ...slow, answer: () => answer() }
}
