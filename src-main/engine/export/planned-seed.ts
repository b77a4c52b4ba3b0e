/** Planned seed by field as a table and as GeoJSON, lots named where there is a place for them. */
import type { Boundary } from '../../../src-shared/field.ts'
import type { RateBlock } from '../../../src-shared/rates.ts'
import { writeCsv, type TableCell } from './write-csv.ts'

const headers = [
  'Field',
  'Variety',
  'Window',
  'Acres',
  'Row pattern',
  'Row spacing (in)',
  'Seeds per foot of row',
  'Seeds per acre',
  'Seed (lb/ac)',
  'Seed (lb)',
  'Rate from',
  'Lots on hand',
] as const

const rounded = (value: number, decimals: number) => Number(value.toFixed(decimals))

export function plannedSeedCsv(blocks: readonly RateBlock[]): Buffer {
  const rows = blocks.map((block): TableCell[] => [
    block.field,
    block.variety,
    block.window,
    block.acres,
    block.rowPattern,
    block.rowSpacingIn,
    rounded(block.set.seedsPerFoot, 2),
    Math.round(block.set.seedsPerAcre),
    rounded(block.set.poundsPerAcre, 1),
    rounded(block.set.poundsPerAcre * block.acres, 0),
    block.set.from,
    block.set.lots.join('; '),
  ])
  return writeCsv(headers, rows)
}

/** RFC 7946: a field without a boundary is a feature without a place, which the format allows. */
export function plannedSeedGeoJson(
  blocks: readonly RateBlock[],
  boundaryOf: (field: string) => Boundary | undefined,
): string {
  const features = blocks.map((block) => ({
    type: 'Feature',
    geometry: boundaryOf(block.field) ?? null,
    properties: {
      field: block.field,
      variety: block.variety,
      window: block.window,
      acres: block.acres,
      rowPattern: block.rowPattern,
      rowSpacingInches: block.rowSpacingIn,
      seedsPerFootOfRow: rounded(block.set.seedsPerFoot, 2),
      seedsPerAcre: Math.round(block.set.seedsPerAcre),
      seedPoundsPerAcre: rounded(block.set.poundsPerAcre, 1),
      rateFrom: block.set.from,
      lots: block.set.lots,
    },
  }))
  return `${JSON.stringify({ type: 'FeatureCollection', features }, null, 2)}\n`
}
