/** Kinds of cell: what is typed is read, and what is shown for typing reads back to the same value. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { columnsOf, valueAt } from '../../../src-shared/sheet/columns.ts'
import { drop, history, quoteBreaks, dealerBreaks } from '../../../src-shared/sheet/compound.ts'
import { readDay, readMonthDay } from '../../../src-shared/sheet/day-text.ts'
import { houseDropOf } from '../../../src-shared/sheet/house-drop.ts'
import {
  choice,
  day,
  dollars,
  monthDay,
  names,
  number,
  percent,
  scaled,
  words,
  yesNo,
} from '../../../src-shared/sheet/kind.ts'
import type { Kind } from '../../../src-shared/sheet/kind.ts'
import { sheetNames, type CellValue } from '../../../src-shared/sheet/sheet.ts'

const figure = fc.integer({ min: 0, max: 1_000_000 })
const days = (from: string, to: string) =>
  fc
    .date({ min: new Date(from), max: new Date(to), noInvalidDate: true })
    .map((date) => date.toISOString().slice(0, 10))
const crop = fc.record({ season: fc.integer({ min: 1900, max: 2200 }), crop: fc.constantFrom('corn', 'sweet corn') })
const quoteBreak = fc.record({ fromPacks: fc.integer({ min: 1, max: 1_000_000 }), packPriceCents: figure })
const dealerBreak = fc.record({
  fromPounds: fc.integer({ min: 1, max: 1e6 }),
  offCentsPerPound: fc.constantFrom(1, 1.5),
})
const ownDrop = fc.oneof(
  fc.record({ kind: fc.constant('fixed'), seedsPerFoot: fc.constantFrom(0.5, 6, 5.25) }),
  fc.record({ kind: fc.constant('stand'), plantsPerFoot: fc.constantFrom(4, 3.5) }),
)
const round: [string, Kind, fc.Arbitrary<CellValue>][] = [
  ['number', number(), fc.double({ min: 0, max: 1e6, noNaN: true })],
  ['percent', percent, figure.map((value) => value / 1_000_000)],
  ['dollars', dollars, figure],
  ['yes or no', yesNo, fc.boolean()],
  ['day', day, days('2000-01-01', '2100-01-01')],
  ['month and day', monthDay, days('2024-01-01', '2024-12-31').map((iso) => iso.slice(5))],
  ['names', names, fc.array(fc.constantFrom('Early', 'Usual 2', 'x/y'))],
  ['history', history, fc.array(crop)],
  ['price breaks', quoteBreaks, fc.array(quoteBreak)],
  ['dealer breaks', dealerBreaks, fc.array(dealerBreak)],
  ['drop', drop, ownDrop],
]

test.each(round)('%s: what is offered for typing reads back', (_name, kind, values) => {
  fc.assert(
    fc.property(values, (value) => {
      const typed = kind.type(value)
      if (typed === '') return
      expect(kind.read(typed)).toEqual({ ok: true, value })
    }),
  )
})

test('nematodes counted in 500 cc are kept for 100 cc', () => {
  expect(scaled(5).read('240')).toEqual({ ok: true, value: 48 })
  expect(scaled(5).show(48)).toBe('240')
})

test.each([
  ['2027-3-5', '2027-03-05'],
  ['Mar 15, 2027', '2027-03-15'],
  ['15 March 2027', '2027-03-15'],
  ['3/15/2027', '2027-03-15'],
  ['15.3.27', '2027-03-15'],
  ['4/4/2027', '2027-04-04'],
])('%s is one day only', (text, iso) => {
  expect(readDay(text)).toEqual({ ok: true, value: iso })
})

test('a day that could be two is refused with both', () => {
  const reading = readDay('3/4/2027')
  expect(reading).toMatchObject({ ok: false, what: expect.stringContaining('Mar 4, 2027 or Apr 3, 2027') })
  expect(readDay('2027-02-30').ok).toBe(false)
  expect(readDay('soon').ok).toBe(false)
  expect(readMonthDay('Apr 28')).toEqual({ ok: true, value: '04-28' })
  expect(readMonthDay('4/28').ok).toBe(false)
})

test('price breaks as they are typed', () => {
  expect(quoteBreaks.read('from 400 packs $47.25; from 800 46.10')).toEqual({
    ok: true,
    value: [
      { fromPacks: 400, packPriceCents: 4725 },
      { fromPacks: 800, packPriceCents: 4610 },
    ],
  })
  expect(quoteBreaks.read('from 1,000 bags $40')).toEqual({
    ok: true,
    value: [{ fromPacks: 1000, packPriceCents: 4000 }],
  })
  expect(quoteBreaks.read('cheaper later').ok).toBe(false)
})

describe.each(sheetNames)('%s', (sheet) => {
  test('every column has an id of its own and a label', () => {
    const columns = columnsOf(sheet, { threats: ['spotted wilt'] })
    expect(new Set(columns.map(({ id }) => id)).size).toBe(columns.length)
    expect(columns.filter(({ label }) => !/^[A-Z]/.test(label))).toEqual([])
  })
})

test('a value is found at its path, and nothing that is not the row’s own', () => {
  const row = { acres: 4, pressure: { 'a/b': 'low' } }
  expect(valueAt(row, 'acres')).toBe(4)
  expect(valueAt(row, 'pressure/a/b')).toBe('low')
  expect(valueAt(row, 'pressure/toString')).toBeNull()
  expect(valueAt(row, 'constructor')).toBeNull()
})

test('the house drop is on the rows that most acres have', () => {
  const drops = { single: 6, twin: 7 }
  expect(houseDropOf([], drops)).toEqual({
    rowPattern: 'single',
    rowSpacingIn: 36,
    seedsPerFoot: 6,
    seedsPerAcre: 87_120,
  })
  const twin = { acres: 30, rowPattern: 'twin', rowSpacingIn: 38 } as const
  const fields = [{ acres: 40, rowPattern: 'single', rowSpacingIn: 36 } as const, twin, twin]
  expect(houseDropOf(fields, drops)).toMatchObject({ rowPattern: 'twin', rowSpacingIn: 38, seedsPerFoot: 7 })
})

test.each<[string, Kind, CellValue, string, string | number | null]>([
  ['words', words, 'Creek', 'Creek', 'creek'],
  ['a choice, by its meaning', choice(['none', 'low', 'high']), 'high', 'high', 2],
  ['yes', yesNo, true, 'yes', 1],
  ['no', yesNo, false, 'no', 0],
  ['a number, up to two decimals', number(), 1234.567, '1,234.57', 1234.567],
  ['a number with its decimals', number(2), 1, '1.00', 1],
  ['another unit', scaled(5), 48, '240', 48],
  ['percent', percent, 0.875, '87.5', 0.875],
  ['dollars', dollars, 4610, '$46.10', 4610],
  ['a day', day, '2027-03-15', 'Mar 15, 2027', '2027-03-15'],
  ['a day of any year', monthDay, '04-28', 'Apr 28', '04-28'],
  ['names, by the first', names, ['Usual', 'Late'], 'Usual; Late', 'usual'],
])('%s is shown and sorted', (_name, kind, value, shown, sorted) => {
  expect(kind.show(value)).toBe(shown)
  expect(kind.sort(value)).toBe(sorted)
})

test.each<[string, Kind]>([
  ['words', words],
  ['yes or no', yesNo],
  ['a day', day],
  ['a day of any year', monthDay],
  ['names', names],
])('an empty cell of %s shows nothing, is typed as nothing and comes last', (_name, kind) => {
  expect(kind.show(null)).toBe('')
  expect(kind.type(null)).toBe('')
  expect(kind.sort(null)).toBeNull()
})

test('what is exported is in the unit of the header', () => {
  expect(percent.figure?.(0.875)).toBe(87.5)
  expect(dollars.figure?.(4610)).toBe(46.1)
  expect(scaled(5).figure?.(48)).toBe(240)
  expect(number().sort(null)).toBeNull()
})

test('a figure that is none is refused, whatever its unit', () => {
  for (const kind of [number(), scaled(5), percent, dollars]) expect(kind.read('many').ok).toBe(false)
  expect(names.read('Early;; Usual ')).toEqual({ ok: true, value: ['Early', 'Usual'] })
})

test('price breaks of dealers and drops, as they are typed', () => {
  expect(dealerBreaks.read('from 60,000 lb 1.5 c/lb off')).toEqual({
    ok: true,
    value: [{ fromPounds: 60_000, offCentsPerPound: 1.5 }],
  })
  expect(dealerBreaks.read('from 10 lb 1.2.3 c off')).toMatchObject({
    ok: false,
    what: expect.stringContaining('no price break'),
  })
  expect(dealerBreaks.read('cheaper later').ok).toBe(false)
  expect(quoteBreaks.read('from 4,0,0 packs $1.2.3').ok).toBe(false)
  expect(drop.read('6')).toEqual({ ok: true, value: { kind: 'fixed', seedsPerFoot: 6 } })
  expect(drop.read('4 plants a foot')).toEqual({ ok: true, value: { kind: 'stand', plantsPerFoot: 4 } })
  for (const typed of ['six', '1.2.3 seeds']) {
    expect(drop.read(typed)).toEqual({ ok: false, what: `"${typed}" is no drop, as "6 seeds/ft" or "4 plants/ft"` })
  }
})

test.each<[string, Kind, CellValue, string, string | number | null]>([
  ['a drop of seeds', drop, { kind: 'fixed', seedsPerFoot: 6 }, '6 seeds/ft', 6],
  ['a stand that is wanted', drop, { kind: 'stand', plantsPerFoot: 4 }, '4 plants/ft', 4],
  ['the house’s drop', drop, null, '', null],
  ['no breaks', quoteBreaks, [], '', null],
  ['breaks', quoteBreaks, [{ fromPacks: 1000, packPriceCents: 4725 }], 'from 1,000 packs $47.25', 1000],
  ['a dealer’s breaks', dealerBreaks, [{ fromPounds: 1000, offCentsPerPound: 2 }], 'from 1,000 lb 2 c/lb off', 1000],
  ['a history', history, [{ season: 2026, crop: 'Cotton' }], '’26 Cotton', 'cotton'],
])('%s: shown and sorted', (_name, kind, value, shown, sorted) => {
  expect(kind.show(value)).toBe(shown)
  expect(kind.sort(value)).toBe(sorted)
})

test.each([
  ['28 April', '04-28'],
  ['4-28', '04-28'],
  ['Feb 29', '02-29'],
])('%s is a day of any year', (typed, kept) => {
  expect(readMonthDay(typed)).toEqual({ ok: true, value: kept })
})

test.each(['Foo 3', '31 June', '13-1', 'Foo 3, 2027', '3 Foo 2027', '2/30/2027'])('%s is no day', (typed) => {
  expect(readMonthDay(typed).ok).toBe(false)
  expect(readDay(typed).ok).toBe(false)
})

test('of two row widths with the same acres the house drop is on the narrower, and on single rows', () => {
  const rows = (rowPattern: 'single' | 'twin', rowSpacingIn: number) => ({ acres: 40, rowPattern, rowSpacingIn })
  const drops = { single: 6, twin: 7 }
  expect(houseDropOf([rows('single', 38), rows('single', 36)], drops)).toMatchObject({ rowSpacingIn: 36 })
  expect(houseDropOf([rows('twin', 36), rows('single', 36)], drops)).toMatchObject({ rowPattern: 'single' })
})
