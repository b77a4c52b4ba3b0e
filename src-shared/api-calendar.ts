/** The calls of the calendar: the plan by weeks, a block in another week, the orders of work as files. Part of the contract in `api.ts`. */
import * as v from 'valibot'
import { change, id, is, name, named, nothing, read, task } from './api-call.ts'
import type { CalendarView, MoveCost } from './calendar-view.ts'
import { acres, isoDate } from './primitive.ts'
import type { WrittenFile } from './sheet/bring-in.ts'

const tables = ['plan', 'lock', ...named] as const

/** A block in the week in which the plan has it, or in which it is kept: a Monday, ISO date. */
const inWeek = { fieldId: id, variety: name, week: isoDate }

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
  /** Keeps so many acres of a field in a planting week in every plan until let go, in place of the week that they were kept in. */
  'calendar.keep': change({
    input: v.strictObject({ ...inWeek, from: isoDate, acres }),
    output: is<null>(),
    tables: ['lock'],
    undo: 'Keep a planting week',
  }),
  'calendar.letGo': change({
    input: v.strictObject(inWeek),
    output: is<null>(),
    tables: ['lock'],
    undo: 'Let a planting week go',
  }),
  /** The orders of planting and of digging by week: a table, or events for a calendar program. */
  'calendar.file': read({
    input: v.strictObject({ as: v.picklist(['csv', 'ics']), today: isoDate }),
    output: is<WrittenFile>(),
    tables,
  }),
} as const
