/** Ripening, digging off the best day, machines' acres and fit days against published figures. Each names its table. */
import { describe, expect, it } from 'vitest'
import { combinedAfter, digShare, digWeeksFor, ripeOn } from '../../src-shared/agronomy/calendar.ts'
import { contextOf } from '../../src-shared/agronomy/context.ts'
import { addDays, daysBetween } from '../../src-shared/agronomy/harvest.ts'
import { demoFarm } from '../shared/demo-farm.ts'
import { publishedTable } from './read-csv.ts'

const { calendar, book } = contextOf(demoFarm())
const daysTo = (planted: string, daysToMaturity: number) =>
  daysBetween(planted, ripeOn(calendar, book, planted, daysToMaturity))
/** [day] A day of ripeness is given to half a week. */
const half = 2

describe('ripening', () => {
  it('T14: planted over 28 days in May, ripe within 14', () => {
    const [{ planted_span_days: planted, ripe_span_days: ripe }] = publishedTable('T14_ripening_spread.csv') as [
      Record<string, string>,
    ]
    const first = '2027-05-02'
    const span = daysBetween(
      ripeOn(calendar, book, first, 138),
      ripeOn(calendar, book, addDays(first, Number(planted)), 138),
    )
    expect(Math.abs(span - Number(ripe))).toBeLessThanOrEqual(2 * half)
  })

  // T11 and T19: varieties that usually take 140 to 145 days.
  it('T11, T19: 150 to 155 days from mid-April, about 140 from the first half of May', () => {
    const table = publishedTable('T11_planting_date.csv').find(({ note }) => note?.includes('150-155 from April'))
    expect(table).toBeDefined()
    for (const day of ['2027-04-15', '2027-04-20', '2027-04-25']) {
      expect(daysTo(day, 140)).toBeGreaterThanOrEqual(150 - half)
      expect(daysTo(day, 140)).toBeLessThanOrEqual(155 + half)
    }
    for (const day of ['2027-05-01', '2027-05-08', '2027-05-15'])
      expect(Math.abs(daysTo(day, 140) - 140)).toBeLessThanOrEqual(5 + half)
  })

  it('T19: fields of April 20 and a week later are ready about the same time', () => {
    const [one, other] = ['2027-04-20', '2027-04-27'].map((day) => ripeOn(calendar, book, day, 142))
    expect(daysBetween(one!, other!)).toBeLessThanOrEqual(4)
    expect(daysBetween(one!, other!)).toBeGreaterThanOrEqual(0)
  })

  it('T19: 12 days later planted in May takes some 10 days fewer', () => {
    // Planted May 4, 134 to 138 days; May 16, 126 (NC State PNNC-2013-078, virginia type).
    expect(daysTo('2027-05-04', 134)).toBeGreaterThanOrEqual(134 - half)
    expect(daysTo('2027-05-04', 134)).toBeLessThanOrEqual(138 + half)
    expect(Math.abs(daysTo('2027-05-16', 134) - 126)).toBeLessThanOrEqual(4 + half)
  })

  it('later planting is never ripe sooner, nor by as much later as it was planted, while it is warm', () => {
    for (let day = '2027-04-10'; day < '2027-05-16'; day = addDays(day, 1)) {
      const moved = daysBetween(ripeOn(calendar, book, day, 120), ripeOn(calendar, book, addDays(day, 14), 120))
      expect(moved).toBeGreaterThanOrEqual(0)
      expect(moved).toBeLessThan(14 - half)
    }
  })
})

describe('digging off the best day', () => {
  it('T21: shares of the best yield by days from emergence', () => {
    const rows = publishedTable('T21_digging_date_and_delay.csv').filter(({ kind }) => kind === 'digging date table')
    const best = rows.find(({ share_of_best }) => Number(share_of_best) === 1)
    expect(rows).toHaveLength(4)
    for (const row of rows) {
      const off = Number(row['days_from_emergence_or_days']) - Number(best?.['days_from_emergence_or_days'])
      expect(Math.abs(digShare(calendar, book, off) - Number(row['share_of_best']))).toBeLessThan(0.01)
    }
  })

  it('is flat about the best day and between 0 and 1 everywhere', () => {
    expect(digShare(calendar, book, 2)).toBeGreaterThan(0.995)
    expect(digShare(calendar, book, -2)).toBeGreaterThan(0.995)
    for (let off = -120; off <= 120; off++) {
      expect(digShare(calendar, book, off)).toBeGreaterThanOrEqual(0)
      expect(digShare(calendar, book, off)).toBeLessThanOrEqual(1)
    }
  })

  it('T25: nothing is dug after the last safe day, three drying days before the frost', () => {
    const hours = publishedTable('T25_frost_and_digging.csv').find(
      ({ rule }) => rule === 'hours between digging and frost',
    )
    expect(Number(hours?.['value']) / 24).toBe(3)
    for (const ripe of ['2027-09-20', '2027-10-18', '2027-12-06'])
      for (const { week } of digWeeksFor(calendar, book, ripe)) expect(week <= calendar.lastDigging).toBe(true)
  })
})

it('combining follows by its days, and they change where it falls', () => {
  const shareIn = (lag: number) =>
    combinedAfter('2027-09-20', lag).map(({ week, share }) => [week, Math.round(share * 6)])
  expect(shareIn(0)).toEqual([['2027-09-20', 6]])
  expect(shareIn(1)).toEqual([['2027-09-20', 6]])
  expect(shareIn(3)).toEqual([
    ['2027-09-20', 4],
    ['2027-09-27', 2],
  ])
  expect(shareIn(6)).toEqual([
    ['2027-09-20', 1],
    ['2027-09-27', 5],
  ])
  expect(shareIn(7)).toEqual([['2027-09-27', 6]])
})
