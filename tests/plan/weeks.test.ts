/**
 * Weeks in whole plans: a small farm that one week could not dig, machines of unequal hours, weeks kept by locks, what a
 * move costs, years that move days, and the check of a plan's calendar against plans that were tampered with.
 * Long because each is asked of the same two solved plans.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { checkCalendar } from '../../src-main/engine/plan/check-calendar.ts'
import { yearsOf } from '../../src-main/engine/plan/hard-year.ts'
import { moveWeek } from '../../src-main/engine/plan/move-week.ts'
import { priceSeason } from '../../src-main/engine/plan/price.ts'
import { solvePlan } from '../../src-main/engine/plan/solve-plan.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import { contextOf } from '../../src-shared/agronomy/context.ts'
import { fallWeeks } from '../../src-shared/agronomy/fall-weeks.ts'
import { hoursPerAcre, weekHours } from '../../src-shared/agronomy/harvest.ts'
import { calendarView } from '../../src-shared/calendar-view.ts'
import type { Plan } from '../../src-shared/plan.ts'
import { partsOf } from '../../src-shared/planted-part.ts'
import type { Season } from '../../src-shared/season.ts'
import { demoFarm, pick } from '../shared/demo-farm.ts'

const demo = demoFarm()

/** Three fields, 210 acres, one variety; the combine does 62 acres a week, so that all of it takes 3.4 weeks. */
function smallFarm(changes: Partial<Season> = {}): Season {
  const variety = pick(demo.varieties, ({ name }) => name === 'Brindle')
  const [combine] = demo.machines.filter(({ kind }) => kind === 'combine')
  const acresADay = (combine!.speedMph * combine!.widthFt * combine!.fieldEfficiency * combine!.hoursPerDay) / 8.25
  return {
    ...demo,
    fields: demo.fields
      .filter(({ rests }) => !rests)
      .slice(0, 3)
      .map((field) => ({ ...field, acres: 70, windows: [], split: undefined, growth: 'slow' as const })),
    varieties: [variety],
    quotes: demo.quotes
      .filter((quote) => quote.variety === variety.name)
      .map((quote) => ({ ...quote, availablePacks: undefined })),
    carried: [],
    machines: demo.machines.map((machine) => (machine.kind === 'combine' ? { ...machine, count: 1 } : machine)),
    weeks: demo.weeks.map((week) =>
      week.combiningDays === undefined ? week : { ...week, combiningDays: 62 / acresADay },
    ),
    rules: demo.rules.filter(({ rule }) => /-hours$|choose-rate/.test(rule)),
    ...changes,
  }
}

async function solved(season: Season): Promise<Plan> {
  const found = await solvePlan(season, { gap: 0.001, seconds: 120 })
  if (!found.ok || found.value.plan === null) throw new Error(JSON.stringify(found).slice(0, 2000))
  return found.value.plan
}

const dugIn = (plan: Plan) => {
  const acres = new Map<string, number>()
  for (const { dug } of plan.blocks.flatMap(partsOf))
    for (const part of dug) acres.set(part.week, (acres.get(part.week) ?? 0) + part.acres)
  return acres
}
const lost = (plan: Plan) =>
  plan.blocks
    .flatMap(partsOf)
    .flatMap(({ dug }) => dug)
    .reduce((sum, { cents }) => sum + cents, 0)

describe('210 acres of one variety that take 3.4 weeks to combine', () => {
  it('have a plan, dug over weeks, and pay for their days of delay', { timeout: 240_000 }, async () => {
    const plan = await solved(smallFarm())
    expect(plan.totals.acres).toBeCloseTo(210, 6)
    const weeks = dugIn(plan)
    expect(weeks.size).toBeGreaterThanOrEqual(3)
    // A combine that never falls behind: all at the best day, which costs next to nothing.
    const fast = await solved(smallFarm({ machines: demo.machines, weeks: demo.weeks }))
    expect(lost(plan)).toBeGreaterThan(lost(fast) + 10_000)
    expect(plan.totals.costCents).toBeGreaterThan(fast.totals.costCents)
  })
})

