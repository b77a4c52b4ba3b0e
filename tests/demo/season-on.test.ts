/** The demo farm on any day: its season is the one that is planned then, with no year of another left in it. */
import fc from 'fast-check'
import { expect, it, test } from 'vitest'
import { demoSeason } from '../../src-main/demo/demo-season.ts'
import { seasonOn, yearsOn } from '../../src-main/demo/season-on.ts'
import { offered } from '../../src-main/engine/ordered-seed.ts'
import { cropYearOf } from '../../src-shared/crop-year.ts'
import { yearsOut } from '../../src-shared/field.ts'
import { readSeason } from '../../src-shared/season.ts'

const written = demoSeason()

it.each([
  ['2027-01-31', 2027],
  ['2027-02-01', 2027],
  ['2028-02-29', 2028],
  ['2027-06-30', 2027],
  ['2027-07-01', 2028],
  ['2027-09-15', 2028],
  ['2027-12-31', 2028],
  ['2028-01-01', 2028],
])('on %s the crop of %i is planned', (today, year) => {
  expect(cropYearOf(today)).toBe(year)
  expect(seasonOn(written, today).season).toBe(year)
})

it('is as written on the days of its own winter', () => {
  expect(seasonOn(written, '2026-07-01')).toEqual(written)
  expect(seasonOn(written, '2027-01-31')).toEqual(written)
})

test('on any day it reads as a season, no quote has ended, and each field has been out as long', () => {
  const days = fc.date({ min: new Date('2000-01-01'), max: new Date('2199-12-31'), noInvalidDate: true })
  fc.assert(
    fc.property(days, (date) => {
      const today = date.toISOString().slice(0, 10)
      const season = seasonOn(written, today)
      expect(readSeason(structuredClone(season), 'demo').ok).toBe(true)
      expect(offered(season, [], today)).toMatchObject({ ok: true, value: { ended: [] } })
      season.fields.forEach((field, at) => {
        const before = written.fields[at]
        expect(yearsOut(field.history, season.season)).toBe(yearsOut(before?.history ?? [], written.season))
      })
    }),
  )
})

test('no year is forgotten, in whatever words it may stand', () => {
  // Sources are of the year they are of.
  const words = (season: object) => JSON.stringify(season, (key, value) => (key === 'source' ? '' : (value as unknown)))
  const near = /\b20[12]\d\b/
  expect(words(written)).toMatch(near)
  expect(words(seasonOn(written, '2150-01-10'))).not.toMatch(near)
})

it('a clock that is far off changes nothing', () => {
  expect(seasonOn(written, '1970-01-01')).toEqual(written)
  expect(seasonOn(written, '2200-07-01')).toEqual(written)
})

it.each([
  ['2028-02-29', 1, '2029-02-28'],
  ['2028-02-29', 4, '2032-02-29'],
  ['2096-02-29', 4, '2100-02-28'],
  ['1996-02-29', 4, '2000-02-29'],
  ['2027-02-28', 1, '2028-02-28'],
  ['2027-12-31', -3, '2024-12-31'],
])('%s and %i years is %s', (date, years, then) => {
  expect(yearsOn(date, years)).toBe(then)
})
