/**
 * The grid's controller without a table: moving, typing, refusing, pasting, filling, adding, removing, sorting.
 * Long because all of it is tried on the same few rows.
 */
import { flushSync } from 'svelte'
import { expect, test } from 'vitest'
import { fromText } from '../../../src-renderer/grid/clipboard.ts'
import { computedColumn, typedColumn, type Column } from '../../../src-renderer/grid/columns.ts'
import type { GridChange } from '../../../src-renderer/grid/entry.svelte.ts'
import { GridController } from '../../../src-renderer/grid/grid.svelte.ts'
import { choice, number, words } from '../../../src-shared/sheet/kind.ts'

interface Row {
  id: number
  name: string
  acres: number
  water: string
}

const columns: Column<Row>[] = [
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

function start(canAdd = false, isTaken = (_name: unknown) => true, until = () => Promise.resolve()) {
  let rows = $state.raw<Row[]>([
    { id: 1, name: 'Alder', acres: 38, water: 'dryland' },
    { id: 2, name: 'Big Sandy', acres: 1142, water: 'irrigated' },
    { id: 3, name: 'Creek', acres: 88, water: 'irrigated' },
  ])
  /** The list as it was, while the farm is further already. */
  let held = $state.raw<Row[] | null>(null)
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
      const refused = change.cells.filter(({ value }) => typeof value === 'number' && value <= 0)
      for (const { id, path, value } of change.cells) {
        const row = rows.find((each) => each.id === id)
        if (row && !(typeof value === 'number' && value <= 0)) {
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
      return { refused: [...cells, ...names], added, problems: [] }
    },
    say: (spoken) => said.push(spoken),
  })
  const holdList = (isHeld: boolean) => void (held = isHeld ? rows : null)
  return { grid, rows: () => rows, said, changes, holdList }
}

const line = (grid: GridController<Row>, row: number) => grid.lines[row]!

async function type(grid: GridController<Row>, text: string) {
  grid.startEdit('')
  if (grid.editing) grid.editing = { ...grid.editing, text }
  await grid.commit()
}

test('one stays inside: the header is as high as it goes, and Tab leaves only at a row’s end', () => {
  const { grid } = start()
  grid.act({ kind: 'move', rows: -1, columns: -1, extend: false }, 10)
  expect(grid.active).toEqual({ row: -1, column: 0 })
  grid.act({ kind: 'edge', edge: 'last', extend: false }, 10)
  expect(grid.active).toEqual({ row: 2, column: 3 })
  expect(grid.act({ kind: 'tab', step: 1 }, 10)).toBe(false)
  expect(grid.act({ kind: 'tab', step: -1 }, 10)).toBe(true)
  grid.act({ kind: 'page', pages: -1, extend: false }, 10)
  expect(grid.active).toEqual({ row: 0, column: 2 })
})

test('typing replaces, Enter goes down, Escape takes back; the step is named by cell and row', async () => {
  const { grid, rows, changes } = start()
  grid.stand({ row: 0, column: 1 })
  grid.act({ kind: 'replace', text: '4' }, 10)
  expect(grid.editing).toMatchObject({ key: 1, column: 'acres', text: '4', isReplacing: true })
  grid.editing = { ...grid.editing!, text: '1,250.5 ac' }
  expect(grid.finish({ kind: 'commit', rows: 1, columns: 0 })).toBe(true)
  await Promise.resolve()
  expect(rows()[0]?.acres).toBe(1250.5)
  expect(changes.map(({ says }) => says)).toEqual(['Change Acres of Alder'])
  expect(grid.active).toEqual({ row: 1, column: 1 })
  grid.startEdit()
  expect(grid.editing?.text).toBe('1142')
  grid.finish({ kind: 'give-up' })
  expect(grid.editing).toBeNull()
  expect(rows()[1]?.acres).toBe(1142)
})

