/** All SQL about what was said of lessons. What a lesson is stands in `src-shared/review/lesson.ts`. */
import type { Kysely } from 'kysely'
import type { LessonWord } from '../../src-shared/review/lesson.ts'
import type { Tables } from './db/tables.ts'

/** The season that is written in, and the crop year that teaches. */
export interface Taught {
  seasonId: number
  fromYear: number
}

/** In the order in which it was said. */
export async function listLessonWords(db: Kysely<Tables>, { seasonId, fromYear }: Taught): Promise<LessonWord[]> {
  return db
    .selectFrom('lesson')
    .where('seasonId', '=', seasonId)
    .where('fromYear', '=', fromYear)
    .select(['key', 'state', 'about', 'old', 'proposed'])
    .orderBy('id')
    .execute()
}

/** In the caller's transaction. */
export async function keepLessonWord(db: Kysely<Tables>, taught: Taught, word: LessonWord): Promise<void> {
  await dropLessonWord(db, taught, word.key)
  await db
    .insertInto('lesson')
    .values({ ...taught, ...word })
    .execute()
}

export async function dropLessonWord(db: Kysely<Tables>, { seasonId, fromYear }: Taught, key: string): Promise<void> {
  await db
    .deleteFrom('lesson')
    .where('seasonId', '=', seasonId)
    .where('fromYear', '=', fromYear)
    .where('key', '=', key)
    .execute()
}
