/** All SQL about the seasons of a farm: which there are, the one that is written in, what hangs on one. */
import type { Kysely } from 'kysely'
import { ProblemError, type Problem } from '../../src-shared/problem.ts'
import type { Connection } from './db/connect.ts'
import type { Tables } from './db/tables.ts'

export interface StoredSeason {
  id: number
  year: number
  isOpen: boolean
}

/** Newest first. */
export async function listSeasons(db: Kysely<Tables>): Promise<StoredSeason[]> {
  const rows = await db.selectFrom('season').select(['id', 'year', 'state']).orderBy('year', 'desc').execute()
  return rows.map(({ id, year, state }) => ({ id, year, isOpen: state === 'open' }))
}

/** @returns its crop year; refused where the farm has no such season */
export async function requireSeason(db: Kysely<Tables>, id: number): Promise<number> {
  const season = (await listSeasons(db)).find((each) => each.id === id)
  if (season === undefined) throw new ProblemError([noSeason])
  return season.year
}

const noSeason: Problem = {
  code: 'unknown-name',
  what: 'That season is not in this farm.',
  where: { table: 'season' },
  remedy: 'Look at the list again; it may have been taken back.',
}

/** The season that is written in: after an undo it may be another. */
export function openSeasonId(connection: Connection): number {
  const id = connection.prepare(`SELECT id FROM season WHERE state = 'open'`).pluck().get() as number | undefined
  if (id === undefined) throw new Error('The farm has no open season.')
  return id
}

/** Closed for reading, before the next is begun: one season at a time is written in. */
export function closeSeason(connection: Connection, seasonId: number): void {
  connection.prepare(`UPDATE season SET state = 'closed' WHERE id = ?`).run(seasonId)
}

/** Field name → the ground's id, of one season. */
export async function groundIds(db: Kysely<Tables>, seasonId: number): Promise<Map<string, number>> {
  const rows = await db
    .selectFrom('field_season')
    .innerJoin('field', 'field.id', 'field_season.fieldId')
    .where('field_season.seasonId', '=', seasonId)
    .select(['field.name', 'field.id'])
    .execute()
  return new Map(rows.map(({ name, id }) => [name, id]))
}

/** What a season has that the next begins without. */
export async function countBehind(db: Kysely<Tables>, seasonId: number) {
  const count = async (table: 'quote' | 'contract' | 'exclusion' | 'draft' | 'purchase_order') =>
    (
      await db
        .selectFrom(table)
        .where('seasonId', '=', seasonId)
        .select(({ fn }) => fn.countAll<number>().as('count'))
        .executeTakeFirstOrThrow()
    ).count
  const locks = await db
    .selectFrom('field_lock')
    .innerJoin('field_season', 'field_season.id', 'field_lock.fieldSeasonId')
    .where('field_season.seasonId', '=', seasonId)
    .select(({ fn }) => fn.countAll<number>().as('count'))
    .executeTakeFirstOrThrow()
  return {
    quotes: await count('quote'),
    contracts: await count('contract'),
    locks: locks.count + (await count('exclusion')),
    drafts: await count('draft'),
    orders: await count('purchase_order'),
  }
}

/** True where the step that would be taken back is the one that began a season. */
export function wouldUnroll(connection: Connection): boolean {
  const sql = `SELECT 1 FROM undo_change WHERE tableName = 'season' AND before IS NULL
    AND undoStepId = (SELECT max(id) FROM undo_step WHERE isUndone = 0)`
  return connection.prepare(sql).get() !== undefined
}

/** Plans are kept outside of undo: a season that has one is not taken back. */
export function hasPlan(connection: Connection, seasonId: number): boolean {
  return connection.prepare('SELECT 1 FROM plan WHERE seasonId = ? LIMIT 1').get(seasonId) !== undefined
}
