/** The rail's quiet words, from rows as the engine gives them. */
import { expect, test } from 'vitest'
import type { FieldRow } from '../../../src-shared/field.ts'
import type { HarvestWaiting } from '../../../src-shared/harvest-total.ts'
import type { OrdersWaiting } from '../../../src-shared/order.ts'
import type { PlanRecord } from '../../../src-shared/plan.ts'
import type { QuoteRow } from '../../../src-shared/quote.ts'
import { waits } from '../../../src-renderer/frame/waits.ts'

const today = new Date(2027, 0, 20)
const field = (acres: number, yearsOut: number | null) => ({ acres, yearsOut, history: [] }) as unknown as FieldRow
const quote = (dealer: string, orderBy?: string) => ({ dealer, orderBy }) as QuoteRow
const words = (lines: { words: string }[] | undefined) => lines?.map((line) => line.words)

test('fields are counted with their acres, and those without history named', () => {
  const { fields } = waits({ fields: [field(38, 2), field(142.5, null)], isSolving: false, today })
  expect(words(fields)).toEqual(['2 fields, 180.5 acres', '1 field has no history'])
})

test('acres of a field that rests are not counted as ground to plant', () => {
  const resting = { ...field(88, 0), rests: true }
  const { fields } = waits({ fields: [field(38, 2), resting, { ...resting }], isSolving: false, today })
  expect(words(fields)).toEqual(['1 field, 38 acres', '2 fields rest'])
})

test('a crop that nobody knows is counted until it is settled', () => {
  const named = [{ ...field(38, 2), name: 'Hill', history: [{ season: 2025, crop: 'Pxt' }] }]
  const at = (settledCrops: string[]) => words(waits({ fields: named, settledCrops, isSolving: false, today }).fields)
  expect(at([])).toContain('1 crop not known')
  expect(at(['pxt'])).not.toContain('1 crop not known')
})

test('an order date that is near or past wants attention; the last day still counts', () => {
  const on = (...days: (string | undefined)[]) =>
    words(waits({ quotes: days.map((day) => quote('A', day)), isSolving: false, today }).quotes)
  expect(on('2027-01-29')).toEqual(['1 quote, 1 dealer', 'quote ends in 9 days'])
  expect(on('2027-01-20')).toEqual(['1 quote, 1 dealer', 'a quote ends today'])
  expect(on('2027-01-19', '2027-06-01')).toEqual(['2 quotes, 1 dealer', '1 quote has ended'])
  expect(on(undefined)).toEqual(['1 quote, 1 dealer'])
})

test('the plan says how it stands', () => {
  const stands = (plan: PlanRecord | null, isSolving = false) => words(waits({ plan, isSolving, today }).plan)
  expect(stands(null)).toEqual(['no plan yet'])
  expect(stands(null, true)).toEqual(['being worked out'])
  const proof = {}
  expect(stands({ plan: {}, proof, isStale: true } as PlanRecord)).toEqual(['plan is out of date'])
  expect(stands({ plan: {}, proof, isStale: false } as PlanRecord)).toEqual(['plan is up to date'])
  const without = { plan: {}, proof: { endedQuotes: ['A · B', 'A · C'] }, isStale: false } as unknown as PlanRecord
  expect(stands(without)).toEqual(['plan is up to date', '2 ended quotes left out'])
  expect(stands({ plan: null } as PlanRecord)).toEqual(['nothing fits'])
})

test('orders say how many lines are not confirmed, until when the next must go, and what dealers refused', () => {
  const none = { lines: 0, toOrder: 0, unanswered: 0, short: 0, nextOrderBy: null, isOfOlderPlan: false }
  const plan = (purchases: number) =>
    ({ plan: { purchases: Array.from({ length: purchases }) }, proof: {}, isStale: false }) as unknown as PlanRecord
  const said = (orders: OrdersWaiting, of: PlanRecord | null = plan(2)) =>
    words(waits({ orders, plan: of, isSolving: false, today }).orders)
  expect(said(none, null)).toEqual([])
  expect(said(none)).toEqual(['not made yet'])
  expect(said(none, plan(0))).toEqual([])
  const some = { ...none, lines: 5 }
  expect(said({ ...some, toOrder: 2, unanswered: 1 })).toEqual(['3 order lines not confirmed'])
  expect(said({ ...some, toOrder: 1, nextOrderBy: '2027-01-29' })).toEqual([
    '1 order line not confirmed',
    'order within 9 days',
  ])
  expect(said({ ...some, toOrder: 1, nextOrderBy: '2027-01-20' })?.[1]).toBe('order today')
  expect(said({ ...some, toOrder: 1, nextOrderBy: '2027-01-19' })?.[1]).toBe('a line was not sent in time')
  expect(said({ ...some, toOrder: 1, nextOrderBy: '2027-06-01' })).toHaveLength(1)
  expect(said({ ...some, short: 1, isOfOlderPlan: true })).toEqual(['1 line refused or cut', 'made from an older plan'])
  expect(said(some)).toEqual(['every line is confirmed'])
})

