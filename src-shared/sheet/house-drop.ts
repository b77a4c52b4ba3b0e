/**
 * What seed costs and weighs an acre where nothing is said of a field: the house drop of the book on the rows that
 * most of the farm's acres have. For comparing varieties and quotes; a plan counts field by field.
 */
import { rowPatterns, type Field, type RowPattern } from '../field.ts'
import { seedsPerAcre } from '../agronomy/seed.ts'

export interface HouseDrop {
  rowPattern: RowPattern
  /** [inch] */
  rowSpacingIn: number
  /** [seeds/ft of row position] */
  seedsPerFoot: number
  /** [seeds/acre] */
  seedsPerAcre: number
}

/** Single rows 36 inches apart where there are no fields yet; of two with the same acres the narrower and single rows. */
export function houseDropOf(
  fields: readonly Pick<Field, 'acres' | 'rowPattern' | 'rowSpacingIn'>[],
  seedsPerFoot: Record<RowPattern, number>,
): HouseDrop {
  const acresOf = new Map<string, { rowPattern: RowPattern; rowSpacingIn: number; acres: number }>()
  for (const { rowPattern, rowSpacingIn, acres } of fields) {
    const key = `${rowPattern} ${rowSpacingIn}`
    const known = acresOf.get(key)
    if (known) known.acres += acres
    else acresOf.set(key, { rowPattern, rowSpacingIn, acres })
  }
  const [most] = [...acresOf.values()].sort(
    (one, other) =>
      other.acres - one.acres ||
      one.rowSpacingIn - other.rowSpacingIn ||
      rowPatterns.indexOf(one.rowPattern) - rowPatterns.indexOf(other.rowPattern),
  )
  const { rowPattern, rowSpacingIn } = most ?? { rowPattern: 'single' as const, rowSpacingIn: 36 }
  const drop = seedsPerFoot[rowPattern]
  return { rowPattern, rowSpacingIn, seedsPerFoot: drop, seedsPerAcre: seedsPerAcre(drop, rowSpacingIn) }
}
