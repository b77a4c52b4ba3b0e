/**
 * The tolerance tables of the Federal Seed Act regulations, every row as read (T2a: 7 CFR 201.63, T2b: 201.55, T2c:
 * 201.65), the standards of certified seed (T2d), and the month arithmetic of 201.22.
 */
import { describe, expect, it } from 'vitest'
import { lastShipDay, monthsSince } from '../../src-shared/agronomy/test-age.ts'
import { noxiousMost, replicateRange, retestAgainst, retestTolerance } from '../../src-shared/agronomy/tolerance.ts'
import { starterBook } from '../../src-shared/book/starter.ts'
import { publishedTable } from './read-csv.ts'

describe('T2a: a retest against its label', () => {
  const rows = publishedTable('T2a_germination_tolerance_7CFR201_63.csv')
  it.each(rows)('mean of $mean_from_incl up to $mean_to_excl', (row) => {
    const from = Number(row.mean_from_incl)
    const to = Math.min(100, Number(row.mean_to_excl))
    const inside = [from, (from + to) / 2, ...(to === 100 ? [100] : [to - 0.01])]
    for (const mean of inside) {
      expect(retestTolerance(mean), String(mean)).toBe(Number(row.tolerance_points_400_or_more_seeds))
      expect(retestTolerance(mean, 200)).toBe(Number(row.tolerance_points_200_seeds_of_a_mixture_component))
    }
  })
  it('has as many bands as the table', () => {
    const bands = new Set(Array.from({ length: 10_001 }, (_, at) => retestTolerance(at / 100)))
    expect(bands.size).toBe(rows.length)
  })
  it.each([
    // Constructed from the table: label, test, mean, tolerance, points below, within.
    [0.85, 0.77, 81, 7, 8, false],
    [0.75, 0.68, 71.5, 8, 7, true],
    [0.84, 0.77, 80.5, 7, 7, true],
    // Means on an edge belong to the higher band, whatever binary fractions make of them.
    [0.985, 0.935, 96, 5, 5, true],
    [0.93, 0.87, 90, 6, 6, true],
    [0.835, 0.765, 80, 7, 7, true],
    [0.74, 0.66, 70, 8, 8, true],
    [0.645, 0.555, 60, 9, 9, true],
    [0.65, 0.549, 59.95, 10, 10.1, false],
    // A test better than its label is never out.
    [0.75, 0.95, 85, 7, -20, true],
  ])('label %s, test %s', (label, test, mean, tolerance, below, isWithin) => {
    expect(retestAgainst(label, test)).toEqual({ mean, tolerance, below, isWithin })
  })
})

describe('T2b: the range of replicates', () => {
  const rows = publishedTable('T2b_replicate_range_7CFR201_55.csv')
  it.each(rows)('an average of $average_germination_pct or $or_average_pct', (row) => {
    const four = Number(row.max_range_4_replicates_of_100)
    const two = row.max_range_2_replicates_of_100 === '' ? null : Number(row.max_range_2_replicates_of_100)
    for (const average of [Number(row.average_germination_pct), Number(row.or_average_pct)]) {
      expect(replicateRange(average, 4)).toBe(four)
      expect(replicateRange(average, 2)).toBe(two)
      expect(replicateRange(average + 0.4, 4)).toBe(four)
    }
  })
  it('makes up no row that was not read', () => {
    expect(rows).toHaveLength(29)
    for (const average of [0, 1, 31, 50, 51, 70, 100]) {
      expect(replicateRange(average, 4)).toBeNull()
      expect(replicateRange(average, 2)).toBeNull()
    }
  })
})

describe('T2c: noxious weed seeds', () => {
  const rows = publishedTable('T2c_noxious_weed_tolerance_7CFR201_65.csv')
  it.each(rows)('$x_number_labeled labelled', (row) => {
    expect(noxiousMost(Number(row.x_number_labeled))).toBe(Number(row.y_max_within_tolerance))
  })
  it('ends where what was read ends', () => {
    expect(rows).toHaveLength(31)
    expect([noxiousMost(31), noxiousMost(-1), noxiousMost(0.5)]).toEqual([null, null, null])
  })
})

it('T2d: the book’s limits for certified seed are the table’s, and the farm’s to change', () => {
  const rows = publishedTable('T2d_certified_peanut_seed_standards.csv')
  const certified = (factor: string) => {
    const row = rows.find((each) => each.state === 'Oklahoma' && each.factor?.startsWith(factor))
    return Number(row?.certified) / 100
  }
  const limit = (key: string) => starterBook.find((row) => row.key === key)?.value
  expect(limit('tag/least germination')).toBe(certified('germination'))
  expect(limit('tag/least pure seed')).toBe(certified('pure seed'))
  expect(limit('tag/most inert')).toBe(certified('inert'))
  expect(limit('tag/most weed seed')).toBe(certified('weed seed'))
  expect(limit('tag/most other crop')).toBeCloseTo(certified('other kinds'), 12)
  expect(Number(rows.find(({ state }) => state === 'Georgia')?.certified)).toBe(75)
})

describe('7 CFR 201.22: months between the test and the shipment', () => {
  it.each([
    // Month of the test, months, last day: the last of the month, whatever its length.
    ['2027-01', 5, '2027-06-30'],
    ['2026-09', 5, '2027-02-28'],
    ['2027-09', 5, '2028-02-29'],
    ['2026-12', 5, '2027-05-31'],
    ['2026-08', 5, '2027-01-31'],
    ['2027-03', 24, '2029-03-31'],
    ['2026-02', 24, '2028-02-29'],
    ['2027-01', 0, '2027-01-31'],
    ['2026-10', 3, '2027-01-31'],
  ])('tested in %s, %s months: until %s', (month, months, day) => {
    expect(lastShipDay(month, months)).toBe(day)
  })
  it('counts the months that have begun since', () => {
    expect(monthsSince('2027-01', '2027-01-31')).toBe(0)
    expect(monthsSince('2027-01', '2027-06-30')).toBe(5)
    expect(monthsSince('2027-01', '2027-07-01')).toBe(6)
    expect(monthsSince('2026-12', '2027-02-01')).toBe(2)
    // The two say the same on every day of three years.
    for (
      let day = new Date('2026-09-01T00:00:00Z');
      day.getUTCFullYear() < 2030;
      day.setUTCDate(day.getUTCDate() + 1)
    ) {
      const iso = day.toISOString().slice(0, 10)
      expect(iso <= lastShipDay('2026-09', 5)).toBe(monthsSince('2026-09', iso) <= 5)
    }
  })
})
