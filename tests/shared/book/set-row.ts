/** A season with one row of its book set; a test that sets what does not fit is wrong. */
import { setAssumption } from '../../../src-shared/book/ledger.ts'
import type { Season } from '../../../src-shared/season.ts'

export function set(season: Season, key: string, value: number | string, source?: string): Season {
  const changed = setAssumption(season, key, { value, ...(source === undefined ? {} : { source }) })
  if (!changed.ok) throw new Error(JSON.stringify(changed.problems))
  return changed.value
}
