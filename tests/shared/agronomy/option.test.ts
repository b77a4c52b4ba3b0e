/**
 * Options against brute force: for every field, variety and window the cheapest allowed set of measures is among them for
 * any weight of loss, and what is excluded no set could have saved. Costs and reasons come from the workings.
 */
import { describe, expect, it } from 'vitest'
import { plantingWeeks } from '../../../src-shared/agronomy/calendar.ts'
import { contextOf } from '../../../src-shared/agronomy/context.ts'
import { explain } from '../../../src-shared/agronomy/explain.ts'
import { ratesFor } from '../../../src-shared/agronomy/drop.ts'
import { isPlantedIn } from '../../../src-shared/agronomy/ground.ts'
import { buildOptions } from '../../../src-shared/agronomy/option.ts'
import { leastExtra, seedPrices } from '../../../src-shared/agronomy/seed-price.ts'
import type { Measure } from '../../../src-shared/threat.ts'
import { sampled } from '../../support/sampled.ts'
import { demoFarm, pick } from '../demo-farm.ts'

const farm = demoFarm()
/** Fields of every kind: dryland, many nematodes, early window, last year's peanuts. */
const names = ['Alder Forty', 'Big Sandy', 'North Pivot', 'Sawmill']
const season = {
  ...farm,
  rules: farm.rules.filter(({ rule }) => rule !== 'choose-rate'),
  fields: farm.fields.filter((field) => names.includes(field.name)),
  varieties: farm.varieties.slice(0, 4),
}
const context = contextOf(season)
const { options, excluded, looked } = buildOptions(context)

const sets: Measure[][] = Array.from({ length: 2 ** season.measures.length }, (_, bits) =>
  season.measures.filter((_, m) => (bits >> m) & 1),
).filter((set) => new Set(set.map((measure) => measure.group)).size === set.length)

interface Costed {
  programme: string[]
  cash: number
  loss: number
  other: number
  pounds: number
  reasons: string[]
}

function every(field: string, variety: string, window: string, week: string, seedsPerFoot?: number): Costed[] {
  return sets.map((set) => {
    const programme = set.map((measure) => measure.name)
    const working = explain(context, { field, variety, window, week, programme, seedsPerFoot })
    if (!working.ok) throw new Error(JSON.stringify(working.problems))
    const { lines, reasons } = working.value
    const value = (id: string) => pick(lines, (line) => line.id === id).value * 100
    const other = value('vine') + value('give-up')
    const pounds = value('seed pounds') / 100
    return { programme, cash: value('cash'), loss: value('loss dollars'), other, pounds, reasons }
  })
}

/** A week of each window by turns, so that every week comes up. */
const weeks = Map.groupBy(plantingWeeks(season), ({ window }) => window.name)
let turn = 0
const weekOf = (window: string) => {
  const own = weeks.get(window) ?? []
  return own[turn++ % own.length]?.week ?? ''
}
const places = season.fields.flatMap((field) =>
  season.varieties.flatMap((variety) =>
    season.windows
      .filter((window) => isPlantedIn(field, window))
      .map((window) => [field.name, variety.name, window.name, weekOf(window.name)] as const),
  ),
)

describe('on the demo farm', () => {
  it('4 fungicide choices, 2 insecticide, 3 nematicide: 24 sets', () => {
    expect(sets).toHaveLength(24)
    expect(looked).toBeLessThanOrEqual(24 * places.length)
    const most = Math.max(...[...weeks.values()].map((own) => own.length))
    expect(options.length).toBeLessThan(looked * most)
  })

  it.each(places)('%s, %s, %s, %s', (field, variety, window, week) => {
    const all = every(field, variety, window, week)
    const allowed = all.filter((each) => each.reasons.length === 0)
    const isHere = (each: { field: string; variety: string; window: string }) =>
      each.field === field && each.variety === variety && each.window === window
    const kept = options.filter((each) => isHere(each) && each.week === week)
    const out = excluded.filter(isHere)
    expect(kept.length > 0).toBe(allowed.length > 0)
    expect(out).toHaveLength(allowed.length > 0 ? 0 : 1)
    for (const each of out) {
      expect(each.reasons.length).toBe(Math.min(...all.map(({ reasons }) => reasons.length)))
    }
    for (const weight of allowed.length === 0 ? [] : [0, 0.1, 0.35, 1, 1.7, 4, 1000]) {
      const best = Math.min(...allowed.map(({ cash, loss, other }) => cash + weight * loss + other))
      const bestKept = Math.min(
        ...kept.map((each) => each.cashCents + weight * each.lossCents + each.vineCents + each.giveUpCents),
      )
      expect(bestKept).toBeCloseTo(best, 5)
    }
  })

  it('no option is one that a rule forbids', () => {
    for (const option of sampled('options', options, 150)) {
      const found = pick(
        every(option.field, option.variety, option.window, option.week),
        (each) => each.programme.join() === option.programme.join(),
      )
      expect(found.reasons).toEqual([])
    }
  })
})