test('what is not taken stays in its cell with the reason, whoever refuses it, and holds nothing else up', async () => {
  const { grid, rows, said } = start()
  grid.stand({ row: 0, column: 1 })
  await type(grid, '12,5')
  expect(grid.refusedAt(line(grid, 0), columns[1]!)).toMatchObject({
    text: '12,5',
    why: expect.stringContaining('two ways'),
  })
  grid.stand({ row: 1, column: 1 })
  await type(grid, '-3')
  expect(grid.refusedAt(line(grid, 1), columns[1]!)).toEqual({
    text: '-3',
    why: 'must be more than 0 acres',
    remedy: 'Type more.',
  })
  expect(rows().map((row) => row.acres)).toEqual([38, 1142, 88])
  grid.stand({ row: 2, column: 1 })
  await type(grid, '90')
  expect(rows()[2]?.acres).toBe(90)
  expect(said).toHaveLength(2)
  // Opened again, what was typed is there to be mended; Escape forgets it.
  grid.stand({ row: 0, column: 1 })
  grid.startEdit()
  expect(grid.editing?.text).toBe('12,5')
  grid.giveUp()
  expect(grid.refusedAt(line(grid, 0), columns[1]!)).toBeUndefined()
})

test('a worked-out cell is not typed in, and says its working with its numbers', () => {
  const { grid, said } = start()
  grid.stand({ row: 0, column: 3 })
  grid.startEdit('5')
  expect(grid.editing).toBeNull()
  expect(said).toEqual(['Half cannot be typed here. 38 ÷ 2 = 19'])
})

test('a block is copied as it is typed, and pasted as one change, each cell through its own column', async () => {
  const { grid, rows, said, changes } = start()
  grid.stand({ row: 0, column: 0 })
  grid.stand({ row: 1, column: 2 }, true)
  expect(grid.copy().text).toBe('Alder\t38\tdryland\nBig Sandy\t1142\tirrigated')
  expect(grid.copy().html).toContain('<td>Alder</td><td>38</td>')
  grid.stand({ row: 1, column: 0 })
  await grid.paste(fromText('East\t$70\tDryland\tx\nWest\tmany\tsea\tx\nbeyond\t1\tdryland\tx\n'))
  expect(rows()[1]).toMatchObject({ name: 'East', acres: 70, water: 'dryland' })
  expect(rows()[2]).toMatchObject({ name: 'West', acres: 88, water: 'irrigated' })
  expect(said.at(-1)).toBe('4 cells pasted, 2 not taken, 2 cannot be typed')
  expect(changes.map(({ says, cells }) => [says, cells.length])).toEqual([['Paste 4 cells', 4]])
})

test('a block that runs past the end adds rows in the same step; a row that lacks something waits and says what', async () => {
  const { grid, rows, said, changes } = start(true)
  grid.stand({ row: 2, column: 0 })
  await grid.paste(fromText('Creek 2\t90\nNew one\t12\nHalf typed'))
  expect(changes).toHaveLength(1)
  expect(changes[0]?.says).toBe('Paste 2 cells and 1 field')
  expect(rows().map((row) => row.name)).toEqual(['Alder', 'Big Sandy', 'Creek 2', 'New one'])
  expect(said.at(-1)).toBe('2 cells pasted, 1 field added, 1 field not added yet: needs Acres')
  expect(grid.lines.map(({ row }) => row?.name ?? null)).toEqual([
    'Alder',
    'Big Sandy',
    'Creek 2',
    'New one',
    null,
    null,
  ])
  grid.stand({ row: 4, column: 1 })
  await type(grid, '5')
  expect(changes.at(-1)).toMatchObject({ says: 'Add 1 field', added: [{ values: { name: 'Half typed', acres: 5 } }] })
  expect(grid.lines.map(({ row }) => row?.name ?? null).slice(-3)).toEqual(['New one', 'Half typed', null])
})

test('what was pasted is marked and one stands in its first cell; what waits is counted and says what it needs', async () => {
  const { grid } = start(true)
  grid.stand({ row: 3, column: 0 })
  await grid.paste(fromText('East\t70\nWest\nNorth\t12\n'))
  expect([grid.active, grid.anchor]).toEqual([
    { row: 3, column: 0 },
    { row: 5, column: 1 },
  ])
  expect([grid.counted, grid.waiting, grid.removal]).toEqual(['5 fields', '1 field not added yet', 'Remove 3 fields'])
  expect(grid.needs(line(grid, 5))).toEqual(['Acres'])
  expect(grid.needs(line(grid, 6))).toEqual([])
})

