/** Rows of a farm's book that nothing reads: a key mistyped in a file, or a threat that was renamed. Said, not dropped. */
import type { Problem } from '../problem.ts'
import type { Season } from '../season.ts'
import { starterBook } from './starter.ts'
import { isRowOf } from './topic.ts'

const known = new Set(starterBook.map((row) => row.key))

/** One problem for each such row, in the season's order. */
export function unreadRows(season: Pick<Season, 'assumptions' | 'threats'>): Problem[] {
  return season.assumptions
    .filter(({ key }) => !known.has(key) && !season.threats.some((threat) => isRowOf(threat, key)))
    .map(({ key }) => ({
      code: 'unknown-name',
      what: `Nothing reads the row “${key}” of the farm's book.`,
      where: { table: 'assumption', path: key },
      remedy: 'Correct its key, or remove it.',
    }))
}
