/** The demo farm's year that is over: it goes in through the checks that a person's entries pass, and reads like a year. */
import { expect, onTestFinished, test } from 'vitest'
import { harvestedYear } from '../../src-shared/crop-year.ts'
import { demoYear } from '../../src-main/demo/demo-year.ts'
import { startTestEngine } from '../support/engine.ts'

async function opened(today = '2026-11-26') {
  const host = startTestEngine()
  onTestFinished(() => host.close())
  const farm = await host.must('farm.openDemo', { today, harvested: true })
  return { host, farm }
}

test('opened in any month, its harvest is in and the next season begun', async () => {
  expect(harvestedYear('2026-10-31')).toBe(2025)
  expect(harvestedYear('2026-11-01')).toBe(2026)
  const { host, farm } = await opened()
  expect(farm).toMatchObject({ season: 2027, isDemo: true, fields: 14 })
  const seasons = await host.must('season.list', {})
  expect(seasons.map(({ year }) => year)).toEqual([2027, 2026])
  expect(host.bugs).toEqual([])
})

test('nothing of it is dated after its end, or on a day that its machines could not have had', () => {
  const year = demoYear(2026)
  const days = [
    ...year.deliveries.map(({ arrivedOn }) => arrivedOn),
    ...year.plantings.flatMap(({ plantedOn, stands }) => [plantedOn, ...stands.map(({ countedOn }) => countedOn)]),
    ...year.loads.map(({ hauledOn }) => hauledOn),
    ...year.seen.flatMap(({ seenOn }) => seenOn ?? []),
  ]
  for (const day of days) {
    expect(day < year.endsOn && day > '2026-01-01', day).toBe(true)
  }
  const acres = new Map<string, number>()
  for (const { plantedOn, acres: planted } of year.plantings) {
    acres.set(plantedOn, (acres.get(plantedOn) ?? 0) + planted)
  }
  expect(year.plantings.reduce((sum, planting) => sum + planting.acres, 0)).toBeGreaterThan(1100)
})

test('every pound of seed is planted, gone back or counted, and every field has its loads', async () => {
  const { host } = await opened()
  const [, last] = await host.must('season.list', {})
  await host.must('season.open', { id: last!.id })
  const { lots } = await host.must('trace.list', {})
  expect(lots.length).toBe(9)
  expect(lots.filter(({ closes }) => !closes).map(({ name, off }) => [name, off])).toEqual([])
  const loads = await host.must('load.list', {})
  expect(loads.length).toBeGreaterThan(100)
  expect(loads.filter(({ valueCents, heed }) => valueCents === null || heed !== undefined)).toEqual([])
  const fields = await host.must('field.list', {})
  expect(new Set(loads.map(({ field }) => field)).size).toBe(fields.length)
  const pounds = loads.reduce((sum, { net }) => sum + net.netPounds, 0)
  const perAcre = pounds / last!.plantedAcres
  // [lb/acre] A year like others; common practice, no source.
  expect(perAcre).toBeGreaterThan(3500)
  expect(perAcre).toBeLessThan(5000)
  const plantings = await host.must('planting.list', {})
  // One field was planted with what came in place of what was planned.
  expect(plantings.heeds.filter((heed) => !heed.includes('West Eighty'))).toEqual([
    'Lot BB-2304 is Dovetail; the plan has Linden on Turpentine.',
  ])
  expect(host.bugs).toEqual([])
})

test('the next season knows what grew, and what seed is left', async () => {
  const { host } = await opened()
  const fields = await host.must('field.list', {})
  for (const field of fields) {
    expect(field.history).toContainEqual({ season: 2026, crop: 'peanut' })
    expect(field.yearsOut).toBe(0)
  }
  const carried = await host.must('carried.list', {})
  expect(carried.reduce((sum, { pounds }) => sum + pounds, 0)).toBeGreaterThan(900)
  expect(await host.must('quote.list', {})).toEqual([])
})

test('what harvest knows of measures is what the review counts', async () => {
  const { host } = await opened()
  const [, last] = await host.must('season.list', {})
  await host.must('season.open', { id: last!.id })
  const { known } = await host.must('harvest.list', {})
  const told = known.filter(({ kind }) => kind === 'measure').reduce((sum, { cents }) => sum + cents, 0)
  const review = await host.must('review.now', {})
  const typed = (await host.must('cost.list', {})).filter(({ kind }) => kind === 'measure')
  const written = typed.reduce((sum, { cents }) => sum + cents, 0)
  const counted = review.money.field.total.costs.measures
  expect(told + written).toBe(counted)
})

test('costs and review agree on digging and combining to the cent', async () => {
  const { host } = await opened()
  const [, last] = await host.must('season.list', {})
  await host.must('season.open', { id: last!.id })
  const { known } = await host.must('harvest.list', {})
  const { costs, acres } = (await host.must('review.now', {})).money.field.total
  const entries = await host.must('cost.list', {})
  for (const kind of ['digging', 'combining'] as const) {
    const sum = known.filter((cost) => cost.kind === kind).reduce((all, { cents }) => all + cents, 0)
    expect(sum, kind).toBeGreaterThan(0)
    // What was entered stands beside what is known, in place of it on its field.
    const own = entries.filter((cost) => cost.kind === kind)
    const entered = own.reduce((all, { cents, perAcre }) => all + (perAcre ? Math.round(cents * acres!) : cents), 0)
    expect(sum + entered, kind).toBe(costs[kind])
  }
})
