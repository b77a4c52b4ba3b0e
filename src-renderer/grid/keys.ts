/**
 * Key presses → what the grid is to do: the W3C grid pattern with a spreadsheet's habits on top. Pure; null means
 * that the key is not the grid's and goes on to whoever wants it.
 */
export interface Press {
  key: string
  /** Ctrl, or Cmd on a Mac. */
  command: boolean
  shift: boolean
  alt: boolean
}

type KeyEvent = Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'shiftKey' | 'altKey'>

export function pressOf({ key, ctrlKey, metaKey, shiftKey, altKey }: KeyEvent): Press {
  return { key, command: ctrlKey || metaKey, shift: shiftKey, alt: altKey }
}

export type Edge = 'row-start' | 'row-end' | 'first' | 'last' | 'column-start' | 'column-end'

export type GridAction =
  | { kind: 'move'; rows: number; columns: number; extend: boolean }
  | { kind: 'page'; pages: 1 | -1; extend: boolean }
  | { kind: 'edge'; edge: Edge; extend: boolean }
  | { kind: 'tab'; step: 1 | -1 }
  /** On a header it sorts: further, within what is sorted by already. */
  | { kind: 'edit'; isFurther?: true }
  | { kind: 'replace'; text: string }
  | { kind: 'clear' }
  | { kind: 'select'; what: 'all' | 'row' | 'column' }
  | { kind: 'collapse' }
  | { kind: 'fill-down' }
  | { kind: 'remove-rows' }
  | { kind: 'width'; step: 1 | -1 }

export type EditAction =
  { kind: 'commit'; rows: number; columns: number } | { kind: 'tab'; step: 1 | -1 } | { kind: 'give-up' }

const arrows: Record<string, [rows: number, columns: number, edge: Edge]> = {
  ArrowUp: [-1, 0, 'column-start'],
  ArrowDown: [1, 0, 'column-end'],
  ArrowLeft: [0, -1, 'row-start'],
  ArrowRight: [0, 1, 'row-end'],
}

/** While a cell is looked at. */
export function gridAction({ key, command, shift, alt }: Press): GridAction | null {
  if (alt) {
    // Also for those who cannot drag a column's edge.
    const step = key === 'ArrowRight' ? 1 : key === 'ArrowLeft' ? -1 : null
    return shift && !command && step ? { kind: 'width', step } : null
  }
  const arrow = arrows[key]
  if (arrow) {
    const [rows, columns, edge] = arrow
    return command ? { kind: 'edge', edge, extend: shift } : { kind: 'move', rows, columns, extend: shift }
  }
  switch (key) {
    case 'Home':
      return { kind: 'edge', edge: command ? 'first' : 'row-start', extend: shift }
    case 'End':
      return { kind: 'edge', edge: command ? 'last' : 'row-end', extend: shift }
    case 'PageUp':
      return { kind: 'page', pages: -1, extend: shift }
    case 'PageDown':
      return { kind: 'page', pages: 1, extend: shift }
    case 'Tab':
      return command ? null : { kind: 'tab', step: shift ? -1 : 1 }
    case 'Enter':
    case 'F2':
      if (command) return null
      return shift && key === 'Enter' ? { kind: 'edit', isFurther: true } : { kind: 'edit' }
    case 'Delete':
    case 'Backspace':
      return command ? (key === 'Delete' ? { kind: 'remove-rows' } : null) : { kind: 'clear' }
    case 'Escape':
      return { kind: 'collapse' }
    case ' ':
      if (command) return { kind: 'select', what: 'column' }
      return shift ? { kind: 'select', what: 'row' } : { kind: 'replace', text: '' }
  }
  if (command) {
    if (shift) return null
    if (key.toLowerCase() === 'a') return { kind: 'select', what: 'all' }
    return key.toLowerCase() === 'd' ? { kind: 'fill-down' } : null
  }
  // One character, counted as people count: a letter with its accent is one.
  return [...key].length === 1 ? { kind: 'replace', text: key } : null
}

/** While a cell is typed in. All else belongs to the input. */
export function editAction({ key, command, shift, alt }: Press): EditAction | null {
  if (command || alt) return null
  if (key === 'Escape') return { kind: 'give-up' }
  if (key === 'Enter') return { kind: 'commit', rows: shift ? -1 : 1, columns: 0 }
  if (key === 'Tab') return { kind: 'tab', step: shift ? -1 : 1 }
  return null
}