describe('where the plan chooses the seeding rate', () => {
  const free = contextOf({ ...season, rules: farm.rules })
  const built = buildOptions(free)
  const prices = seedPrices(season)

  it.each(places.filter((_, i) => i % 3 === 0))(
    '%s, %s, %s, %s: the best rate is offered at any price',
    (field, variety, window, week) => {
      const own = {
        field: pick(farm.fields, ({ name }) => name === field),
        variety: pick(farm.varieties, ({ name }) => name === variety),
        window: pick(farm.windows, ({ name }) => name === window),
      }
      const rates = ratesFor(free, own.field, own.variety, own.window)
      expect(rates.length).toBeGreaterThanOrEqual(1)
      const all = rates.flatMap(({ seedsPerFoot }) => every(field, variety, window, week, seedsPerFoot))
      const allowed = all.filter(({ reasons }) => reasons.length === 0)
      const kept = built.options.filter(
        (o) => o.field === field && o.variety === variety && o.window === window && o.week === week,
      )
      const { least, most } = prices.get(variety)!
      for (const perPound of allowed.length === 0 ? [] : [least, (least + most) / 2, most]) {
        const best = Math.min(
          ...allowed.map(({ cash, loss, other, pounds }) => cash + loss + other + perPound * pounds),
        )
        const bestKept = Math.min(
          ...kept.map((o) => o.cashCents + o.lossCents + o.vineCents + o.giveUpCents + perPound * o.seedPoundsPerAcre),
        )
        expect(bestKept).toBeCloseTo(best, 5)
      }
    },
  )

  it.each(places.filter((_, i) => i % 7 === 0))(
    '%s, %s, %s: the best rate is offered whatever carried seed other fields leave',
    (field, variety, window, week) => {
      const own = {
        field: pick(farm.fields, ({ name }) => name === field),
        variety: pick(farm.varieties, ({ name }) => name === variety),
        window: pick(farm.windows, ({ name }) => name === window),
      }
      const block = own.field.split?.leastBlockAcres ?? own.field.acres
      const all = ratesFor(free, own.field, own.variety, own.window).flatMap(({ seedsPerFoot }) =>
        every(field, variety, window, week, seedsPerFoot),
      )
      const allowed = all.filter(({ reasons }) => reasons.length === 0)
      const { least } = prices.get(variety)!
      // None, too little for the block, just between two of its rates, more than enough.
      for (const carried of [0, 0.5, 1.05, 9].map((times) => times * block * Math.min(...all.map((o) => o.pounds)))) {
        const carriedSeed = [{ variety, pounds: carried, mustUse: false, isOwnGrown: false }]
        const kept = buildOptions(
          contextOf({ ...season, rules: farm.rules.filter(({ rule }) => rule !== 'reserve'), carried: carriedSeed }),
        ).options.filter((o) => o.field === field && o.variety === variety && o.window === window && o.week === week)
        for (const left of allowed.length === 0 ? [] : [0, carried / 2, carried]) {
          const seed = (pounds: number) => (least * Math.max(0, block * pounds - left)) / block
          const best = Math.min(...allowed.map((o) => o.cash + o.loss + o.other + seed(o.pounds)))
          const bestKept = Math.min(
            ...kept.map((o) => o.cashCents + o.lossCents + o.vineCents + o.giveUpCents + seed(o.seedPoundsPerAcre)),
          )
          expect(bestKept).toBeCloseTo(best, 5)
        }
      }
    },
  )

  it('carried seed that cannot plant the smallest block adds no option, and what plants it adds some', () => {
    const options = (pounds: number) =>
      buildOptions(contextOf({ ...farm, carried: [{ variety: 'Brindle', pounds, mustUse: false, isOwnGrown: false }] }))
        .options.length
    expect(options(1150)).toBe(options(0))
    expect(options(20_000)).toBeGreaterThan(options(0))
  })

  it('what a thicker rate’s seed costs more: nothing on carried seed, the least price beyond it', () => {
    const price = { least: 80, most: 90, isLimited: false, carriedPounds: 4400, mustUse: false }
    // 4,400 lb plant 110 lb/acre of 40 acres.
    const extra = (thin: number, thick: number, mustUse = false) =>
      leastExtra({ ...price, mustUse }, { acres: 40 }, thin, thick)
    expect(extra(90, 110)).toBe(0)
    expect(extra(90, 120)).toBe(800)
    expect(extra(110, 120)).toBe(800)
    expect(extra(90, 100, true)).toBe(-Infinity)
    expect(extra(110, 120, true)).toBe(800)
    expect(leastExtra(price, { acres: 40, split: { leastBlockAcres: 10, mostVarieties: 2 } }, 110, 120)).toBe(0)
  })

  it('a field with a rate of its own keeps it, and no rate goes below the least stand', () => {
    const field = { ...pick(farm.fields), drop: { kind: 'fixed' as const, seedsPerFoot: 7 } }
    const rates = buildOptions(contextOf({ ...farm, fields: [field] })).options.map(({ seedsPerFoot }) => seedsPerFoot)
    expect(new Set(rates)).toEqual(new Set([7]))
    expect(Math.min(...built.options.map(({ stand }) => stand))).toBeGreaterThanOrEqual(
      free.book.number('rate/least stand'),
    )
    expect(new Set(built.options.map(({ seedsPerFoot }) => seedsPerFoot)).size).toBeGreaterThan(2)
  })
})