test('a row that was refused for what is not there yet goes in by itself once it is; one that lacks something waits', async () => {
  let isThere = false
  const { grid, rows, said, changes } = start(true, () => isThere)
  grid.stand({ row: 3, column: 0 })
  await grid.paste(fromText('East\t70\nWest\n'))
  await grid.entry.again()
  expect([rows().length, grid.waiting]).toEqual([3, '2 fields not added yet'])
  isThere = true
  const left = grid.halfTyped
  grid.restore(left)
  await grid.entry.again()
  expect(rows().map(({ name }) => name)).toEqual(['Alder', 'Big Sandy', 'Creek', 'East'])
  expect(changes.at(-1)?.says).toBe('Add 1 field')
  expect([said.at(-1), grid.waiting]).toEqual(['1 field that waited added', '1 field not added yet'])
})

test('a row that was on its way when the window ended is not there twice', () => {
  const { grid } = start(true)
  const begun: [number, Record<string, string>][] = [
    [-1, { name: 'Creek', acres: '88.0 ac', water: 'Irrigated' }],
    [-2, { name: 'Creek', acres: '89' }],
    [-3, { name: 'Creek' }],
    [-4, { name: 'Creek', acres: '88' }],
  ]
  grid.restore({ editing: null, begun, refused: [['-4 name', { text: 'Creek', why: 'There is one.' }]] })
  expect([...grid.entry.begun.keys()]).toEqual([-2, -3, -4])
})

test('a row that no change could take after its page was left is told of, and stays begun', async () => {
  const full = { code: 'bad-file' as const, what: 'The disk is full.', remedy: 'Make room.' }
  const grid = new GridController<Row>({
    rows: () => [],
    columns: () => columns,
    keyOf: (row) => row.id,
    canAdd: () => true,
    words: () => ({ one: 'field', many: 'fields' }),
    change: async () => await Promise.resolve({ refused: [], added: [], problems: [full] }),
    say: () => undefined,
  })
  await type(grid, 'Elm')
  grid.stand({ row: 0, column: 1 })
  const comes = type(grid, '20')
  expect(grid.halfLeft().begun).toEqual([])
  let told: unknown
  grid.entry.leave(() => (told = grid.halfLeft().begun))
  await comes
  expect(told).toEqual([[-1, { name: 'Elm', acres: '20' }]])
})

test('figures of unlike units have no sum', () => {
  const figure = (id: string, unit: string) => typedColumn<Row>({ id, label: id, unit, kind: number() })
  const grid = new GridController<Row>({
    rows: () => [{ id: 1, name: 'Alder', acres: 38, water: '7' }],
    columns: () => [figure('acres', 'acres'), figure('id', 'acres'), figure('water', 'lb')],
    keyOf: (row) => row.id,
    canAdd: () => false,
    words: () => ({ one: 'field', many: 'fields' }),
    change: async () => await Promise.resolve({ refused: [], added: [], problems: [] }),
    say: () => undefined,
  })
  grid.stand({ row: 0, column: 1 }, true)
  expect(grid.summary).toEqual({ cells: 2, figures: 2, sum: 39, average: 19.5 })
  grid.stand({ row: 0, column: 2 }, true)
  expect(grid.summary).toEqual({ cells: 3, figures: 0, sum: 0, average: null })
})

test('typing in the empty line at the end begins a row; emptied again it is gone', async () => {
  const { grid, changes } = start(true)
  grid.stand({ row: 3, column: 0 })
  await type(grid, 'New')
  expect([grid.lines.length, changes.length]).toEqual([5, 0])
  grid.stand({ row: 3, column: 0 })
  await grid.clear()
  expect([grid.lines.length, changes.length]).toEqual([4, 0])
})

test('one value fills all that is marked; fill down takes the first line, or the cell above', async () => {
  const { grid, rows, changes } = start()
  grid.stand({ row: 0, column: 2 })
  grid.stand({ row: 2, column: 2 }, true)
  await grid.paste([['dryland']])
  expect(rows().map((row) => row.water)).toEqual(['dryland', 'dryland', 'dryland'])
  grid.stand({ row: 0, column: 1 })
  grid.stand({ row: 2, column: 1 }, true)
  grid.act({ kind: 'fill-down' }, 10)
  await Promise.resolve()
  expect(rows().map((row) => row.acres)).toEqual([38, 38, 38])
  expect(changes.at(-1)?.says).toBe('Fill down 2 cells')
  grid.stand({ row: 1, column: 0 })
  await grid.fillDown()
  expect(rows()[1]?.name).toBe('Alder')
})

