/** All SQL about fields of one season: ground, history, pressure, windows. */
import type { Kysely } from 'kysely'
import { yearsOut, type Boundary, type Field, type FieldRow } from '../../src-shared/field.ts'
import { byPosition } from '../../src-shared/name-order.ts'
import { byText, withoutNulls } from './db/row.ts'
import type { Tables } from './db/tables.ts'
import { boundaryAcres } from './import/boundary-area.ts'

export type StoredField = Field & { id: number }

/** Every field of the season with all that is known of it, in no order. `id` is the ground's: it stays over seasons. */
export async function readFields(db: Kysely<Tables>, seasonId: number): Promise<StoredField[]> {
  const rows = await db
    .selectFrom('field_season')
    .innerJoin('field', 'field.id', 'field_season.fieldId')
    .leftJoin('field_boundary', 'field_boundary.fieldId', 'field.id')
    .innerJoin('season', 'season.id', 'field_season.seasonId')
    .where('field_season.seasonId', '=', seasonId)
    .selectAll('field_season')
    .select(['season.year', 'season.state'])
    .select(['field.name', 'field_boundary.geometry'])
    .execute()
  const history = await db
    .selectFrom('crop_history')
    .select(['fieldId', 'year', 'crop'])
    .orderBy('year', 'desc')
    .orderBy('crop')
    .execute()
  const pressure = await db
    .selectFrom('field_pressure')
    .innerJoin('threat', 'threat.id', 'field_pressure.threatId')
    .where('threat.seasonId', '=', seasonId)
    .select(['field_pressure.fieldSeasonId', 'threat.name', 'field_pressure.level'])
    .execute()
  const windows = await db
    .selectFrom('field_window')
    .innerJoin('planting_window', 'planting_window.id', 'field_window.windowId')
    .where('planting_window.seasonId', '=', seasonId)
    .select(['field_window.fieldSeasonId', 'planting_window.name'])
    .execute()
  const [historyOf, pressureOf, windowsOf] = [
    Map.groupBy(history, (row) => row.fieldId),
    Map.groupBy(pressure, (row) => row.fieldSeasonId),
    Map.groupBy(windows, (row) => row.fieldSeasonId),
  ]
  return rows.map((row): StoredField => {
    const {
      id,
      fieldId,
      seasonId: _,
      geometry,
      dropKind,
      dropPerFoot,
      leastBlockAcres,
      mostVarieties,
      name,
      year,
      state,
      rests,
      ...plain
    } = row
    const levels = (pressureOf.get(id) ?? []).sort(byText((entry) => entry.name))
    return {
      id: fieldId,
      name,
      ...withoutNulls(plain),
      rests: rests === 1,
      ...(geometry === null ? {} : { boundary: JSON.parse(geometry) as Boundary }),
      // History is the ground's and goes on; a closed season reads as it was.
      history: (historyOf.get(fieldId) ?? [])
        .filter((grown) => state === 'open' || grown.year < year)
        .map((grown) => ({ season: grown.year, crop: grown.crop })),
      pressure: Object.fromEntries(levels.map((entry) => [entry.name, entry.level])),
      windows: (windowsOf.get(id) ?? []).map((entry) => entry.name).sort(),
      ...dropOf(dropKind, dropPerFoot),
      ...(leastBlockAcres === null || mostVarieties === null ? {} : { split: { leastBlockAcres, mostVarieties } }),
    }
  })
}

function dropOf(kind: 'fixed' | 'stand' | null, perFoot: number | null): Pick<Field, 'drop'> {
  if (kind === null || perFoot === null) return {}
  return { drop: kind === 'fixed' ? { kind, seedsPerFoot: perFoot } : { kind, plantsPerFoot: perFoot } }
}

/** The rows of the grid. */
export async function listFields(db: Kysely<Tables>, seasonId: number): Promise<FieldRow[]> {
  const { year } = await db.selectFrom('season').where('id', '=', seasonId).select('year').executeTakeFirstOrThrow()
  const locks = await db
    .selectFrom('field_lock')
    .innerJoin('field_season', 'field_season.id', 'field_lock.fieldSeasonId')
    .innerJoin('variety', 'variety.id', 'field_lock.varietyId')
    .where('field_season.seasonId', '=', seasonId)
    .where('field_lock.acres', 'is', null)
    .select(['field_season.fieldId', 'variety.name'])
    .orderBy('field_lock.id')
    .execute()
  const exclusions = await db
    .selectFrom('exclusion')
    .innerJoin('field_season', 'field_season.id', 'exclusion.fieldSeasonId')
    .innerJoin('variety', 'variety.id', 'exclusion.varietyId')
    .where('exclusion.seasonId', '=', seasonId)
    .where('exclusion.windowId', 'is', null)
    .select(['field_season.fieldId', 'variety.name'])
    .orderBy('variety.name')
    .execute()
  const lockOf = Map.groupBy(locks, (row) => row.fieldId)
  const keptOff = Map.groupBy(exclusions, (row) => row.fieldId)
  const fields = (await readFields(db, seasonId)).sort(byPosition(({ name }) => name))
  return fields.map((field) => ({
    ...field,
    lockedTo: lockOf.get(field.id)?.[0]?.name ?? null,
    keptOff: (keptOff.get(field.id) ?? []).map((row) => row.name),
    yearsOut: yearsOut(field.history, year),
    ...(field.boundary ? { boundaryAcres: boundaryAcres(field.boundary) } : {}),
  }))
}
