/** The calls of the season review and its lessons. Part of the contract in `api.ts`. */
import * as v from 'valibot'
import { change, id, is, planned, read } from './api-call.ts'
import { figureSchema, type FigureWorking } from './review/figure.ts'
import type { LessonsNow } from './review/lesson.ts'
import type { Review } from './review/review.ts'
import { reviewTables } from './review/review-table.ts'
import type { WrittenFile } from './sheet/bring-in.ts'

/** All that a season's review is reckoned from. */
const recorded = [
  ...planned,
  'plan',
  'rule',
  'assumption',
  'order',
  'delivery',
  'lot',
  'planting',
  'load',
  'cost',
  'seen',
  'season',
] as const

/** Absent: the season at hand. */
const seasonId = v.optional(id)
const key = v.pipe(v.string(), v.minLength(1), v.maxLength(300))

export const reviewCalls = {
  'review.now': read({ input: v.strictObject({ seasonId }), output: is<Review>(), tables: recorded }),
  /** The working behind one figure of it. */
  'review.working': read({
    input: v.strictObject({ seasonId, figure: figureSchema }),
    output: is<FigureWorking>(),
    tables: recorded,
  }),
  /** One table for a spreadsheet, or a workbook of all of them. */
  'review.file': read({
    input: v.strictObject({ seasonId, as: v.picklist(['csv', 'xlsx']), table: v.optional(v.picklist(reviewTables)) }),
    output: is<WrittenFile>(),
    tables: recorded,
  }),
  /** What a season teaches for the open one, and what was said of it. */
  'lesson.list': read({
    input: v.strictObject({ seasonId }),
    output: is<LessonsNow>(),
    tables: [...recorded, 'lesson'],
  }),
  /** Writes what a lesson proposes into the open season, also while an earlier one is read. */
  'lesson.take': change({
    input: v.strictObject({ seasonId, key }),
    output: is<null>(),
    tables: ['lesson', 'assumption', 'field', 'variety', 'measure'],
    undo: 'Take a lesson',
    inAnySeason: true,
    notInCopy: true,
  }),
  'lesson.setAside': change({
    input: v.strictObject({ seasonId, key, isAside: v.boolean() }),
    output: is<null>(),
    tables: ['lesson'],
    undo: ({ isAside }) => (isAside ? 'Set a lesson aside' : 'Take a lesson up again'),
    inAnySeason: true,
    notInCopy: true,
  }),
} as const
