/**
 * The orders of work as files. The iCalendar text is read by a parser that shares nothing with what wrote it (ical.js), and
 * its lines are held to RFC 5545: 3.1 (folding at 75 octets, CRLF), 3.8.4.7 (UID), 3.8.7.2 (DTSTAMP).
 */
import ICAL from 'ical.js'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { calendarCsv, calendarIcs } from '../../../src-main/engine/export/calendar-file.ts'
import { calendarText } from '../../../src-main/engine/export/calendar-text.ts'
import { aCalendar, creek, mill } from '../../support/a-calendar.ts'
import { startTestEngine } from '../../support/engine.ts'

const farmId = 'farm-00000000000000000000000000000001'
const today = '2027-01-20'

function eventsIn(text: string) {
  const calendar = new ICAL.Component(ICAL.parse(text) as unknown[] as never)
  return calendar.getAllSubcomponents('vevent').map((component) => {
    const event = new ICAL.Event(component)
    return {
      uid: event.uid,
      summary: event.summary,
      description: event.description,
      start: event.startDate.toString(),
      end: event.endDate.toString(),
      isDate: event.startDate.isDate,
      stamp: String(component.getFirstPropertyValue('dtstamp')),
    }
  })
}

test('writes one all-day event a work, week, field and variety, as another parser reads it', () => {
  const events = eventsIn(calendarIcs(aCalendar(), farmId, today))
  expect(events.map(({ summary, start, end }) => `${start} ${end} ${summary}`)).toEqual([
    '2027-05-03 2027-05-10 Plant Mill; east, "old": Amber, 40 acres',
    '2027-05-10 2027-05-17 Plant Mill; east, "old": Amber, 7 acres',
    '2027-05-10 2027-05-17 Plant Creek: Bison, 63 acres',
    '2027-09-20 2027-09-27 Dig Mill; east, "old": Amber, 40 acres',
    '2027-09-20 2027-09-27 Dig Creek: Bison, 10 acres',
    '2027-09-27 2027-10-04 Dig Mill; east, "old": Amber, 7 acres',
    '2027-09-27 2027-10-04 Dig Creek: Bison, 53 acres',
  ])
  expect(events.every(({ isDate }) => isDate)).toBe(true)
  expect(new Set(events.map(({ stamp }) => stamp))).toEqual(new Set(['2027-01-20T00:00:00Z']))
  expect(events[5]?.description).toBe(
    'Best day to dig: Sep 23.\nLost by digging off the best day: $87.\nNote: 1 week late, −$87.',
  )
})

test('keeps an event’s identity over exports, and gives no two the same', () => {
  const uids = (text: string) => eventsIn(text).map(({ uid }) => uid)
  const first = uids(calendarIcs(aCalendar(), farmId, today))
  expect(uids(calendarIcs(aCalendar(), farmId, '2027-03-01'))).toEqual(first)
  expect(new Set(first).size).toBe(first.length)
  // Other acres are the same event; another farm, season or week is another.
  const grown = aCalendar({ blocks: [{ ...creek, parts: creek.parts.map((part) => ({ ...part, acres: 64 })) }] })
  expect(first).toEqual(expect.arrayContaining(uids(calendarIcs(grown, farmId, today))))
  const others = [
    ...uids(calendarIcs(aCalendar(), 'farm-00000000000000000000000000000002', today)),
    ...uids(calendarIcs(aCalendar({ season: 2028 }), farmId, today)),
  ]
  expect(others.filter((uid) => first.includes(uid))).toEqual([])
})

test('folds lines at 75 octets and ends each with CRLF, whatever the names are', () => {
  const name = fc.string({ unit: 'grapheme', minLength: 1, maxLength: 80 }).map((text) => text.replace(/\p{Cc}/gu, ' '))
  fc.assert(
    fc.property(name, name, (field, variety) => {
      const text = calendarIcs(aCalendar({ blocks: [{ ...mill, field, variety }] }), farmId, today)
      expect(text.endsWith('\r\n')).toBe(true)
      const lines = text.slice(0, -2).split('\r\n')
      expect(lines.filter((line) => /[\r\n]/.test(line))).toEqual([])
      expect(lines.filter((line) => Buffer.byteLength(line, 'utf8') > 75)).toEqual([])
      expect(eventsIn(text)[0]?.summary).toBe(`Plant ${field}: ${variety}, 40 acres`)
    }),
    { numRuns: 200 },
  )
})

test('writes an empty plan as a calendar without events', () => {
  const text = calendarIcs(aCalendar({ blocks: [] }), farmId, today)
  expect(eventsIn(text)).toEqual([])
  expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true)
})

test('writes the orders as CSV, text that a spreadsheet would run marked as text', () => {
  const csv = calendarCsv(aCalendar({ blocks: [{ ...creek, field: '=1+1' }] })).toString('utf8')
  expect(csv.split('\r\n')).toEqual([
    '\uFEFFWork,Week of,Field,Variety,Acres,Best day to dig,Lost by digging off the best day ($),Note',
    `planting,2027-05-10,'=1+1,Bison,63,2027-09-27,40.3,"kept in this week; digging 1 week early, −$40"`,
    `digging,2027-09-20,'=1+1,Bison,10,2027-09-27,40,"1 week early, −$40"`,
    `digging,2027-09-27,'=1+1,Bison,53,2027-09-27,0.3,`,
    '',
  ])
})

test('lists the weeks as text, each against what fits', () => {
  const text = calendarText(aCalendar())
  expect(text).toMatch(/May 10\s+70 of 60/)
  expect(text).toMatch(/Sep 27\s+60 of 50\s+50\n/)
  expect(text).toMatch(/Sep 27\s+Mill; east, "old"\s+Amber\s+7\s+Sep 23\s+1 week late, −\$87/)
  expect(text).toContain('Last insurable planting day Jun 5, last safe digging day Oct 17.')
})

test('refuses a file where there is no plan by weeks', async () => {
  const { must, call, close } = startTestEngine()
  await must('farm.openDemo', { today })
  const reply = await call('calendar.file', { as: 'ics', today })
  expect(reply).toMatchObject({ ok: false, problems: [{ code: 'missing', remedy: 'Solve the plan first.' }] })
  await close()
})
