/** Puts back what was left half-typed, once, when it is known, and tells from then on what stands so. Made in a component. */
import { onDestroy, untrack } from 'svelte'
import type { HalfTyped } from './half-typed.ts'

interface Holder {
  halfTyped: HalfTyped
  restore(half: HalfTyped): void
  halfLeft(): HalfTyped
  entry: { again(): Promise<void>; leave(notTaken: () => void): void }
}

interface Keeper {
  /** undefined while it is not known, null where nothing was left */
  left(): HalfTyped | null | undefined
  keep(half: HalfTyped): void
}

export function goOn(grid: Holder, { left, keep }: Keeper): void {
  let isBack = $state(false)
  $effect.pre(() => {
    const half = left()
    if (isBack || half === undefined) return
    untrack(() => {
      if (half) grid.restore(half)
      isBack = true
      if (half) void grid.entry.again()
    })
  })
  $effect(() => {
    const now = grid.halfTyped
    if (isBack) keep(now)
  })
  // A row that is on its way as the page is left would stand there twice when it is come back to.
  onDestroy(() => {
    if (!isBack) return
    const keepLeft = () => keep(grid.halfLeft())
    keepLeft()
    grid.entry.leave(keepLeft)
  })
}
