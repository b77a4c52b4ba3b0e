/** Pictures of tags: kept as they came, after a look at what the bytes really are, with their hash. */
import type { Kysely } from 'kysely'
import { createHash } from 'node:crypto'
import { ProblemError } from '../../src-shared/problem.ts'
import { gone } from '../../src-shared/record-problem.ts'
import type { WrittenFile } from '../../src-shared/sheet/bring-in.ts'
import { photoTypeByName, photoTypeOf } from '../../src-shared/tag.ts'
import type { Tables } from './db/tables.ts'

/** [byte] as the table has it. */
const mostBytes = 20_000_000

/** @returns its id */
export async function addPhoto(
  db: Kysely<Tables>,
  seasonId: number,
  lotId: number,
  file: { name: string; base64: string },
): Promise<number> {
  const bytes = Buffer.from(file.base64, 'base64')
  const mediaType = photoTypeOf(bytes)
  const byName = photoTypeByName(file.name)
  const where = { file: file.name, table: 'tag' }
  const remedy = 'Choose a JPEG or PNG picture, or a PDF, as the camera or the scanner made it.'
  if (mediaType === null) {
    const what = `“${file.name}” is not a JPEG or PNG picture and not a PDF, whatever its name says.`
    throw new ProblemError([{ code: 'bad-file', what, where, remedy }])
  }
  if (byName !== mediaType && /\.[a-z0-9]{1,5}$/i.test(file.name)) {
    const what = `“${file.name}” is named as one kind of file and is another (${mediaType}).`
    throw new ProblemError([{ code: 'bad-file', what, where, remedy }])
  }
  if (bytes.length > mostBytes) {
    const what = `“${file.name}” is larger than 20 MB.`
    throw new ProblemError([{ code: 'bad-file', what, where, remedy: 'Take the picture smaller.' }])
  }
  const sha256 = createHash('sha256').update(bytes).digest('hex')
  const lot = await db
    .selectFrom('lot')
    .where('id', '=', lotId)
    .where('seasonId', '=', seasonId)
    .select('id')
    .executeTakeFirst()
  if (lot === undefined) throw new ProblemError([gone('That lot', { table: 'tag' })])
  await db
    .insertInto('photo_content')
    .values({ sha256, bytes })
    .onConflict((conflict) => conflict.column('sha256').doNothing())
    .execute()
  const row = await db
    .insertInto('tag_photo')
    .values({ lotId, fileName: file.name, mediaType, sha256, size: bytes.length })
    .returning('id')
    .executeTakeFirstOrThrow()
  return row.id
}

/** The bytes as they came; refused where they are not any more what their hash says. */
export async function readPhoto(db: Kysely<Tables>, seasonId: number, id: number): Promise<WrittenFile> {
  const row = await db
    .selectFrom('tag_photo')
    .innerJoin('lot', 'lot.id', 'tag_photo.lotId')
    .leftJoin('photo_content', 'photo_content.sha256', 'tag_photo.sha256')
    .where('lot.seasonId', '=', seasonId)
    .where('tag_photo.id', '=', id)
    .select(['tag_photo.fileName', 'tag_photo.mediaType', 'photo_content.bytes', 'tag_photo.sha256'])
    .executeTakeFirst()
  if (row === undefined) throw new ProblemError([gone('That picture', { table: 'tag' })])
  if (row.bytes === null) {
    const what = `The picture “${row.fileName}” is not in this file.`
    const remedy = 'Take it from a copy of the farm, or from the camera again.'
    throw new ProblemError([{ code: 'missing', what, where: { file: row.fileName, table: 'tag' }, remedy }])
  }
  const bytes = Buffer.from(row.bytes)
  if (createHash('sha256').update(bytes).digest('hex') !== row.sha256) {
    throw new ProblemError([
      {
        code: 'damaged',
        what: `The picture “${row.fileName}” is not the one that was kept.`,
        where: { file: row.fileName, table: 'tag' },
        remedy: 'Take it from a backup of the farm, or from the camera again.',
      },
    ])
  }
  return { name: row.fileName, type: row.mediaType, base64: bytes.toString('base64') }
}

export async function removePhoto(db: Kysely<Tables>, seasonId: number, id: number): Promise<void> {
  const { numDeletedRows } = await db
    .deleteFrom('tag_photo')
    .where('id', '=', id)
    .where('lotId', 'in', db.selectFrom('lot').where('seasonId', '=', seasonId).select('id'))
    .executeTakeFirst()
  if (numDeletedRows === 0n) throw new ProblemError([gone('That picture', { table: 'tag' })])
}