test('nothing is said of what is not known yet', () => {
  expect(waits({ isSolving: false, today })).toEqual({
    fields: undefined,
    varieties: undefined,
    quotes: undefined,
    plan: undefined,
    orders: undefined,
  })
})

test('spring waits for what is owed, for tags, for seed and for what was broken off; before any of it, for nothing', () => {
  const none = {
    owedLines: 0,
    lines: 0,
    lots: 0,
    untagged: 0,
    failing: 0,
    short: 0,
    plantings: 0,
    unfinished: 0,
    plantedAcres: 0,
    plannedAcres: 0,
    lowStands: 0,
  }
  const of = (change: Partial<typeof none>) => waits({ spring: { ...none, ...change }, isSolving: false, today })
  expect(of({})).toMatchObject({ deliveries: [] })
  expect(of({}).planting).toBeUndefined()
  expect(words(of({ owedLines: 2, lines: 5 }).deliveries)).toEqual(['2 of 5 lines to come'])
  expect(words(of({ lines: 5, lots: 3, untagged: 1, failing: 2 }).deliveries)).toEqual([
    'all is here',
    '1 lot has no tag',
    '2 lots beyond a limit',
  ])
  const busy = of({
    lots: 1,
    short: 2,
    plantings: 3,
    unfinished: 1,
    plantedAcres: 88.4,
    plannedAcres: 400,
    lowStands: 1,
  })
  expect(words(busy.rates)).toEqual(['2 varieties short'])
  expect(words(busy.planting)).toEqual(['88.4 of 400 acres', '1 half-finished', '1 low stand'])
})

test('seed on hand that was not tested since last season waits under the quotes', () => {
  const on = (carried: { germination?: number }[]) =>
    words(waits({ quotes: [], carried, isSolving: false, today }).quotes)
  expect(on([{ germination: 0.8 }])).toEqual(['none yet'])
  expect(on([{ germination: 0.8 }, {}])).toEqual(['none yet', '1 lot on hand to test'])
})

test('harvest says nothing before there is something to haul or a load', () => {
  const on = (change: Partial<HarvestWaiting>) => {
    const none = { planted: 0, withoutLoad: 0, loads: 0, unvalued: 0, heeded: 0 }
    return words(waits({ harvest: { ...none, ...change }, isSolving: false, today }).harvest)
  }
  expect(on({})).toEqual([])
  expect(on({ planted: 3, withoutLoad: 3 })).toEqual(['3 of 3 planted fields without a load'])
  expect(on({ planted: 3, withoutLoad: 1, loads: 9, unvalued: 2, heeded: 1 })).toEqual([
    '9 loads',
    '1 of 3 planted fields without a load',
    '2 loads have no value',
    '1 load to look at',
  ])
})

test.each([
  [{ loads: 0 }, []],
  [{ loads: 9, withoutLoad: 1 }, ['the crop is not all in']],
  [{ loads: 9, unvalued: 2 }, ['the crop is not all in']],
  [{ loads: 9 }, ['every field is in']],
])('the review with %j says %j', (change, says) => {
  const harvest = { planted: 4, withoutLoad: 0, unvalued: 0, heeded: 0, ...change }
  const words = waits({ harvest, isSolving: false, today: new Date('2027-10-20T10:00:00') }).review ?? []
  expect(words.map((line) => line.words)).toEqual(says)
})

test('a backup that failed waits in the rail until one is made', () => {
  expect(waits({ lacksBackup: true, isSolving: false, today }).file).toEqual([
    { words: 'no backup could be made', heed: true },
  ])
  expect(waits({ lacksBackup: false, isSolving: false, today }).file).toBeUndefined()
})
