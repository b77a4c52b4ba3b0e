/** The season review as it is asked for: now, one working, as a file; and its lessons, taken one by one. */
import type { Input } from '../../src-shared/api.ts'
import { ProblemError, valueOf, type Problem } from '../../src-shared/problem.ts'
import type { Figure, FigureWorking } from '../../src-shared/review/figure.ts'
import { figureWorking } from '../../src-shared/review/figure-working.ts'
import { lessonWorth, type Lesson, type LessonChange, type LessonsNow } from '../../src-shared/review/lesson.ts'
import { lessonsOf } from '../../src-shared/review/lessons.ts'
import { reviewTable, reviewTables } from '../../src-shared/review/review-table.ts'
import { reckon, reviewOf, type Review } from '../../src-shared/review/review.ts'
import type { WrittenFile } from '../../src-shared/sheet/bring-in.ts'
import { writeWorkbook } from './export/write-table.ts'
import { tableFile, writtenFile } from './export/written-file.ts'
import { atSeason, type OpenFarm } from './farm-file.ts'
import { listFields } from './fields.ts'
import { setBook } from './house-book.ts'
import { dropLessonWord, keepLessonWord, listLessonWords } from './lessons.ts'
import { gather } from './plan/gather.ts'
import { bookOf } from './receiving.ts'
import { readReviewInput } from './review-input.ts'
import { openSeasonId, requireSeason } from './seasons.ts'
import { changeSheet } from './sheets/change-sheet.ts'

/** The season asked for, in the same file; the one at hand where none is named. */
async function placeOf({ db, seasonId }: OpenFarm, asked = seasonId) {
  return { db, seasonId: asked, year: await requireSeason(db, asked) }
}

async function reckoningOf(farm: OpenFarm, asked: number | undefined) {
  return reckon(await readReviewInput(await placeOf(farm, asked)))
}

export async function reviewNow(farm: OpenFarm, asked: number | undefined): Promise<Review> {
  return reviewOf(await reckoningOf(farm, asked))
}

export async function workingNow(farm: OpenFarm, asked: number | undefined, figure: Figure): Promise<FigureWorking> {
  return valueOf(figureWorking(await reckoningOf(farm, asked), figure))
}

export async function reviewFile(
  farm: OpenFarm,
  asked: number | undefined,
  { as, table }: Omit<Input<'review.file'>, 'seasonId'>,
): Promise<WrittenFile> {
  const review = await reviewNow(farm, asked)
  const title = `Season review ${review.season}`
  if (as === 'csv') {
    const { name, headers, rows } = reviewTable(review, table ?? 'by field')
    return tableFile(`${title}, ${name}`, as, headers, rows)
  }
  const names = table === undefined ? reviewTables : [table]
  const workbook = await writeWorkbook(names.map((name) => ({ ...reviewTable(review, name), title: name })))
  return writtenFile(title, as, workbook)
}

/** The season that teaches, and the one that lessons are written into: always the open one, whichever is at hand. */
async function teaching(farm: OpenFarm, asked: number | undefined) {
  const place = await placeOf(farm, asked)
  const into = atSeason(farm, openSeasonId(farm.connection))
  return { place, into, taught: { seasonId: into.seasonId, fromYear: place.year } }
}

type Teaching = Awaited<ReturnType<typeof teaching>>

export async function lessonsNow(farm: OpenFarm, asked: number | undefined): Promise<LessonsNow> {
  return lessonsTaught(await teaching(farm, asked))
}

async function lessonsTaught({ place, into, taught }: Teaching): Promise<LessonsNow> {
  const said = await listLessonWords(into.db, taught)
  const keys = new Set(said.map(({ key }) => key))
  const season = await gather(into.db, into.seasonId)
  const reckoning = reckon(await readReviewInput(place))
  return {
    from: taught.fromYear,
    into: season.season,
    open: lessonsOf(reckoning, season).filter(({ key }) => !keys.has(key)),
    said,
    worth: lessonWorth(await bookOf(into)),
  }
}

async function openLesson(taught: Teaching, key: string): Promise<Lesson> {
  const lesson = (await lessonsTaught(taught)).open.find((each) => each.key === key)
  if (lesson === undefined) throw new ProblemError([noLesson(key)])
  return lesson
}

/** Writes it into the open season, by the names of things there. In the caller's transaction. */
export async function takeLesson(farm: OpenFarm, asked: number | undefined, key: string): Promise<null> {
  const now = await teaching(farm, asked)
  const { into, taught } = now
  const { about, old, proposed, evidence, change } = await openLesson(now, key)
  if (change.to === 'book') {
    await setBook(into, change.key, { value: change.value, source: `Season ${taught.fromYear}: ${evidence}` })
  } else await writeCell(into, change, about)
  await keepLessonWord(farm.db, taught, { key, state: 'taken', about, old, proposed })
  return null
}

async function writeCell(
  farm: OpenFarm,
  { sheet, name, path, value }: Extract<LessonChange, { to: 'sheet' }>,
  about: string,
): Promise<void> {
  const { connection, seasonId } = farm
  const id = await idOf(farm, sheet, name)
  if (id === undefined) throw new ProblemError([noLesson(about)])
  const cells = [{ id, path, value }]
  const says = `Take a lesson: ${about}`.slice(0, 80)
  const { refused } = changeSheet(connection, seasonId, { sheet, says, cells, added: [], removed: [] })
  if (refused.length > 0) throw new ProblemError(refused.map(({ problem }) => problem))
}

async function idOf({ db, seasonId }: OpenFarm, sheet: 'field' | 'variety' | 'measure', name: string) {
  if (sheet === 'field') return (await listFields(db, seasonId)).find((field) => field.name === name)?.id
  const table = sheet === 'variety' ? ('variety' as const) : ('measure' as const)
  const row = await db
    .selectFrom(table)
    .where('seasonId', '=', seasonId)
    .where('name', '=', name)
    .select('id')
    .executeTakeFirst()
  return row?.id
}

export async function setLessonAside(
  farm: OpenFarm,
  asked: number | undefined,
  key: string,
  isAside: boolean,
): Promise<null> {
  const now = await teaching(farm, asked)
  const { taught } = now
  if (isAside) {
    const { about, old, proposed } = await openLesson(now, key)
    await keepLessonWord(farm.db, taught, { key, state: 'set aside', about, old, proposed })
    return null
  }
  const word = (await listLessonWords(farm.db, taught)).find((each) => each.key === key)
  // One that was taken is taken back by undo, or by changing the value.
  if (word?.state === 'set aside') await dropLessonWord(farm.db, taught, key)
  return null
}

function noLesson(name: string): Problem {
  return {
    code: 'unknown-name',
    what: `The lesson about ${name} is not offered any more.`,
    where: { table: 'lesson', name },
    remedy: 'Look at the lessons again; what they are drawn from may have changed.',
  }
}
