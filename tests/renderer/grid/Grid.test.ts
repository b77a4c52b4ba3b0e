/** The table itself: roles, the one tab stop, an edit by keyboard, a refusal that can be read and heard. */
import { cleanup, fireEvent, render, screen, waitFor } from '@testing-library/svelte'
import { afterEach, expect, test, vi } from 'vitest'
import { computedColumn, typedColumn, type Column } from '../../../src-renderer/grid/columns.ts'
import Grid from '../../../src-renderer/grid/Grid.svelte'
import { choice, number, words } from '../../../src-shared/sheet/kind.ts'

interface Row {
  id: number
  name: string
  acres: number
}

const rows: Row[] = [
  { id: 1, name: 'Alder', acres: 38 },
  { id: 2, name: 'Big Sandy', acres: 1142 },
]
const columns: Column<Row>[] = [
  typedColumn({ id: 'name', label: 'Field', kind: words }),
  typedColumn({ id: 'acres', label: 'Planted', unit: 'acres', kind: number() }),
  computedColumn({ id: 'x', label: 'Half', from: 'Acres ÷ 2.', show: (row) => `${row.acres / 2}`, sortBy: () => 0 }),
]

afterEach(cleanup)

function show() {
  const write = vi.fn(async () => ({ refused: [], added: [], problems: [] }))
  render(Grid, {
    label: 'Fields',
    rows,
    columns: columns as unknown as Column<unknown>[],
    keyOf: (row: unknown) => (row as Row).id,
    change: write,
    say: () => undefined,
  })
  return { write, grid: screen.getByRole('grid', { name: 'Fields' }) }
}

const focused = () => document.activeElement as HTMLElement
const cell = (text: string) => screen.getByText(text).closest<HTMLElement>('td, th')!

test('a real table with one tab stop, units in headers, thousands separated', () => {
  const { grid } = show()
  expect(grid.tagName).toBe('TABLE')
  expect(grid.querySelectorAll('[tabindex="0"]')).toHaveLength(1)
  expect(screen.getByRole('columnheader', { name: /Planted\s*acres/ })).toBeTruthy()
  expect(cell('1,142').className).toContain('figure')
  expect(cell('571').getAttribute('aria-readonly')).toBe('true')
})

test('arrows move the focus; typing, then Enter, writes the cell and goes down', async () => {
  const { write } = show()
  cell('Alder').focus()
  await fireEvent.keyDown(focused(), { key: 'ArrowRight' })
  await waitFor(() => expect(focused().textContent?.trim()).toBe('38'))
  await fireEvent.keyDown(focused(), { key: '4' })
  const input = screen.getByRole<HTMLInputElement>('textbox', { name: 'Planted' })
  expect(input.value).toBe('4')
  await fireEvent.input(input, { target: { value: '42' } })
  await fireEvent.keyDown(input, { key: 'Enter' })
  expect(write).toHaveBeenCalledExactlyOnceWith({
    says: 'Change Planted of Alder',
    cells: [{ id: 1, path: 'acres', value: 42, was: 38 }],
    added: [],
    removed: [],
  })
  await waitFor(() => expect(focused().textContent?.trim()).toBe('1,142'))
})

test('where a screen reader puts the focus, one stands: what is typed goes there', async () => {
  const { write, grid } = show()
  cell('Alder').focus()
  cell('1,142').focus()
  await waitFor(() => expect(cell('1,142').tabIndex).toBe(0))
  expect(grid.querySelectorAll('[tabindex="0"]')).toHaveLength(1)
  await fireEvent.keyDown(focused(), { key: '7' })
  const input = screen.getByRole<HTMLInputElement>('textbox', { name: 'Planted' })
  await fireEvent.keyDown(input, { key: 'Enter' })
  expect(write).toHaveBeenCalledWith(
    expect.objectContaining({ cells: [{ id: 2, path: 'acres', value: 7, was: 1142 }] }),
  )
})

test('what is not taken is marked, kept and explained in its cell', async () => {
  const { write } = show()
  cell('38').focus()
  await fireEvent.mouseDown(cell('38'))
  await fireEvent.keyDown(cell('38'), { key: 'x' })
  await fireEvent.keyDown(screen.getByRole('textbox', { name: 'Planted' }), { key: 'Enter' })
  const refused = cell('x')
  expect(refused.getAttribute('aria-invalid')).toBe('true')
  expect(refused.textContent).toContain('is not a number')
  expect(write).not.toHaveBeenCalled()
})

