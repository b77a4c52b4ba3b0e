/**
 * The orders of planting and of digging by week, written for a spreadsheet and for calendar programs (iCalendar, RFC 5545).
 * An event's identity hangs on what it is about, so that a program which reads a later export changes it in place.
 */
import { createHash } from 'node:crypto'
import ical from 'ical-generator'
import { addDays } from '../../../src-shared/agronomy/harvest.ts'
import { diggingOrder, plantingOrder, type WorkRow } from '../../../src-shared/calendar-order.ts'
import type { CalendarView } from '../../../src-shared/calendar-view.ts'
import { showAcres, showDate, showDollars } from '../../../src-shared/show.ts'
import { writeCsv, type TableCell } from './write-csv.ts'

const works = [
  { work: 'planting', verb: 'Plant', rowsOf: plantingOrder },
  { work: 'digging', verb: 'Dig', rowsOf: diggingOrder },
] as const

const headers = [
  'Work',
  'Week of',
  'Field',
  'Variety',
  'Acres',
  'Best day to dig',
  'Lost by digging off the best day ($)',
  'Note',
]

/** One row a work, week, field and variety, in the order in which they are done. */
export function calendarCsv(view: CalendarView): Buffer {
  const rows = works.flatMap(({ work, rowsOf }) =>
    rowsOf(view).map((row): TableCell[] => [
      work,
      row.week,
      row.field,
      row.variety,
      Number(row.acres.toFixed(2)),
      row.ripe,
      Number((row.lostCents / 100).toFixed(2)),
      row.note,
    ]),
  )
  return writeCsv(headers, rows)
}

/**
 * One all-day event from Monday to Sunday for each work, week, field and variety.
 * @param farmId of the file: the same in every copy of the farm
 * @param today ISO day on which it is written: every event's DTSTAMP
 */
export function calendarIcs(view: CalendarView, farmId: string, today: string): string {
  const calendar = ical({
    prodId: { company: 'Standwell', product: 'Calendar', language: 'EN' },
    // No name of the farm: the library does not escape a calendar's name.
    name: `Planting and digging ${view.season}`,
  })
  for (const { work, verb, rowsOf } of works) {
    for (const row of rowsOf(view)) {
      calendar.createEvent({
        id: idOf([farmId, view.season, row.field, row.variety, work, row.week]),
        stamp: midnight(today),
        start: midnight(row.week),
        end: midnight(addDays(row.week, 7)),
        allDay: true,
        summary: `${verb} ${row.field}: ${row.variety}, ${showAcres(row.acres)} acres`,
        description: aboutOf(row),
      })
    }
  }
  // Every line ends so, the last one too (RFC 5545, 3.1); the library leaves that one open.
  return `${calendar.toString()}\r\n`
}

function aboutOf({ ripe, lostCents, note }: WorkRow): string {
  const lost = lostCents < 50 ? [] : [`Lost by digging off the best day: ${showDollars(lostCents)}.`]
  return [`Best day to dig: ${showDate(ripe)}.`, ...lost, ...(note === '' ? [] : [`Note: ${note}.`])].join('\n')
}

/** Letters and digits whatever the names are, and as long for all. */
function idOf(about: readonly (string | number)[]): string {
  return `${createHash('sha256').update(JSON.stringify(about)).digest('hex').slice(0, 32)}@standwell`
}

const midnight = (isoDay: string) => new Date(`${isoDay}T00:00:00Z`)