test('marked rows are removed in one step', async () => {
  const { grid, rows, said, changes } = start(true)
  grid.stand({ row: 0, column: 1 })
  grid.stand({ row: 1, column: 1 }, true)
  await grid.removeRows()
  expect(rows().map((row) => row.name)).toEqual(['Creek'])
  expect(changes.map(({ says }) => says)).toEqual(['Remove 2 fields'])
  expect(said.at(-1)).toBe('2 fields removed')
})

test('all, a row, a column; and the sum and average of the figures in what is marked', () => {
  const { grid } = start(true)
  grid.stand({ row: 1, column: 1 })
  grid.act({ kind: 'select', what: 'column' }, 10)
  expect(grid.marked).toEqual({ top: 0, bottom: 2, left: 1, right: 1 })
  expect(grid.summary).toEqual({ cells: 3, figures: 3, sum: 1268, average: 1268 / 3 })
  grid.act({ kind: 'select', what: 'all' }, 10)
  expect(grid.marked).toEqual({ top: 0, bottom: 2, left: 0, right: 3 })
  grid.stand({ row: 1, column: 1 })
  grid.act({ kind: 'select', what: 'row' }, 10)
  expect(grid.marked).toEqual({ top: 1, bottom: 1, left: 0, right: 3 })
})

test('sorted up, down and not at all; an edited row stays where it is', async () => {
  const { grid } = start()
  const names = () => grid.view.map((row) => row.name)
  grid.sortBy('acres')
  expect(names()).toEqual(['Alder', 'Creek', 'Big Sandy'])
  grid.stand({ row: 0, column: 1 })
  await type(grid, '5000')
  expect(names()).toEqual(['Alder', 'Creek', 'Big Sandy'])
  grid.sortBy('acres')
  expect(names()).toEqual(['Alder', 'Big Sandy', 'Creek'])
  grid.sortBy('acres')
  expect(grid.sorts).toEqual([])
  expect(names()).toEqual(['Alder', 'Big Sandy', 'Creek'])
})

test('sorted further within what is sorted already, and taken out of it again', () => {
  const { grid, said } = start()
  const names = () => grid.view.map((row) => row.name)
  grid.sortBy('water')
  grid.sortBy('acres', true)
  // Choices are sorted as they are listed.
  expect(names()).toEqual(['Creek', 'Big Sandy', 'Alder'])
  grid.sortBy('acres', true)
  expect(names()).toEqual(['Big Sandy', 'Creek', 'Alder'])
  expect(said.at(-1)).toBe('Sorted by Water, ascending, then by Acres, descending')
  grid.sortBy('water', true)
  expect(names()).toEqual(['Alder', 'Big Sandy', 'Creek'])
  grid.sortBy('water', true)
  expect(grid.sorts).toEqual([{ column: 'acres', way: 'descending' }])
  expect(names()).toEqual(['Big Sandy', 'Creek', 'Alder'])
  // Chosen plainly, one column alone is sorted by.
  grid.sortBy('water', true)
  grid.sortBy('water')
  expect(grid.sorts).toEqual([{ column: 'water', way: 'ascending' }])
})

test('filtered by words that may stand in any column', () => {
  const { grid } = start()
  grid.filterBy('irri creek')
  expect(grid.view.map((row) => row.id)).toEqual([3])
  grid.filterBy('nowhere')
  expect(grid.view).toEqual([])
  grid.filterBy('')
  expect(grid.view).toHaveLength(3)
})

/** A farm that answers when it is let. */
function startSlowly() {
  let answer = () => {}
  const slow = start(
    true,
    () => true,
    () => new Promise((done) => (answer = done)),
  )
  return { ...slow, answer: () => answer() }
}

test('what is typed in a row on its way into the farm follows it', async () => {
  const { grid, rows, changes, answer } = startSlowly()
  grid.stand({ row: 3, column: 0 })
  await type(grid, 'Dog Leg')
  grid.stand({ row: 3, column: 1 })
  const first = type(grid, '46')
  expect(changes).toHaveLength(1)
  // Not in the farm yet, and the next cell is entered already.
  grid.stand({ row: 3, column: 2 })
  const second = type(grid, 'irrigated')
  expect(changes).toHaveLength(1)
  answer()
  await first
  await expect.poll(() => changes.length).toBe(2)
  answer()
  await second
  expect(changes[1]).toMatchObject({ added: [], cells: [{ id: 11, path: 'water', value: 'irrigated' }] })
  expect(rows().slice(3)).toEqual([{ id: 11, name: 'Dog Leg', acres: 46, water: 'irrigated' }])
  expect(grid.entry.begun.size).toBe(0)
})

