/** A small calendar made by hand: three blocks, one of them in two weeks, one dug late. */
import type { CalendarBlock, CalendarView, Load } from '../../src-shared/calendar-view.ts'

const load = (acres: number, fits: number | null): Load => ({ acres, fits, days: 4 })

export function aCalendar(changed: Partial<CalendarView> = {}): CalendarView {
  return {
    season: 2027,
    weeks: [
      { week: '2027-05-03', loads: { planting: load(40, 60), digging: load(0, 50), combining: load(0, null) } },
      { week: '2027-05-10', loads: { planting: load(70, 60), digging: load(0, 50), combining: load(0, null) } },
      { week: '2027-05-17', loads: { planting: load(0, 60), digging: load(0, 50), combining: load(0, null) } },
      { week: '2027-09-20', loads: { planting: load(0, 0), digging: load(50, 50), combining: load(20, null) } },
      { week: '2027-09-27', loads: { planting: load(0, 0), digging: load(60, 50), combining: load(50, null) } },
    ],
    blocks: [mill, creek],
    plantingWeeks: ['2027-05-03', '2027-05-10', '2027-05-17'],
    lastDigging: '2027-10-17',
    lastInsured: '2027-06-05',
    isLimited: { planting: true, digging: true, combining: true },
    ...changed,
  }
}

/** Planted in two weeks; what is planted later is dug a week late. */
export const mill: CalendarBlock = {
  field: 'Mill; east, "old"',
  variety: 'Amber',
  acres: 47,
  programme: [],
  parts: [
    {
      window: 'Usual',
      week: '2027-05-03',
      acres: 40,
      ripe: '2027-09-20',
      dug: [{ week: '2027-09-20', acres: 40, cents: 12 }],
    },
    {
      window: 'Usual',
      week: '2027-05-10',
      acres: 7,
      ripe: '2027-09-23',
      dug: [{ week: '2027-09-27', acres: 7, cents: 8_700 }],
    },
  ],
  lostCents: 8_712,
  keptIn: [],
}

/** Kept in its week, and dug before its best day. */
export const creek: CalendarBlock = {
  field: 'Creek',
  variety: 'Bison',
  acres: 63,
  programme: [],
  parts: [
    {
      window: 'Usual',
      week: '2027-05-10',
      acres: 63,
      ripe: '2027-09-27',
      dug: [
        { week: '2027-09-20', acres: 10, cents: 4_000 },
        { week: '2027-09-27', acres: 53, cents: 30 },
      ],
    },
  ],
  lostCents: 4_030,
  keptIn: ['2027-05-10'],
}
