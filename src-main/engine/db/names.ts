/**
 * Which names the rows of a season have, by their ids and back: kept with what is stored by name, so that a thing may be renamed.
 */
import { sql, type Kysely } from 'kysely'
import { renaming, type Names, type Renaming } from '../../../src-shared/rename.ts'
import type { Tables } from './tables.ts'

/**
 * As text, the same for the same names: two are compared without being read. SQLite forgets that what it sorted is JSON: `json`
 * says so.
 */
export async function namesNow(db: Kysely<Tables>, seasonId: number): Promise<string> {
  const named = (table: 'variety' | 'dealer' | 'planting_window' | 'measure') =>
    sql`json((SELECT json_group_object(CAST(id AS TEXT), name ORDER BY id) FROM ${sql.table(table)} WHERE "seasonId" = ${seasonId}))`
  const { rows } = await sql<{ names: string }>`SELECT json_object(
    'field', json((SELECT json_group_object(CAST(field.id AS TEXT), field.name ORDER BY field.id)
      FROM field_season JOIN field ON field.id = field_season."fieldId" WHERE field_season."seasonId" = ${seasonId})),
    'variety', ${named('variety')},
    'dealer', ${named('dealer')},
    'window', ${named('planting_window')},
    'measure', ${named('measure')}) AS names`.execute(db)
  return (rows[0] as { names: string }).names
}

/** Name → id of the things of a season that others name. */
export async function idsByName(
  db: Kysely<Tables>,
  table: 'dealer' | 'variety' | 'measure',
  seasonId: number,
): Promise<Map<string, number>> {
  const rows = await db.selectFrom(table).where('seasonId', '=', seasonId).select(['name', 'id']).execute()
  return new Map(rows.map(({ name, id }) => [name, id]))
}

/** @param stored as `namesNow` gave it then. @returns null where nothing was renamed since */
export function renamedSince(stored: string, now: string): Renaming | null {
  return stored === now ? null : renaming(JSON.parse(stored) as Partial<Names>, JSON.parse(now) as Names)
}
