/**
 * Whether the page is on its way to paper. Sheets that are only ever printed are drawn then and not before, and tables
 * that are drawn bit by bit are drawn whole. Told by the print itself, before the page is laid out for it.
 */
import { flushSync } from 'svelte'

class Printing {
  isOn = $state(false)

  constructor() {
    const turn = (isOn: boolean) => flushSync(() => (this.isOn = isOn))
    addEventListener('beforeprint', () => turn(true))
    addEventListener('afterprint', () => turn(false))
    // A page looked at as on paper without being printed; jsdom has no media.
    if (typeof matchMedia === 'function') {
      const paper = matchMedia('print')
      paper.addEventListener('change', () => turn(paper.matches))
    }
  }
}

/** One for the window. */
export const printing = new Printing()
