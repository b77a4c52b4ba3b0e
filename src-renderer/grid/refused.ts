/** What was typed and not taken, by cell, each with the reason and what to do. Values are replaced, never changed in place. Pure. */

export interface Refused {
  text: string
  why: string
  /** What to do about it. */
  remedy?: string
  /** The saved value, as it would be typed; absent in a row that is not in the farm yet. */
  saved?: string | undefined
}

export type RefusedCells = ReadonlyMap<string, Refused>

export const noneRefused: RefusedCells = new Map()

/** The same with these cells' refusals noted or, with null, forgotten; the very same map where nothing changes. */
export function withRefused(
  cells: RefusedCells,
  notes: readonly (readonly [address: string, refused: Refused | null])[],
): RefusedCells {
  if (notes.every(([address, refused]) => !refused && !cells.has(address))) return cells
  const next = new Map(cells)
  for (const [address, refused] of notes) {
    if (refused) next.set(address, refused)
    else next.delete(address)
  }
  return next
}
