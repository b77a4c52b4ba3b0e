/** The rail's quiet words, from rows as the engine gives them. */
import { expect, test } from 'vitest'
import type { FieldRow } from '../../../src-shared/field.ts'
import type { PlanRecord } from '../../../src-shared/plan.ts'
import type { QuoteRow } from '../../../src-shared/quote.ts'
import { waits } from '../../../src-renderer/frame/waits.ts'

const today = new Date(2027, 0, 20)
const field = (acres: number, yearsOut: number | null) => ({ acres, yearsOut }) as FieldRow
const quote = (dealer: string, orderBy?: string) => ({ dealer, orderBy }) as QuoteRow
const words = (lines: { words: string }[] | undefined) => lines?.map((line) => line.words)

test('fields are counted with their acres, and those without history named', () => {
  const { fields } = waits({ fields: [field(38, 2), field(142.5, null)], isSolving: false, today })
  expect(words(fields)).toEqual(['2 fields, 180.5 acres', '1 without crop history'])
})

test('an order date that is near or past wants attention; the last day still counts', () => {
  const on = (...days: (string | undefined)[]) =>
    words(waits({ quotes: days.map((day) => quote('A', day)), isSolving: false, today }).quotes)
  expect(on('2027-01-29')).toEqual(['1 quote, 1 dealer', 'next ends in 9 days'])
  expect(on('2027-01-20')).toEqual(['1 quote, 1 dealer', 'one ends today'])
  expect(on('2027-01-19', '2027-06-01')).toEqual(['2 quotes, 1 dealer', '1 past their order date'])
  expect(on(undefined)).toEqual(['1 quote, 1 dealer'])
})

test('the plan says how it stands', () => {
  const stands = (plan: PlanRecord | null, isSolving = false) => words(waits({ plan, isSolving, today }).plan)
  expect(stands(null)).toEqual(['no plan yet'])
  expect(stands(null, true)).toEqual(['being worked out'])
  expect(stands({ plan: {}, isStale: true } as PlanRecord)).toEqual(['plan is out of date'])
  expect(stands({ plan: {}, isStale: false } as PlanRecord)).toEqual(['plan is up to date'])
  expect(stands({ plan: null } as PlanRecord)).toEqual(['nothing fits'])
})

test('nothing is said of what is not known yet', () => {
  expect(waits({ isSolving: false, today })).toEqual({
    fields: undefined,
    varieties: undefined,
    quotes: undefined,
    plan: undefined,
  })
})