describe('machines of unequal hours', () => {
  const one = {
    name: 'A',
    kind: 'digger' as const,
    count: 1,
    widthFt: 18,
    speedMph: 3,
    fieldEfficiency: 0.75,
    hoursPerDay: 12,
  }
  const other = { ...one, name: 'B', widthFt: 9, hoursPerDay: 3 }
  it('do the acres that each does in its own hours, by hand', () => {
    // 3 × 18 × 0.75 / 8.25 = 4.909 acres an hour for 12 hours, and half of it for 3: 66.27 acres a day.
    const acresADay = 4.909_090_909 * 12 + 2.454_545_454 * 3
    const both = [one, other]
    expect(weekHours(both, 'digger', '2027-09-20', 5) / hoursPerAcre(both, 'digger', 0)).toBeCloseTo(5 * acresADay, 4)
  })
  it('count only on the days on which they are there', () => {
    const hired = { ...one, availableFrom: '09-23', availableUntil: '10-31' }
    const share = weekHours([hired], 'digger', '2027-09-20', 7) / weekHours([one], 'digger', '2027-09-20', 7)
    expect(share).toBeCloseTo(4 / 7, 12)
    expect(weekHours([hired], 'digger', '2027-11-01', 7)).toBe(0)
  })
})

describe('a fall played through, worked by hand', () => {
  const context = contextOf({
    ...demo,
    machines: [
      { name: 'D', kind: 'digger', count: 1, widthFt: 8.25, speedMph: 1, fieldEfficiency: 1, hoursPerDay: 10 },
    ],
  })
  const waiting = (acres: number, week: string, ripe: string, cents = 50_000) => ({ acres, work: 1, ripe, week, cents })
  it('ten acres a day, five days a week: 120 acres take three weeks, the dearest first', () => {
    const dug = fallWeeks(
      context.calendar,
      context.book,
      context.season.machines,
      [waiting(60, '2027-09-20', '2027-09-23'), waiting(60, '2027-09-20', '2027-09-23', 90_000)],
      { fitDays: () => 5 },
    )
    expect(dug[1]!.weeks).toEqual([
      { week: '2027-09-20', acres: 50 },
      { week: '2027-09-27', acres: 10 },
    ])
    expect(dug[0]!.weeks).toEqual([
      { week: '2027-09-27', acres: 40 },
      { week: '2027-10-04', acres: 20 },
    ])
    // Middle of the week at −0.5, 6.5 and 13.5 days off: 0.00063 and 0.0007 a day squared.
    expect(dug[1]!.lost).toBeCloseTo((50 * 0.000_63 * 0.25 + 10 * 0.0007 * 6.5 ** 2) / 60, 9)
    expect(dug[0]!.lost).toBeCloseTo((40 * 0.0007 * 6.5 ** 2 + 20 * 0.0007 * 13.5 ** 2) / 60, 9)
  })
  it('what a frost keeps from ripening loses as if it were dug then', () => {
    const [dug] = fallWeeks(context.calendar, context.book, [], [waiting(10, '2027-10-18', '2027-10-21')], {
      fitDays: () => 5,
      frost: '2027-10-11',
    })
    expect(dug!.lost).toBeCloseTo(0.000_63 * 100, 9)
  })
})

