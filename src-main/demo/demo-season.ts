/** The demo farm: an invented county, farm, dealers and varieties, read from the files beside this one. */
import { valueOf } from '../../src-shared/problem.ts'
import type { Season } from '../../src-shared/season.ts'
import { seasonFromFiles } from '../engine/import/season-from-files.ts'
import boundaries from './boundaries.geojson?raw'
import dealers from './dealers.csv?raw'
import fields from './fields.csv?raw'
import house from './house.json?raw'
import measures from './measures.csv?raw'
import quotes from './quotes.csv?raw'
import varieties from './varieties.csv?raw'

/** Throws if the files that ship with the program do not read: that is a bug, and a test keeps it away. */
export function demoSeason(): Season {
  return valueOf(
    seasonFromFiles({
      'fields.csv': fields,
      'varieties.csv': varieties,
      'dealers.csv': dealers,
      'quotes.csv': quotes,
      'measures.csv': measures,
      'boundaries.geojson': boundaries,
      'house.json': house,
    }),
  )
}
