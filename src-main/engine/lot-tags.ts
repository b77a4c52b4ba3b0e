/** What is written of a lot: the items of its tag, and its germination tests with their replicates. */
import type { Kysely } from 'kysely'
import { germinationOf, type GivenTest } from '../../src-shared/germination-test.ts'
import { mustBeAsSeen } from '../../src-shared/meanwhile.ts'
import { ProblemError } from '../../src-shared/problem.ts'
import { gone, inFuture } from '../../src-shared/record-problem.ts'
import { emptyTag, type Tag } from '../../src-shared/tag.ts'
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
  mustBePast(tag?.testedIn ?? null, today)
  await db.deleteFrom('tag').where('lotId', '=', lotId).execute()
  if (tag !== null) await insertTag(db, lotId, tag)
}

/** Some items of a lot's tag. What is not named is not written, so that two edits in one breath both stand. */
export async function setTagItems(
  db: Kysely<Tables>,
  lot: { id: number; tag: Tag | null; variety: string; lotNumber: string; promised: { isTreated: boolean } },
  items: { [Name in keyof Tag]?: Tag[Name] | undefined },
  was: typeof items | undefined,
  today: string,
): Promise<void> {
  const { variety, lotNumber } = lot
  const empty = emptyTag({ variety, lotNumber, isTreated: lot.promised.isTreated })
  mustBeAsSeen(lot.tag ?? empty, was, { table: 'tag', id: lot.id })
  const named = Object.fromEntries(Object.entries(items).filter(([, value]) => value !== undefined)) as Partial<Tag>
  if (Object.keys(named).length === 0) return
  mustBePast(named.testedIn ?? null, today)
  if (lot.tag === null) await insertTag(db, lot.id, { ...empty, ...named })
  else {
    await db.updateTable('tag').set(asRow(named)).where('lotId', '=', lot.id).execute()
  }
}

async function insertTag(db: Kysely<Tables>, lotId: number, tag: Tag): Promise<void> {
  const { isHermetic, isTreated, ...plain } = tag
  await db
    .insertInto('tag')
    .values({ lotId, ...plain, isHermetic: Number(isHermetic), isTreated: Number(isTreated) })
    .execute()
}

/** SQLite has no booleans. */
function asRow({ isHermetic, isTreated, ...plain }: Partial<Tag>) {
  return {
    ...plain,
    ...(isHermetic === undefined ? {} : { isHermetic: Number(isHermetic) }),
    ...(isTreated === undefined ? {} : { isTreated: Number(isTreated) }),
  }
}

function mustBePast(testedIn: string | null, today: string): void {
  if (testedIn === null || testedIn <= today.slice(0, 7)) return
  throw new ProblemError([
    {
      code: 'bad-value',
      what: `The tag says tested in ${testedIn}, which is still to come.`,
      where: { table: 'tag', column: 'testedIn' },
      remedy: 'Read the month and year of the test again.',
    },
  ])
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