test('a header sorts by click and by Enter, and says which way', async () => {
  show()
  const header = screen.getByRole('columnheader', { name: /Planted/ })
  await fireEvent.click(header)
  expect(header.getAttribute('aria-sort')).toBe('ascending')
  await fireEvent.keyDown(header, { key: 'Enter' })
  expect(header.getAttribute('aria-sort')).toBe('descending')
  const field = screen.getByRole('columnheader', { name: /Field/ })
  await fireEvent.click(field, { shiftKey: true })
  expect(field.textContent).toContain('▲ 2')
  await fireEvent.keyDown(field, { key: 'Enter', shiftKey: true })
  expect(field.getAttribute('aria-sort')).toBe('descending')
  expect(header.textContent).toContain('▼ 1')
})

test('in a list, a name typed on comes to the choice that begins with it', async () => {
  const write = vi.fn(async () => ({ refused: [], added: [], problems: [] }))
  const kind = choice(['Alder', 'Big Sandy', 'Camp House', 'Creek'])
  render(Grid, {
    label: 'Loads',
    rows,
    columns: [typedColumn({ id: 'name', label: 'Field', kind })] as unknown as Column<unknown>[],
    keyOf: (row: unknown) => (row as Row).id,
    change: write,
    say: () => undefined,
  })
  cell('Alder').focus()
  for (const key of 'Cr') await fireEvent.keyDown(focused(), { key })
  await waitFor(() => expect((focused() as HTMLSelectElement).value).toBe('Creek'))
  // No name goes on so: the letter begins a new one, and a blank inside a name is part of it.
  for (const key of 'big s') await fireEvent.keyDown(focused(), { key })
  expect((focused() as HTMLSelectElement).value).toBe('Big Sandy')
  await fireEvent.keyDown(focused(), { key: 'Enter' })
  await waitFor(() => expect(write).toHaveBeenCalledTimes(1))
  expect(write.mock.calls[0]).toMatchObject([{ cells: [{ id: 1, path: 'name', value: 'Big Sandy' }] }])
})

async function refuseAcres(text: string) {
  cell('1,142').focus()
  await fireEvent.keyDown(focused(), { key: text[0]! })
  const input = screen.getByRole<HTMLInputElement>('textbox', { name: 'Planted' })
  await fireEvent.input(input, { target: { value: text } })
  await fireEvent.keyDown(input, { key: 'Enter' })
  await waitFor(() => expect(screen.getByText(text)).toBeTruthy())
  screen.getByText(text).closest<HTMLElement>('td')!.focus()
}

test('a refused cell names the saved value, and Escape shows it again', async () => {
  const { grid } = show()
  await refuseAcres('many')
  await waitFor(() => expect(document.body.textContent).toContain('Saved: 1142. Press Escape to keep it.'))
  await fireEvent.keyDown(focused(), { key: 'Escape' })
  await waitFor(() => expect(grid.querySelector('[aria-invalid]')).toBeNull())
  expect(cell('1,142')).toBeTruthy()
})

test('a refused cell gives way when its saved value changes, as by undo', async () => {
  const shown = (given: Row[]) => ({
    label: 'Fields',
    rows: given,
    columns: columns as unknown as Column<unknown>[],
    keyOf: (row: unknown) => (row as Row).id,
    change: async () => ({ refused: [], added: [], problems: [] }),
    say: () => undefined,
  })
  const { rerender } = render(Grid, shown(rows))
  await refuseAcres('many')
  await rerender(shown([rows[0]!, { ...rows[1]!, name: 'Bigger Sandy' }]))
  expect(screen.getByText('many')).toBeTruthy()
  await rerender(shown([rows[0]!, { ...rows[1]!, acres: 900 }]))
  await waitFor(() => expect(screen.queryByText('many')).toBeNull())
  expect(cell('900')).toBeTruthy()
})

test('a grid that was scrolled as its page is left fails nothing', async () => {
  show()
  const box = screen.getByRole('grid').parentElement as HTMLElement
  const faults: unknown[] = []
  const hear = (event: ErrorEvent) => faults.push(event.message)
  window.addEventListener('error', hear)
  cleanup()
  // The browser tells of it in the next frame.
  await fireEvent.scroll(box)
  window.removeEventListener('error', hear)
  expect(faults).toEqual([])
})
