/** The grid's controller without a table: moving, typing, refusing, pasting, filling, adding, removing, sorting. */
import { expect, test } from 'vitest'
import { fromText } from '../../../src-renderer/grid/clipboard.ts'
import { typedColumn } from '../../../src-renderer/grid/columns.ts'
import { GridController } from '../../../src-renderer/grid/grid.svelte.ts'
import { number } from '../../../src-shared/sheet/kind.ts'
import { columns, start, type, type Row } from './three-fields.svelte.ts'

const line = (grid: GridController<Row>, row: number) => grid.lines[row]!

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
  await expect.poll(() => rows()[0]?.acres).toBe(1250.5)
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
    saved: '1142',
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
  await expect.poll(() => rows().map((row) => row.acres)).toEqual([38, 38, 38])
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