describe('the demo', () => {
  let plan: Plan
  let solver: Solver
  const context = contextOf(demo)
  const priced = priceSeason(demo)
  if (!priced.ok) throw new Error(JSON.stringify(priced.problems))
  const { problem } = priced.value
  beforeAll(async () => {
    plan = await solved(demo)
    solver = new Solver()
  }, 300_000)
  afterAll(() => solver.close())

  it('plants its 150-day variety early, not last', () => {
    const mean = (is: (variety: string) => boolean) => {
      const parts = plan.blocks.filter(({ variety }) => is(variety)).flatMap(partsOf)
      const acres = parts.reduce((sum, part) => sum + part.acres, 0)
      return parts.reduce((sum, part) => sum + part.acres * Date.parse(part.week), 0) / acres
    }
    const long = new Set(demo.varieties.filter(({ daysToMaturity }) => daysToMaturity >= 150).map(({ name }) => name))
    expect(plan.blocks.some(({ variety }) => long.has(variety))).toBe(true)
    expect(mean((name) => long.has(name))).toBeLessThan(mean((name) => !long.has(name)))
  })

  it('plants a field in one week or in two that follow one another', () => {
    for (const block of plan.blocks) {
      const weeks = partsOf(block).map(({ week }) => Date.parse(week) / (7 * 86_400_000))
      expect(weeks.length).toBeLessThanOrEqual(2)
      expect(Math.max(...weeks) - Math.min(...weeks)).toBeLessThanOrEqual(1)
    }
  })

  it('holds to its machines day by day, and a plan that does not is found out', () => {
    expect(checkCalendar(context, plan)).toEqual([])
    const tampered = (change: (copy: Plan) => void) => {
      const copy = structuredClone(plan)
      change(copy)
      return checkCalendar(context, copy)
        .map(({ what }) => what)
        .join('\n')
    }
    const first = (copy: Plan) => copy.blocks[0]!.planted![0]!
    expect(
      tampered((copy) => copy.blocks.forEach((block) => block.planted!.forEach((part) => (part.week = '2027-05-03')))),
    ).toMatch(/planters' work in the week of 2027-05-03/)
    expect(
      tampered((copy) =>
        copy.blocks.forEach((block) =>
          block.planted!.forEach((part) => part.dug.forEach((dug) => (dug.week = '2027-09-20'))),
        ),
      ),
    ).toMatch(/diggers' work in the week of 2027-09-20/)
    expect(tampered((copy) => (first(copy).ripe = '2027-08-02'))).toMatch(/is ripe on/)
    expect(tampered((copy) => (first(copy).dug[0]!.week = '2027-10-25'))).toMatch(/after the last safe day/)
  })

  it('shows each week’s load against what fits', () => {
    const view = calendarView(context, plan)!
    const planted = view.weeks.reduce((sum, { loads }) => sum + loads.planting.acres, 0)
    expect(planted).toBeCloseTo(plan.totals.acres, 6)
    for (const { loads } of view.weeks)
      for (const load of Object.values(loads))
        expect(load.acres).toBeLessThanOrEqual((load.fits ?? Infinity) * 1.000_01 + 1e-6)
    const [dug, combined] = (['digging', 'combining'] as const).map((work) =>
      view.weeks.reduce((sum, { loads }) => sum + loads[work].acres, 0),
    )
    expect(combined).toBeCloseTo(dug!, 6)
  })

  it('keeps a field in its week under a lock, and says what another week costs', { timeout: 300_000 }, async () => {
    const block = plan.blocks.find((each) => partsOf(each).length === 1 && each.window === 'Usual')!
    const from = partsOf(block)[0]!.week
    const options = { gap: 0.0001, seconds: 60, wholeCents: true }
    const move = (to: string) =>
      moveWeek(problem, plan, { field: block.field, variety: block.variety, from, to }, options, solver)
    const stays = await move(from)
    // In the week that it is in: what little the plan could still save.
    expect(stays.ok && Math.abs(stays.value.cents ?? Infinity)).toBeLessThan(plan.totals.costCents * 0.001)
    const never = await move('2027-07-05')
    expect(never.ok && never.value).toMatchObject({ cents: null, atLeastCents: null })
    expect(never.ok && never.value.says).toContain('outside your planting windows')
    const later = await move('2027-05-10' === from ? '2027-05-03' : '2027-05-10')
    expect(later.ok && later.value.says.length).toBeGreaterThan(10)
    const kept = await solved({ ...demo, locks: [{ field: block.field, variety: block.variety, week: from }] })
    const own = kept.blocks.filter(({ field }) => field === block.field).flatMap(partsOf)
    expect(own.map(({ week }) => week)).toEqual([from])
  })

  it('keeps the part of a split field that was moved, at no more than was said', { timeout: 300_000 }, async () => {
    const parts = plan.blocks.flatMap((block) => partsOf(block).map((part) => ({ block, part })))
    const split = parts.filter(
      ({ block, part }) => part.acres < demo.fields.find(({ name }) => name === block.field)!.acres - 1,
    )
    expect(split.length).toBeGreaterThan(0)
    const { block, part } = split[0]!
    const { field, variety } = block
    const options = { gap: 0.0001, seconds: 60, wholeCents: true }
    const weeks = [...new Set(problem.options.flatMap(({ week }) => week ?? []))].sort()
    for (const to of weeks.filter((week) => week !== part.week)) {
      const told = await moveWeek(problem, plan, { field, variety, from: part.week!, to }, options, solver)
      if (!told.ok) throw new Error(JSON.stringify(told))
      if (told.value.cents === null) continue
      const kept = await solved({ ...demo, locks: [{ field, variety, week: to, acres: part.acres }] })
      const there = kept.blocks
        .filter((each) => each.field === field && each.variety === variety)
        .flatMap(partsOf)
        .filter(({ week }) => week === to)
        .reduce((sum, { acres }) => sum + acres, 0)
      expect(there).toBeGreaterThan(part.acres - 0.01)
      expect(kept.totals.costCents).toBeLessThan(
        plan.totals.costCents + told.value.cents + 0.001 * plan.totals.costCents,
      )
      return
    }
    throw new Error('No week could be had.')
  })

  it('pays for a wet fall, an early frost and a late spring, and nothing in a usual year', () => {
    const years = new Map(yearsOf(demo, plan).map((year) => [year.name, year]))
    const usual = years.get('usual')!
    expect(usual.worseCents).toBe(0)
    expect(usual.digLossCents).toBe(lost(plan))
    for (const name of ['wet fall', 'early frost', 'late spring'] as const)
      expect(years.get(name)!.digLossCents, name).toBeGreaterThan(usual.digLossCents)
    expect(years.get('calm')!.digLossCents).toBeGreaterThan(0)
  })
})
