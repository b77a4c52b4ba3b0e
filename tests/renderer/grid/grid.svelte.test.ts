/** The grid's controller without a table: moving, typing, refusing, pasting, sorting, filtering. */
import { expect, test } from 'vitest'
import type { Problem } from '../../../src-shared/problem.ts'
import {
  choiceColumn,
  computedColumn,
  numberColumn,
  wordsColumn,
  type CellValue,
  type Column,
} from '../../../src-renderer/grid/columns.ts'
import { GridController } from '../../../src-renderer/grid/grid.svelte.ts'

interface Row {
  id: number
  name: string
  acres: number
  water: string
}

const columns: Column<Row>[] = [
  wordsColumn({ id: 'name', label: 'Field', get: (row) => row.name }),
  numberColumn({ id: 'acres', label: 'Acres', get: (row) => row.acres }),
  choiceColumn({ id: 'water', label: 'Water', choices: ['irrigated', 'dryland'], get: (row) => row.water }),
  computedColumn({
    id: 'half',
    label: 'Half',
    isFigure: true,
    from: 'Acres ÷ 2.',
    show: (row) => String(row.acres / 2),
    sortBy: (row) => row.acres / 2,
  }),
]

function start() {
  const rows: Row[] = [
    { id: 1, name: 'Alder', acres: 38, water: 'dryland' },
    { id: 2, name: 'Big Sandy', acres: 1142, water: 'irrigated' },
    { id: 3, name: 'Creek', acres: 88, water: 'irrigated' },
  ]
  const said: string[] = []
  const grid = new GridController<Row>({
    rows: () => rows,
    columns: () => columns,
    keyOf: (row) => row.id,
    async write(row, column, value: CellValue): Promise<Problem[]> {
      if (typeof value === 'number' && value <= 0)
        return [{ code: 'bad-value', what: 'must be more than 0 acres', remedy: '' }]
      Object.assign(row, { [column.id]: value })
      return []
    },
    say: (words) => said.push(words),
  })
  return { grid, rows, said }
}

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

test('typing replaces, Enter goes down, Escape takes back', async () => {
  const { grid, rows } = start()
  grid.stand({ row: 0, column: 1 })
  grid.act({ kind: 'replace', text: '4' }, 10)
  expect(grid.editing).toMatchObject({ key: 1, column: 'acres', text: '4', isReplacing: true })
  grid.editing = { ...grid.editing!, text: '1,250.5 ac' }
  expect(grid.finish({ kind: 'commit', rows: 1, columns: 0 })).toBe(true)
  await Promise.resolve()
  expect(rows[0]?.acres).toBe(1250.5)
  expect(grid.active).toEqual({ row: 1, column: 1 })
  grid.startEdit()
  expect(grid.editing?.text).toBe('1142')
  grid.finish({ kind: 'give-up' })
  expect(grid.editing).toBeNull()
  expect(rows[1]?.acres).toBe(1142)
})

test('what is not taken stays in its cell with the reason, whoever refuses it, and holds nothing else up', async () => {
  const { grid, rows, said } = start()
  grid.stand({ row: 0, column: 1 })
  await type(grid, '12,5')
  expect(grid.refusedAt(rows[0]!, columns[1]!)).toMatchObject({
    text: '12,5',
    why: expect.stringContaining('two ways'),
  })
  grid.stand({ row: 1, column: 1 })
  await type(grid, '-3')
  expect(grid.refusedAt(rows[1]!, columns[1]!)).toEqual({ text: '-3', why: 'must be more than 0 acres' })
  expect(rows.map((row) => row.acres)).toEqual([38, 1142, 88])
  grid.stand({ row: 2, column: 1 })
  await type(grid, '90')
  expect(rows[2]?.acres).toBe(90)
  expect(said).toHaveLength(2)
  // Opened again, what was typed is there to be mended; Escape forgets it.
  grid.stand({ row: 0, column: 1 })
  grid.startEdit()
  expect(grid.editing?.text).toBe('12,5')
  grid.giveUp()
  expect(grid.refusedAt(rows[0]!, columns[1]!)).toBeUndefined()
})

test('a worked-out cell is not typed in, and says where it comes from', () => {
  const { grid, said } = start()
  grid.stand({ row: 0, column: 3 })
  grid.startEdit('5')
  expect(grid.editing).toBeNull()
  expect(said).toEqual(['Half cannot be typed here. Acres ÷ 2.'])
})

test('a block is copied as it is typed, and pasted each cell through its own column', async () => {
  const { grid, rows, said } = start()
  grid.stand({ row: 0, column: 0 })
  grid.stand({ row: 1, column: 2 }, true)
  expect(grid.copy()).toBe('Alder\t38\tdryland\nBig Sandy\t1142\tirrigated')
  grid.stand({ row: 1, column: 0 })
  await grid.paste('East\t$70\tDryland\tx\nWest\tmany\tsea\tx\nbeyond\t1\tdryland\tx\n')
  expect(rows[1]).toMatchObject({ name: 'East', acres: 70, water: 'dryland' })
  expect(rows[2]).toMatchObject({ name: 'West', acres: 88, water: 'irrigated' })
  expect(said.at(-1)).toBe('4 cells pasted, 2 not taken, 2 cannot be typed')
})

test('one value fills all that is marked', async () => {
  const { grid, rows } = start()
  grid.stand({ row: 0, column: 2 })
  grid.stand({ row: 2, column: 2 }, true)
  await grid.paste('dryland')
  expect(rows.map((row) => row.water)).toEqual(['dryland', 'dryland', 'dryland'])
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
  expect(grid.sort).toBeNull()
  expect(names()).toEqual(['Alder', 'Big Sandy', 'Creek'])
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