test('what is typed when the farm has the row and the list has not yet follows it too, and so does its removal', async () => {
  const { grid, rows, changes, holdList } = start(true)
  const answered = () => new Promise((done) => setTimeout(done, 10))
  /** @returns the row's coming in, which the list holds up */
  const comeIn = async (row: number, name: string, acres: string) => {
    grid.stand({ row, column: 0 })
    await type(grid, name)
    holdList(true)
    grid.stand({ row, column: 1 })
    const comes = type(grid, acres)
    await answered()
    return { comes }
  }
  const first = await comeIn(3, 'Dog Leg', '46')
  grid.stand({ row: 3, column: 2 })
  const second = type(grid, 'irrigated')
  await answered()
  expect(rows().slice(3)).toEqual([{ id: 11, name: 'Dog Leg', acres: 46, water: 'irrigated' }])
  holdList(false)
  await Promise.all([first.comes, second])
  expect(changes.map(({ added }) => added.length)).toEqual([1, 0])
  expect([grid.entry.begun.size, grid.lines.length]).toEqual([0, 5])

  const third = await comeIn(4, 'Elm', '20')
  grid.stand({ row: 4, column: 0 })
  const gone = grid.removeRows()
  await answered()
  holdList(false)
  await Promise.all([third.comes, gone])
  expect(rows().map(({ name }) => name)).not.toContain('Elm')
  expect([grid.entry.begun.size, grid.lines.length]).toEqual([0, 5])
})

test('a row that comes in while others do is not there twice for a moment, nor gone for one', async () => {
  const { grid, rows, answer } = startSlowly()
  const names = () => grid.lines.map(({ key, row }) => row?.name ?? grid.entry.begun.get(key)?.['name'] ?? '')
  const seen = new Set<string>()
  const stop = $effect.root(() => {
    $effect(() => void seen.add(names().join()))
  })
  flushSync()
  const begin = async (row: number, name: string) => {
    grid.stand({ row, column: 0 })
    await type(grid, name)
    grid.stand({ row, column: 1 })
    return { comes: type(grid, '46'), answer }
  }
  const first = await begin(3, 'Dog Leg')
  first.answer()
  // The farm's list has it before the answer to the change is here.
  await expect.poll(() => rows().length).toBe(4)
  const second = await begin(4, 'Elm')
  await first.comes
  flushSync()
  answer()
  await second.comes
  flushSync()
  stop()
  const shown = ['Alder,Big Sandy,Creek']
  for (const name of ['Dog Leg', 'Elm']) shown.push(`${shown.at(-1)},${name}`)
  expect([...seen]).toEqual(shown.map((lines) => `${lines},`))
})

test('a cell that is open while its row comes into the farm stays open, with what was typed', async () => {
  const { grid, rows, answer } = startSlowly()
  grid.stand({ row: 3, column: 0 })
  await type(grid, 'Dog Leg')
  grid.stand({ row: 3, column: 1 })
  const first = type(grid, '46')
  grid.stand({ row: 3, column: 2 })
  grid.startEdit('i')
  const begun = grid.editing?.key
  answer()
  await first
  expect(grid.editing).toMatchObject({ key: 11, column: 'water', text: 'i' })
  if (grid.editing) grid.editing = { ...grid.editing, text: 'irrigated' }
  // The line that is gone is left by the browser, not by the person.
  await grid.commit(begun)
  expect(grid.editing).not.toBeNull()
  const second = grid.commit(11)
  answer()
  await second
  expect(rows()[3]).toMatchObject({ id: 11, water: 'irrigated' })
})

test('what follows a row that was refused stays with it', async () => {
  let answer = () => {}
  const { grid, rows } = start(
    true,
    () => false,
    () => new Promise((done) => (answer = done)),
  )
  grid.stand({ row: 3, column: 0 })
  await type(grid, 'Creek')
  grid.stand({ row: 3, column: 1 })
  const first = type(grid, '46')
  grid.stand({ row: 3, column: 2 })
  const second = type(grid, 'dryland')
  answer()
  await first
  answer()
  await Promise.resolve()
  answer()
  await second
  expect(rows()).toHaveLength(3)
  expect([...grid.entry.begun.values()]).toEqual([{ name: 'Creek', acres: '46', water: 'dryland' }])
})
