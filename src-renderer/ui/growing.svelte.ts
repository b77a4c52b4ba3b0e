/**
 * Rows of a long table, drawn bit by bit: what is in sight with the page itself, the rest with the frames that follow, so
 * that nobody waits for three hundred rows to see the first. On paper all are there. Made in a component.
 */
import { printing } from './printing.svelte.ts'

const first = 30
/** [row] a frame's worth: more would be felt while scrolling. */
const step = 40

export class Growing<Row> {
  #drawn = $state(first)
  readonly #all: () => readonly Row[]
  readonly rows: readonly Row[] = $derived.by(() => {
    const all = this.#all()
    return printing.isOn || all.length <= this.#drawn ? all : all.slice(0, this.#drawn)
  })

  /** @param all a function, so that what it reads is followed */
  constructor(all: () => readonly Row[]) {
    this.#all = all
    $effect(() => {
      if (this.#all().length <= this.#drawn) return
      const next = requestAnimationFrame(() => (this.#drawn += step))
      return () => cancelAnimationFrame(next)
    })
  }
}
