/** What is written of a lot: the items of its tag, and its germination tests with their replicates. */
import type { Kysely } from 'kysely'
import { germinationOf, type GivenTest } from '../../src-shared/germination-test.ts'
import { ProblemError } from '../../src-shared/problem.ts'
import { gone, inFuture } from '../../src-shared/record-problem.ts'
import type { Tag } from '../../src-shared/tag.ts'
import type { Tables } from './db/tables.ts'

/** Writes what stands on a lot's tag, in place of what was there. */
export async function saveTag(
  db: Kysely<Tables>,
  seasonId: number,
  lotId: number,
  tag: Tag | null,
  today: string,
): Promise<void> {
  await requireLot(db, seasonId, lotId)
  if (tag?.testedIn && tag.testedIn > today.slice(0, 7)) {
    throw new ProblemError([
      {
        code: 'bad-value',
        what: `The tag says tested in ${tag.testedIn}, which is still to come.`,
        where: { table: 'tag', column: 'testedIn' },
        remedy: 'Read the month and year of the test again.',
      },
    ])
  }
  await db.deleteFrom('tag').where('lotId', '=', lotId).execute()
  if (tag === null) return
  const row = { ...tag, isHermetic: Number(tag.isHermetic), isTreated: Number(tag.isTreated) }
  await db
    .insertInto('tag')
    .values({ lotId, ...row })
    .execute()
}

/** A test with its replicates, new or in place of one. @returns its id */
export async function saveTest(
  db: Kysely<Tables>,
  seasonId: number,
  { id, lotId, test, today }: { id?: number | undefined; lotId: number; test: GivenTest; today: string },
): Promise<number> {
  await requireLot(db, seasonId, lotId)
  if (test.testedOn > today) {
    throw new ProblemError([inFuture('The test', test.testedOn, { table: 'germination_test', column: 'testedOn' })])
  }
  const { replicates, ...plain } = test
  const row = { ...plain, germination: test.germination ?? germinationOf(replicates) }
  if (id !== undefined) await removeTest(db, seasonId, id)
  const made = await db
    .insertInto('germination_test')
    .values({ ...(id === undefined ? {} : { id }), lotId, ...row })
    .returning('id')
    .executeTakeFirstOrThrow()
  for (const [at, replicate] of replicates.entries()) {
    await db
      .insertInto('germination_replicate')
      .values({ germinationTestId: made.id, ordinal: at + 1, ...replicate })
      .execute()
  }
  return made.id
}

export async function removeTest(db: Kysely<Tables>, seasonId: number, id: number): Promise<void> {
  const { numDeletedRows } = await db
    .deleteFrom('germination_test')
    .where('id', '=', id)
    .where('lotId', 'in', db.selectFrom('lot').where('seasonId', '=', seasonId).select('id'))
    .executeTakeFirst()
  if (numDeletedRows === 0n) throw new ProblemError([gone('That test', { table: 'lot' })])
}

async function requireLot(db: Kysely<Tables>, seasonId: number, id: number): Promise<void> {
  const lot = await db
    .selectFrom('lot')
    .where('id', '=', id)
    .where('seasonId', '=', seasonId)
    .select('id')
    .executeTakeFirst()
  if (lot === undefined) throw new ProblemError([gone('That lot', { table: 'lot' })])
}
