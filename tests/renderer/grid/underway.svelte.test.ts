/** Rows on their way into the farm: what is typed in them meanwhile follows, and none is there twice or lost. */
import { flushSync } from 'svelte'
import { expect, test } from 'vitest'
import { GridController } from '../../../src-renderer/grid/grid.svelte.ts'
import { columns, start, startSlowly, type, type Row } from './three-fields.svelte.ts'

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
  holdList(false)
  await Promise.all([first.comes, second])
  expect(rows().slice(3)).toEqual([{ id: 11, name: 'Dog Leg', acres: 46, water: 'irrigated' }])
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

test('a value typed over another that is not answered yet stands, and the one of before is sent as well', async () => {
  const answers: (() => void)[] = []
  const { grid, rows, changes } = start(
    false,
    () => true,
    () => new Promise((done) => answers.push(done)),
  )
  const typed = () => grid.entry.typedIn(grid.lines[0]!, columns[1]!)
  grid.stand({ row: 0, column: 1 })
  const first = type(grid, '40')
  expect(typed()).toBe('40')
  // Back to what the list still has.
  const second = type(grid, '38')
  // What was seen goes along; after a change of one's own that is on its way it is that one.
  expect(changes.map(({ cells }) => cells)).toEqual([
    [{ id: 1, path: 'acres', value: 40, was: 38 }],
    [{ id: 1, path: 'acres', value: 38 }],
  ])
  answers.shift()?.()
  await first
  expect(typed()).toBe('38')
  answers.shift()?.()
  await second
  expect([typed(), rows()[0]?.acres]).toEqual(['38', 38])
  expect(grid.entry.sent.size).toBe(0)
})

test('a cell says what was in it as its typing began, and keeps the text where another has changed it since', async () => {
  const { grid, changes, setRow } = start()
  grid.stand({ row: 0, column: 1 })
  grid.startEdit('')
  grid.editing = { ...grid.editing!, text: '40' }
  // Another window writes 39 before Enter is pressed.
  setRow({ id: 1, name: 'Alder', acres: 39, water: 'dryland' })
  await grid.commit()
  expect(changes[0]?.cells).toEqual([{ id: 1, path: 'acres', value: 40, was: 38 }])
  expect(grid.entry.refusedAt(1, 'acres')).toMatchObject({ text: '40', saved: '39' })
  grid.entry.dropOutdated()
  expect(grid.entry.refusedAt(1, 'acres')).toBeDefined()
  // Typed once more, over what is seen now.
  await type(grid, '40')
  expect(changes[1]?.cells).toEqual([{ id: 1, path: 'acres', value: 40, was: 39 }])
})
