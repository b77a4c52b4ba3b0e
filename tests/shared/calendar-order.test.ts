/** The orders of work by week, and a block's weeks in words. Hand-worked. */
import { expect, test } from 'vitest'
import {
  blockWords,
  diggingOrder,
  dugWeeks,
  isEarly,
  isLate,
  lateDigging,
  plantedWeeks,
  plantingOrder,
  showWeeks,
  weeksOff,
} from '../../src-shared/calendar-order.ts'
import { aCalendar, creek, mill } from '../support/a-calendar.ts'

const short = (rows: ReturnType<typeof plantingOrder>) =>
  rows.map(({ week, field, acres, note }) => `${week} ${field.slice(0, 4)} ${acres} ${note}`.trim())

test('lists planting by week, then by the best day to dig', () => {
  expect(short(plantingOrder(aCalendar()))).toEqual([
    '2027-05-03 Mill 40',
    '2027-05-10 Mill 7 digging 1 week late, −$87',
    '2027-05-10 Cree 63 kept in this week; digging 1 week early, −$40',
  ])
})

test('lists digging by week with what its delay costs', () => {
  expect(short(diggingOrder(aCalendar()))).toEqual([
    '2027-09-20 Mill 40',
    '2027-09-20 Cree 10 1 week early, −$40',
    '2027-09-27 Mill 7 1 week late, −$87',
    '2027-09-27 Cree 53',
  ])
})

test('adds up what one field has in a week from two plantings', () => {
  const [first, second] = mill.parts
  if (!first || !second) throw new Error('Two parts.')
  const parts = [first, { ...second, dug: [{ week: '2027-09-20', acres: 7, cents: 8_700 }] }]
  const rows = diggingOrder(aCalendar({ blocks: [{ ...mill, parts }] }))
  expect(rows).toMatchObject([{ week: '2027-09-20', acres: 47, lostCents: 8_712, ripe: '2027-09-20' }])
})

test('marks planting after the insurable day and ripening after the safe one', () => {
  const view = aCalendar({ blocks: [creek], lastInsured: '2027-05-08', lastDigging: '2027-09-26' })
  expect(plantingOrder(view)[0]?.note).toContain('after the last insurable planting day')
  expect(diggingOrder(view)[1]?.note).toBe('best day is after the last safe digging day')
})

test('says a block’s weeks in one sentence', () => {
  expect(blockWords({ planted: creek.parts })).toBe(
    'Planted week of May 10, dug week of Sep 20, −$40; 53 acres wait until Sep 27.',
  )
  expect(blockWords({ planted: mill.parts })).toBe(
    'Planted week of May 3 (40 acres) and week of May 10 (7 acres), dug week of Sep 20; 7 acres wait until Sep 27, −$87.',
  )
  expect(blockWords({})).toBe('')
  expect(showWeeks(plantedWeeks({ planted: mill.parts }))).toBe('May 3, May 10')
  expect(dugWeeks({ planted: mill.parts })).toEqual(['2027-09-20', '2027-09-27'])
  expect(dugWeeks({})).toEqual([])
})

test('tells late from early by the week of the best day, and neither for less than a dollar', () => {
  expect(weeksOff('2027-09-20', '2027-09-23')).toBe(0)
  expect(weeksOff('2027-10-04', '2027-09-23')).toBe(2)
  expect(isLate({ week: '2027-09-27', cents: 99 }, '2027-09-23')).toBe(false)
  expect(isLate({ week: '2027-09-27', cents: 100 }, '2027-09-23')).toBe(true)
  expect(isEarly({ week: '2027-09-13', cents: 100 }, '2027-09-23')).toBe(true)
  const blocks = [{ planted: mill.parts }, { planted: creek.parts }, {}]
  expect(lateDigging(blocks)).toEqual({ acres: 7, cents: 8_700 })
})
