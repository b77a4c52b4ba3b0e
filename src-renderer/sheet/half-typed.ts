/**
 * Half-typed cells over a restart: in the browser's own store, by farm, season and sheet, because they are not the farm's
 * yet. What is spoilt there, or refused by a full store, is forgotten and hinders nothing.
 */
import { isEmpty, type HalfTyped } from '../grid/half-typed.ts'

const keyOf = (place: string) => `half-typed ${place}`

export function readHalfTyped(place: string): HalfTyped | null {
  try {
    const kept = JSON.parse(localStorage.getItem(keyOf(place)) ?? 'null') as HalfTyped | null
    return kept && Array.isArray(kept.begun) && Array.isArray(kept.refused) ? kept : null
  } catch {
    return null
  }
}

export function keepHalfTyped(place: string, half: HalfTyped): void {
  try {
    if (isEmpty(half)) localStorage.removeItem(keyOf(place))
    else localStorage.setItem(keyOf(place), JSON.stringify(half))
  } catch {
    // A store that is full or shut: then it is lost with the window, as in any other program.
  }
}
