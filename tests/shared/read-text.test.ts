/** What people type: read as they mean it, or refused with the reason; nothing is guessed. */
import { describe, expect, it } from 'vitest'
import {
  readDollars,
  readList,
  readNumber,
  readOneOf,
  readPercent,
  readWords,
  readYesNo,
} from '../../src-shared/read-text.ts'

describe('numbers', () => {
  it.each([
    ['88', 88],
    [' 1,250.5 ', 1250.5],
    ['$46.10', 46.1],
    ['118.4 ac', 118.4],
    ['88 acres', 88],
    ['36"', 36],
    ['4,200 lb/ac', 4200],
    ['12 %', 12],
    ['-3', -3],
    ['.5', 0.5],
    ['3E5', 300_000],
  ])('%j is %d', (text, value) => {
    expect(readNumber(text)).toEqual({ ok: true, value })
  })

  it.each(['1.234,5', '12,5', '1,23', '1,2345'])('%j could be read two ways', (text) => {
    const reading = readNumber(text)
    expect(reading.ok).toBe(false)
    expect(reading.ok ? '' : reading.what).toMatch(/two ways/)
  })

  it.each(['', 'many', '12 bags or so', '1e999', '--4'])('%j is none', (text) => {
    expect(readNumber(text).ok).toBe(false)
  })
})

it('percent becomes a share', () => {
  expect(readPercent('87 %')).toEqual({ ok: true, value: 0.87 })
})

describe('dollars become whole cents', () => {
  it.each([
    ['$46.10', 4610],
    ['1,880', 188_000],
    ['0.29', 29],
    // 1.15 × 100 is 114.99999999999999 in binary.
    ['1.15', 115],
  ])('%j', (text, value) => {
    expect(readDollars(text)).toEqual({ ok: true, value })
  })

  it('refuses a fraction of a cent', () => {
    expect(readDollars('46.105').ok).toBe(false)
  })
})

it('yes, no and neither', () => {
  expect(readYesNo('Yes')).toEqual({ ok: true, value: true })
  expect(readYesNo('n')).toEqual({ ok: true, value: false })
  expect(readYesNo('maybe').ok).toBe(false)
})

it('one of a list, whatever its capitals', () => {
  expect(readOneOf(['single', 'twin'])('Twin')).toEqual({ ok: true, value: 'twin' })
  expect(readOneOf(['single', 'twin'])('triple')).toEqual({ ok: false, what: '"triple" is none of single, twin' })
  const many = Array.from({ length: 40 }, (_, at) => `Field ${at + 1}`)
  const what = '"Nowhere" is none of the 40 that are there, as Field 1, Field 2, Field 3'
  expect(readOneOf(many)('Nowhere')).toEqual({ ok: false, what })
})

it('one of a list by another word of the trade, and a word is no more than a word', () => {
  const waters = readOneOf(['irrigated', 'dryland'], { irrigated: ['pivot'], dryland: ['rainfed'] })
  expect([waters('Pivot'), waters(' rainfed')]).toEqual([
    { ok: true, value: 'irrigated' },
    { ok: true, value: 'dryland' },
  ])
  expect(waters('wet')).toEqual({ ok: false, what: '"wet" is none of irrigated, dryland' })
  expect(readOneOf(['constructor'])('wet').ok).toBe(false)
})

it('two ways to write an accent are one name', () => {
  expect(readWords('Cafe\u0301')).toEqual({ ok: true, value: 'Caf\u00e9' })
})

it('lists, with the part that will not do', () => {
  expect(readList(readWords)('Early; Usual ;')).toEqual({ ok: true, value: ['Early', 'Usual'] })
  expect(readList(readNumber)('1; x; 3')).toEqual({ ok: false, what: '"x" is not a number' })
})
