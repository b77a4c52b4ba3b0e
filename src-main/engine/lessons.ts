/** All SQL about what was said of lessons. What a lesson is stands in `src-shared/review/lesson.ts`. */
import type { Kysely } from 'kysely'
import type { LessonWord } from '../../src-shared/review/lesson.ts'
import type { Tables } from './db/tables.ts'

/** In the order in which it was said. */
export async function listLessonWords(db: Kysely<Tables>, seasonId: number): Promise<LessonWord[]> {
  return db
    .selectFrom('lesson')
    .where('seasonId', '=', seasonId)
    .select(['key', 'state', 'about', 'old', 'proposed'])
    .orderBy('id')
    .execute()
}

/** In the caller's transaction. */
export async function keepLessonWord(db: Kysely<Tables>, seasonId: number, word: LessonWord): Promise<void> {
  await dropLessonWord(db, seasonId, word.key)
  await db
    .insertInto('lesson')
    .values({ seasonId, ...word })
    .execute()
}

export async function dropLessonWord(db: Kysely<Tables>, seasonId: number, key: string): Promise<void> {
  await db.deleteFrom('lesson').where('seasonId', '=', seasonId).where('key', '=', key).execute()
}
