/** What was typed and not taken, by cell, each with the reason. Values are replaced, never changed in place. Pure. */

export interface Refused {
  text: string
  why: string
}

export type RefusedCells = ReadonlyMap<string, Refused>

export const noneRefused: RefusedCells = new Map()

/** The same with one cell's refusal noted or, with null, forgotten; the very same map where nothing changes. */
export function withRefused(cells: RefusedCells, address: string, refused: Refused | null): RefusedCells {
  if (!refused && !cells.has(address)) return cells
  const next = new Map(cells)
  if (refused) next.set(address, refused)
  else next.delete(address)
  return next
}
