/** Variety trials → proposed indexes: by hand, and what must hold however they came out. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { trialIndexes, type TrialRow } from '../../../src-shared/agronomy/trial.ts'
import { Book } from '../../../src-shared/assumption.ts'
import { starterBook } from '../../../src-shared/book/starter.ts'
import { pick } from '../demo-farm.ts'

const book = new Book(starterBook)
const row = (variety: string, place: string, yieldLb: number, more: Partial<TrialRow> = {}): TrialRow => ({
  variety,
  place,
  year: 2026,
  yieldLb,
  ...more,
})

describe('by hand', () => {
  it('one trial with an LSD of 400 lb at 5,000: 0.36 of the way to 1.10', () => {
    const [found] = trialIndexes(book, [row('A', 'P', 5000), row('B', 'P', 5500, { lsdLb: 400 })], 'A')
    // Error 400 / 2 / 5,000 = 0.04: 0.06² / (0.06² + 0.08² + 0.04²) = 0.0036 / 0.0116.
    expect(found).toMatchObject({ variety: 'B', trials: 1, index: 1.03 })
    expect(found!.ratio).toBeCloseTo(1.1, 12)
    expect(found!.weight).toBeCloseTo(0.0036 / 0.0116, 12)
  })

  it('holds a trial without the usual variety against its own mean', () => {
    const rows = [row('B', 'P', 4000), row('C', 'P', 6000)]
    const found = trialIndexes(book, rows, 'A')
    expect(pick(found, ({ variety }) => variety === 'B').ratio).toBeCloseTo(0.8, 12)
    expect(pick(found, ({ variety }) => variety === 'C').ratio).toBeCloseTo(1.2, 12)
  })

  it('keeps irrigated and dryland apart, and names that differ in case together', () => {
    const rows = [
      row('A', 'P', 5000, { water: 'irrigated' }),
      row('b', 'P', 5500, { water: 'irrigated' }),
      row('A', 'P', 3000, { water: 'dryland' }),
      row('B', 'P', 2700, { water: 'dryland' }),
      row('a ', 'Q', 5000, { water: 'irrigated' }),
      row('B', 'Q', 5500, { water: 'irrigated' }),
    ]
    const found = trialIndexes(book, rows, 'A')
    expect(found.map(({ water, trials }) => [water, trials])).toEqual(
      expect.arrayContaining([
        ['irrigated', 2],
        ['dryland', 1],
      ]),
    )
    expect(found).toHaveLength(2)
  })

  it('shows its working', () => {
    const [found] = trialIndexes(book, [row('A', 'P', 5000), row('B', 'P', 5500)], 'A')
    expect(found!.lines.map(({ id }) => id)).toEqual(['weight', 'index'])
    expect(found!.lines[1]!.formula).toMatch(/^1 \+ 0\.\d+ × \(1\.1 − 1\) = 1\.0\d+ ×$/)
  })
})

describe('what must hold', () => {
  const yields = fc.array(fc.integer({ min: 500, max: 9000 }), { minLength: 1, maxLength: 8 })
  const rowsOf = (ours: number[], lsdLb?: number) =>
    ours.flatMap((yieldLb, at) => [row('A', `P${at}`, 4000, { lsdLb }), row('B', `P${at}`, yieldLb, { lsdLb })])
  const one = (rows: TrialRow[]) => trialIndexes(book, rows, 'A')[0]!

  it('the index lies between 1 and the ratio', () => {
    fc.assert(
      fc.property(yields, (ours) => {
        const { index, ratio } = one(rowsOf(ours))
        expect(index).toBeGreaterThanOrEqual(Math.min(1, ratio) - 0.005)
        expect(index).toBeLessThanOrEqual(Math.max(1, ratio) + 0.005)
      }),
    )
  })

  it('more trials and a smaller LSD say more', () => {
    fc.assert(
      fc.property(yields, fc.integer({ min: 50, max: 1500 }), (ours, lsd) => {
        expect(one(rowsOf([...ours, ...ours], lsd)).weight).toBeGreaterThan(one(rowsOf(ours, lsd)).weight)
        expect(one(rowsOf(ours, lsd)).weight).toBeGreaterThan(one(rowsOf(ours, lsd + 200)).weight)
      }),
    )
  })
})
