/** The calls of the calendar: the plan by weeks, a block in another week, the orders of work as files. Part of the contract in `api.ts`. */
import * as v from 'valibot'
import { is, name, named, nothing, read, task } from './api-call.ts'
import type { CalendarView, MoveCost } from './calendar-view.ts'
import { isoDate } from './primitive.ts'
import type { WrittenFile } from './sheet/bring-in.ts'

const tables = ['plan', 'lock', ...named] as const

export const calendarCalls = {
  /** The plan in hand by weeks; null without one, and for one that was made before weeks were counted. */
  'calendar.seen': read({ input: nothing, output: is<CalendarView | null>(), tables }),
  /** What it costs to plant a block in another week, with all else held. */
  'calendar.move': task({
    input: v.strictObject({
      field: name,
      variety: name,
      /** Mondays, ISO dates. */
      from: isoDate,
      to: isoDate,
      seconds: v.optional(v.pipe(v.number(), v.minValue(1), v.maxValue(60)), 10),
    }),
    output: is<MoveCost>(),
    tables: [],
    beside: true,
  }),
  /** The orders of planting and of digging by week: a table, or events for a calendar program. */
  'calendar.file': read({
    input: v.strictObject({ as: v.picklist(['csv', 'ics']), today: isoDate }),
    output: is<WrittenFile>(),
    tables,
  }),
} as const
