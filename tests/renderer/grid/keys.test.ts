/** The W3C grid keys and the spreadsheet habits on top, key by key. */
import { describe, expect, test } from 'vitest'
import { editAction, gridAction, type Press } from '../../../src-renderer/grid/keys.ts'

/** "Ctrl+Shift+End" as a press. */
function press(text: string): Press {
  const parts = text.split('+')
  const key = parts.pop() || '+'
  return { key, command: parts.includes('Ctrl'), shift: parts.includes('Shift'), alt: parts.includes('Alt') }
}

describe('a cell that is looked at', () => {
  test.each([
    ['ArrowDown', { kind: 'move', rows: 1, columns: 0, extend: false }],
    ['Shift+ArrowLeft', { kind: 'move', rows: 0, columns: -1, extend: true }],
    ['Ctrl+ArrowUp', { kind: 'edge', edge: 'column-start', extend: false }],
    ['Home', { kind: 'edge', edge: 'row-start', extend: false }],
    ['End', { kind: 'edge', edge: 'row-end', extend: false }],
    ['Ctrl+Home', { kind: 'edge', edge: 'first', extend: false }],
    ['Ctrl+Shift+End', { kind: 'edge', edge: 'last', extend: true }],
    ['PageDown', { kind: 'page', pages: 1, extend: false }],
    ['Tab', { kind: 'tab', step: 1 }],
    ['Shift+Tab', { kind: 'tab', step: -1 }],
    ['Enter', { kind: 'edit' }],
    ['F2', { kind: 'edit' }],
    ['Delete', { kind: 'clear' }],
    ['7', { kind: 'replace', text: '7' }],
    ['Shift+Ä', { kind: 'replace', text: 'Ä' }],
    ['-', { kind: 'replace', text: '-' }],
    ['Ctrl+a', { kind: 'select', what: 'all' }],
    ['Ctrl+ ', { kind: 'select', what: 'column' }],
    ['Shift+ ', { kind: 'select', what: 'row' }],
    ['Escape', { kind: 'collapse' }],
    ['Ctrl+d', { kind: 'fill-down' }],
    ['Ctrl+Delete', { kind: 'remove-rows' }],
    ['Shift+Alt+ArrowRight', { kind: 'width', step: 1 }],
    ['Shift+Alt+ArrowLeft', { kind: 'width', step: -1 }],
  ])('%s', (text, action) => expect(gridAction(press(text))).toEqual(action))

  test.each(['Ctrl+z', 'Ctrl+c', 'Ctrl+v', 'Ctrl+Shift+z', 'Alt+ArrowLeft', 'F5', 'Shift', 'Control', 'Ctrl+Tab'])(
    '%s is not the grid’s',
    (text) => expect(gridAction(press(text))).toBeNull(),
  )
})

describe('a cell that is typed in', () => {
  test.each([
    ['Enter', { kind: 'commit', rows: 1, columns: 0 }],
    ['Shift+Enter', { kind: 'commit', rows: -1, columns: 0 }],
    ['Tab', { kind: 'tab', step: 1 }],
    ['Shift+Tab', { kind: 'tab', step: -1 }],
    ['Escape', { kind: 'give-up' }],
  ])('%s', (text, action) => expect(editAction(press(text))).toEqual(action))

  test.each(['ArrowLeft', 'Home', 'Delete', 'a', 'Ctrl+z'])('%s is the input’s', (text) =>
    expect(editAction(press(text))).toBeNull(),
  )
})
