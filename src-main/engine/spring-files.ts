/** Planned seed by field, written for a spreadsheet, a map and a terminal. */
import { ProblemError } from '../../src-shared/problem.ts'
import type { WrittenFile } from '../../src-shared/sheet/bring-in.ts'
import { plannedSeedCsv, plannedSeedGeoJson } from './export/planned-seed.ts'
import { taskData } from './export/task-data.ts'
import { writtenFile } from './export/written-file.ts'
import type { OpenFarm } from './farm-file.ts'
import { gather } from './plan/gather.ts'
import { ratesNow } from './spring-rates.ts'

export async function springFile(
  farm: OpenFarm,
  as: 'csv' | 'geojson' | 'task data',
  today: string,
): Promise<WrittenFile> {
  const { blocks } = await ratesNow(farm, today)
  if (blocks.length === 0) {
    throw new ProblemError([
      {
        code: 'missing',
        what: 'There is no plan, so there is no seed by field to write.',
        remedy: 'Work out the plan first.',
      },
    ])
  }
  const season = await gather(farm.db, farm.seasonId)
  const name = `Planned seed ${season.season}`
  if (as === 'csv') return writtenFile(name, as, plannedSeedCsv(blocks))
  if (as === 'geojson') {
    const text = plannedSeedGeoJson(blocks, (field) => season.fields.find((each) => each.name === field)?.boundary)
    return writtenFile(name, as, text)
  }
  const text = taskData({ farm: season.farm.name, season: season.season, blocks, fields: season.fields })
  // The standard's own name: terminals look for no other.
  return writtenFile('TASKDATA', 'XML', text)
}