it('a measure that bears on nothing here is not looked at, unless a rule asks for its group', () => {
  const field = { ...pick(farm.fields, (each) => each.windows.length === 0), pressure: {}, nematodesPer100cc: 0 }
  const rule = { rule: 'always-measure' as const, subject: 'nematicide', isOn: true }
  const built = (rules: (typeof rule)[]) => buildOptions(contextOf({ ...farm, fields: [field], rules }))
  expect(new Set(built([]).options.map((option) => option.programme.length))).toEqual(new Set([0]))
  // The cheaper of the two nematicides, since neither does anything here.
  const asked = built([rule])
  expect(asked.excluded).toEqual([])
  expect(new Set(asked.options.map((option) => option.programme.join()))).toEqual(new Set(['In-furrow nematicide']))
})

it('a count over the threshold brings the nematicides up, also where the manager sees no pressure', () => {
  const field = {
    ...pick(farm.fields),
    windows: [],
    pressure: { 'root-knot nematode': 'none' as const },
    nematodesPer100cc: 50,
  }
  const rules = farm.rules.filter((rule) => rule.rule === 'nematode-threshold')
  const { options, excluded } = buildOptions(contextOf({ ...farm, fields: [field], rules }))
  const programmes = (most: number, least: number) => {
    const own = farm.varieties.filter(
      ({ ratings: { 'root-knot nematode': rating = 9 } }) => rating <= most && rating >= least,
    )
    const names = new Set(own.map((variety) => variety.name))
    return new Set(options.filter((option) => names.has(option.variety)).map((option) => option.programme.join()))
  }
  expect(excluded).toEqual([])
  expect(programmes(9, 4)).toEqual(new Set(['In-furrow nematicide']))
  expect(programmes(3, 1)).toEqual(new Set(['']))
})

it('offers a rate and program that is worth keeping in one week in every week of its window', () => {
  // Cheap seed: a thicker rate pays in weeks of full yield and not in late ones.
  const quotes = farm.quotes.map((quote) => ({
    ...quote,
    packPriceCents: Math.round(quote.packPriceCents / 5),
    breaks: [],
  }))
  const places = Map.groupBy(
    buildOptions(contextOf({ ...farm, quotes })).options,
    ({ field, variety, window }) => `${field}/${variety}/${window}`,
  )
  for (const [place, own] of places) {
    const weeks = new Set(own.map(({ week }) => week)).size
    const groups = Map.groupBy(own, ({ programme, seedsPerFoot }) => `${programme.join()}@${seedsPerFoot}`)
    for (const [group, members] of groups) expect(members.length, `${place} ${group}`).toBe(weeks)
  }
})
