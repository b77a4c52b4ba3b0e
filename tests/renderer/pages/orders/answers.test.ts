/** What is said of a line, to the engine and in words. */
import { expect, test } from 'vitest'
import type { OrderLine } from '../../../../src-shared/order.ts'
import { isoDay } from '../../../../src-renderer/engine/today.ts'
import {
  breakWords,
  lastDayWords,
  markOf,
  offerOf,
  packsMark,
  priceMark,
  sayMark,
  waitingWords,
} from '../../../../src-renderer/pages/orders/answers.ts'

const today = '2027-01-20'
const line = (changes: Partial<OrderLine> = {}): OrderLine => ({
  id: 1,
  quoteId: 1,
  quote: 'A · B · early order',
  variety: 'B',
  state: 'to order',
  packs: 380,
  packPounds: 50,
  packPriceCents: 4850,
  sentOn: null,
  answeredOn: null,
  confirmedPacks: null,
  confirmedPriceCents: null,
  note: null,
  terms: {
    packPriceCents: 4850,
    breaks: [{ fromPacks: 400, packPriceCents: 4725 }],
    orderBy: '2027-01-31',
    returnCredit: 0,
    seedsPerPound: 690,
    germination: 0.87,
    isTreated: true,
    after: { quote: 'A · B', cents: 42_500 },
  },
  ...changes,
})
const answered = { answeredOn: today, sentOn: today, confirmedPriceCents: 4850 }

test('packs typed alone take the price that they reach; a price agreed on before stays', () => {
  expect(packsMark(line(), 350, today)).toEqual({ state: 'changed', on: today, packs: 350 })
  const own = line({ ...answered, state: 'changed', confirmedPacks: 360, confirmedPriceCents: 4800, note: 'so be it' })
  expect(packsMark(own, 350, '2027-02-01')).toEqual({
    state: 'changed',
    on: today,
    packs: 350,
    packPriceCents: 4800,
    note: 'so be it',
  })
  // After a refusal there is no price to keep.
  const refused = line({ ...answered, state: 'refused', confirmedPacks: 0, confirmedPriceCents: 9900 })
  expect(packsMark(refused, 100, today)).toEqual({ state: 'changed', on: today, packs: 100 })
  expect(priceMark(refused, 4700, today)).toMatchObject({ packs: 380, packPriceCents: 4700 })
  expect(priceMark(own, 4700, today)).toMatchObject({ packs: 360, packPriceCents: 4700 })
})

test('a line is marked again as it stands, with one thing changed', () => {
  expect(markOf(line())).toBeNull()
  expect(markOf(line({ state: 'ordered', sentOn: today }))).toEqual({ state: 'ordered', on: today })
  expect(markOf(line({ ...answered, state: 'changed', confirmedPacks: 9, note: 'x' }))).toEqual({
    state: 'changed',
    on: today,
    packs: 9,
    packPriceCents: 4850,
    note: 'x',
  })
})

test('the words of the step back fit the record, whatever the names', () => {
  const long = line({ variety: 'B'.repeat(80), packs: 1_000_000 })
  const marks = [
    { state: 'to order' },
    { state: 'ordered', on: today },
    { state: 'confirmed', on: today },
    { state: 'changed', on: today, packs: 1 },
    { state: 'refused', on: today },
  ] as const
  for (const mark of marks) expect(sayMark(mark, long).length).toBeLessThanOrEqual(200)
  expect(sayMark(marks[2], line())).toBe('Confirm 380 packs of B')
  expect(sayMark(marks[3], line())).toBe('Change B to 1 pack')
})

test('the next break says how far it is and what it would save, and a confirmed line is not tempted', () => {
  // 400 × 47.25 = 18,900.00; 380 × 48.50 = 18,430.00: nothing saved.
  expect(breakWords(line())).toBe('20 packs more to the break at $47.25')
  // 400 × 47.25 − 395 × 48.50 = −257.50
  expect(breakWords(line({ packs: 395 }))).toBe('5 packs more to the break at $47.25, and the line costs $257.50 less')
  // 300 of the same quote are on another line: the break is 5 away, and reached with 100 more.
  const sent = line({ id: 2, packs: 300, state: 'ordered' })
  const far = line({ id: 3, packs: 300, quote: 'A · C' })
  expect(breakWords(line({ packs: 95 }), [sent, far])).toBe('5 packs more to the break at $47.25')
  expect(breakWords(line({ packs: 100 }), [sent, far])).toBe('break from 400 packs reached')
  expect(breakWords(line({ packs: 400, packPriceCents: 4725 }))).toBe('break from 400 packs reached')
  expect(breakWords(line({ ...answered, state: 'confirmed', confirmedPacks: 380 }))).toBe('')
  expect(breakWords(line({ ...answered, state: 'refused', confirmedPacks: 0 }))).toBe('')
})

test('the last day is told while the line is not sent, with what is lost after it', () => {
  expect(lastDayWords(line(), today)).toEqual({
    words: 'order by Jan 31, 2027, in 11 days; after that the plain offer, $425.00 more',
    heed: true,
  })
  expect(lastDayWords(line(), '2026-11-26')?.heed).toBe(false)
  expect(lastDayWords(line(), '2027-01-31')?.words).toMatch(/^last day to order is today;/)
  expect(lastDayWords(line(), '2027-02-01')?.words).toMatch(/^last day to order was Jan 31, 2027;/)
  const scarce = line({ terms: { ...line().terms, after: null } })
  expect(lastDayWords(scarce, today)?.words).toMatch(/none of it here after that$/)
  expect(lastDayWords(line({ state: 'ordered', sentOn: today }), today)).toBeNull()
})

test('what waits is told in words; offers by their own name; today by this machine’s calendar', () => {
  expect(waitingWords([line(), line({ state: 'ordered' }), line({ state: 'refused' })])).toBe(
    '1 line to order, 1 line sent and not confirmed, 1 refused',
  )
  expect(waitingWords([line({ state: 'confirmed' })])).toBe('every line is confirmed')
  expect(offerOf('A · B · early order')).toBe('early order')
  expect(offerOf('A · B')).toBe('')
  expect(isoDay(new Date(2027, 0, 5, 23, 59))).toBe('2027-01-05')
})
