/** One calendar: a new farm, the demo and the rail agree on every day of the year. */
import { expect, test } from 'vitest'
import { demoSeason } from '../../src-main/demo/demo-season.ts'
import { seasonOn } from '../../src-main/demo/season-on.ts'
import { cropYearOf, harvestedYear, placeInYear } from '../../src-shared/crop-year.ts'

const days = Array.from({ length: 366 }, (_, at) => new Date(Date.UTC(2027, 0, 1 + at)).toISOString().slice(0, 10))

test('on every day the demo and a new farm are of the same crop year, and the rail marks a place in it', () => {
  const written = demoSeason()
  for (const day of days) {
    const year = cropYearOf(day)
    expect(seasonOn(written, day).season, day).toBe(year)
    expect(placeInYear(year, day), day).not.toBeNull()
  }
})

test.each([
  ['2027-01-15', 2027, 'winter'],
  ['2027-03-31', 2027, 'winter'],
  ['2027-04-01', 2027, 'spring'],
  ['2027-07-31', 2027, 'spring'],
  ['2027-09-15', 2027, 'fall'],
  ['2027-12-31', 2027, 'fall'],
  ['2027-09-15', 2028, 'winter'],
  ['2027-06-30', 2028, null],
  ['2028-01-01', 2027, null],
  ['2027-09-15', 2026, null],
] as const)('on %s season %i is at %s', (day, season, place) => {
  expect(placeInYear(season, day)).toBe(place)
})

test('a harvest is in from November on', () => {
  expect(harvestedYear('2026-10-31')).toBe(2025)
  expect(harvestedYear('2026-11-01')).toBe(2026)
})
