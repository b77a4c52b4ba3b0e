/**
 * The crop function: the goal comes back at the usual choice, no factor lowers what it should raise, and every share holds.
 * Long because one function has all its laws here.
 */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { acreValue, bestValueOf, vineCents } from '../../../src-shared/agronomy/acre-money.ts'
import { leftBy } from '../../../src-shared/agronomy/block-money.ts'
import { contextOf, type Context } from '../../../src-shared/agronomy/context.ts'
import { cropOf, cropRange, groundFor, yieldBefore, type Growing } from '../../../src-shared/agronomy/crop.ts'
import { figure, silent } from '../../../src-shared/agronomy/calculation.ts'
import { middleOf } from '../../../src-shared/agronomy/harvest.ts'
import { buildOptions } from '../../../src-shared/agronomy/option.ts'
import { dollarsPerPound } from '../../../src-shared/agronomy/price.ts'
import { standOf } from '../../../src-shared/agronomy/seed.ts'
import { pressureLevels, rowPatterns, tillages, waters, growthLevels, type Field } from '../../../src-shared/field.ts'
import type { Season } from '../../../src-shared/season.ts'
import type { Variety } from '../../../src-shared/variety.ts'
import { explain } from '../../../src-shared/agronomy/explain.ts'
import { publishedTable } from '../../published/read-csv.ts'
import { demoFarm, pick } from '../demo-farm.ts'

const farm = demoFarm()
const word = (key: string, value: string | number) => ({
  key,
  value,
  unit: '',
  source: '',
  sourceKind: 'the farm' as const,
})
const usualWindow = pick(farm.windows, ({ kind }) => kind === 'usual')

/** The usual choice as the assumptions have it: what the usual program leaves, the usual stand and rotation. */
function usualCrop(context: Context, field: Field, variety: Variety) {
  const { usual, emergence, houseDrop, season } = context
  const twoOut = { ...field, history: [{ season: season.season - 3, crop: 'peanut' }] }
  const at: Growing = {
    field: twoOut,
    variety,
    window: 'usual',
    planted: middleOf(usualWindow, season.season),
    stand: standOf(houseDrop[field.rowPattern], usual.germination, emergence[field.rowPattern]),
  }
  const left = context.threats.map(({ usualControl }) => [figure(1 - usualControl, 'usual', '×')])
  return cropOf(context, groundFor(context, twoOut), at, left)
}

describe('the anchor', () => {
  const named = (season: Season, variety: string) =>
    contextOf({ ...season, assumptions: [word('usual/variety', variety)] })

  it.each(farm.fields.map((field) => [field.name, field] as const))('makes the goal of %s to the pound', (_, field) => {
    for (const variety of farm.varieties) {
      expect(usualCrop(named(farm, variety.name), field, variety).lb).toBeCloseTo(field.yieldGoalLb, 6)
    }
  })

  it('makes the goal with a usual variety that is not named: index 1, rated 5 throughout, medium vine', () => {
    const plain: Variety = {
      ...pick(farm.varieties),
      yieldIndex: 1,
      vine: 'medium',
      daysToMaturity: 140,
      ratings: Object.fromEntries(farm.threats.map(({ name }) => [name, 5])),
    }
    for (const field of farm.fields)
      expect(usualCrop(contextOf({ ...farm, assumptions: [] }), field, plain).lb).toBeCloseTo(field.yieldGoalLb, 6)
  })

  it('a name that no variety has counts as none', () => {
    expect(named(farm, 'Nowhere').usual.variety).toBeNull()
  })
})

const fields = fc.record({
  acres: fc.constant(40),
  rowPattern: fc.constantFrom(...rowPatterns),
  water: fc.constantFrom(...waters),
  tillage: fc.constantFrom(...tillages),
  growth: fc.constantFrom(...growthLevels),
  yieldGoalLb: fc.integer({ min: 500, max: 8000 }),
  years: fc.option(fc.integer({ min: 0, max: 6 })),
  levels: fc.array(fc.constantFrom(...pressureLevels), { minLength: 5, maxLength: 5 }),
})
const plants = fc.record({
  ratings: fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 5, maxLength: 5 }),
  vine: fc.constantFrom('compact', 'medium', 'large', 'very large' as const),
  yieldIndex: fc.double({ min: 0.5, max: 1.6, noNaN: true }),
  daysToMaturity: fc.integer({ min: 110, max: 170 }),
  stand: fc.double({ min: 0, max: 10, noNaN: true }),
  window: fc.integer({ min: 0, max: 2 }),
  practices: fc.subarray(farm.measures),
})

function growing(of: {
  field: typeof fields extends fc.Arbitrary<infer F> ? F : never
  plant: typeof plants extends fc.Arbitrary<infer P> ? P : never
}) {
  const { years, levels, ...plain } = of.field
  const field: Field = {
    ...pick(farm.fields),
    ...plain,
    history: years === null ? [] : [{ season: farm.season - 1 - years, crop: 'peanut' }],
    pressure: Object.fromEntries(farm.threats.map(({ name }, t) => [name, levels[t] ?? 'none'])),
  }
  const { ratings, vine, yieldIndex, daysToMaturity, stand, window: w, practices } = of.plant
  const variety = {
    ...pick(farm.varieties),
    ratings: Object.fromEntries(farm.threats.map(({ name }, t) => [name, ratings[t] ?? 9])),
    vine: vine as Variety['vine'],
    yieldIndex,
    daysToMaturity,
  }
  const window = farm.windows[w] ?? usualWindow
  const at: Growing = { field, variety, window: window.kind, planted: middleOf(window, farm.season), stand }
  return { at, left: leftBy(context, practices) }
}
const context = contextOf(farm)
const of = ({ at, left }: ReturnType<typeof growing>) => cropOf(context, groundFor(context, at.field), at, left)
const holds = (check: (made: ReturnType<typeof growing>) => void) =>
  fc.assert(
    fc.property(fc.record({ field: fields, plant: plants }), (drawn) => check(growing(drawn))),
    { numRuns: 600 },
  )
const notLess = (a: number, b: number) => expect(a).toBeGreaterThanOrEqual(b - 1e-9 * Math.max(1, b))

describe('what must always hold, over the whole domain', () => {
  it('every share is within 0–100 %, and no yield is below nothing', () => {
    holds((made) => {
      const { lb, lossShare, losses, diggingShare } = of(made)
      for (const share of [...losses, lossShare, diggingShare]) {
        expect(share).toBeGreaterThanOrEqual(0)
        expect(share).toBeLessThanOrEqual(1)
      }
      expect(lb).toBeGreaterThanOrEqual(0)
    })
  })

  it('more plants never lower the yield, counted or planned', () => {
    holds((made) => {
      for (const isCounted of [true, false]) {
        const here = { ...made, at: { ...made.at, isCounted } }
        notLess(of({ ...here, at: { ...here.at, stand: made.at.stand + 0.3 } }).lb, of(here).lb)
      }
    })
  })

  it('more germination never lowers it', () => {
    holds((made) => {
      const emergence = context.emergence[made.at.field.rowPattern]
      const at = (germination: number) =>
        of({ ...made, at: { ...made.at, stand: standOf(6, germination, emergence) } }).lb
      notLess(at(0.95), at(0.7))
      notLess(at(0.7), at(0.4))
    })
  })

  it('a better rating never lowers it', () => {
    holds((made) => {
      const { ratings } = made.at.variety
      for (const { name } of farm.threats) {
        const better = { ...ratings, [name]: Math.max(1, (ratings[name] ?? 9) - 2) }
        notLess(of({ ...made, at: { ...made.at, variety: { ...made.at.variety, ratings: better } } }).lb, of(made).lb)
      }
    })
  })

  it('a practice never lowers it', () => {
    holds((made) => {
      notLess(of(made).lb, of({ ...made, left: leftBy(context, []) }).lb)
    })
  })

  it('planting after the best days makes less the later it is', () => {
    holds((made) => {
      const on = (planted: string) => of({ ...made, at: { ...made.at, planted } }).lb
      notLess(on(`${farm.season}-05-25`), on(`${farm.season}-06-05`))
      notLess(on(`${farm.season}-06-05`), on(`${farm.season}-06-20`))
    })
  })

  it('its range holds the usual yield', () => {
    holds(({ at, left }) => {
      const { low, usual, high } = cropRange(context, groundFor(context, at.field), at, left)
      notLess(usual, low)
      notLess(high, usual)
    })
  })
})

describe('money', () => {
  it('what is left after give-up, loss and vine is the yield at what a pound leaves', () => {
    for (const option of buildOptions(context).options.filter((_, i) => i % 7 === 0)) {
      const field = pick(farm.fields, ({ name }) => name === option.field)
      const variety = pick(farm.varieties, ({ name }) => name === option.variety)
      const vine = context.vine[variety.vine][field.growth]
      if (vine.slowing !== 0) continue
      const left = option.couldCents - option.giveUpCents - option.lossCents - option.vineCents
      const perPound = dollarsPerPound(context.book, context.price, variety, silent) * 100
      expect(left).toBeCloseTo(option.yieldLb * perPound, 6)
    }
  })

  it('the parts never exceed what the ground could bring', () => {
    const best = bestValueOf(context)
    holds(({ at, left }) => {
      if (!farm.varieties.some(({ yieldIndex }) => yieldIndex >= at.variety.yieldIndex)) return
      const ground = groundFor(context, at.field)
      const crop = cropOf(context, ground, at, left)
      const value = acreValue(context, best, ground, at.field, at.variety, crop.beforeLb, 0)
      expect(value.giveUp).toBeGreaterThanOrEqual(0)
      expect(value.giveUp).toBeCloseTo(Math.max(0, value.could - value.crop), 6)
      expect(Number.isFinite(vineCents(context, at.field, at.variety, value.crop, crop.lossShare))).toBe(true)
    })
  })

  it('a rule that leaves yield out counts nothing given up', () => {
    const off = contextOf({ ...farm, rules: [...farm.rules, { rule: 'yield-left-out', isOn: true }] })
    expect(buildOptions(off).options.every(({ giveUpCents }) => giveUpCents === 0)).toBe(true)
    expect(buildOptions(context).options.some(({ giveUpCents }) => giveUpCents > 0)).toBe(true)
  })

  it('dryland has an index of its own where one is known', () => {
    const field = { ...pick(farm.fields), water: 'dryland' as const }
    const variety = { ...pick(farm.varieties), yieldIndex: 1.2, yieldIndexDryland: 0.9 }
    const at: Growing = { field, variety, window: 'usual', planted: `${farm.season}-05-10`, stand: 4 }
    const lb = (water: Field['water']) =>
      yieldBefore(
        context,
        groundFor(context, { ...field, water: 'dryland' }),
        { ...at, field: { ...field, water } },
        silent,
      )
    expect(lb('dryland') / lb('irrigated')).toBeCloseTo(0.75, 9)
  })
})

describe('what was wrong before', () => {
  /** Two varieties alike in all but yield and price, on every field: the better pays at 10 cents a bag. */
  it('seed that yields 10 % more is worth more than 10 cents a bag, on a farm without a rule', () => {
    const better = { ...pick(farm.varieties), name: 'Better', yieldIndex: 1.1 }
    const season = { ...farm, rules: [], varieties: [{ ...better, name: 'Plain', yieldIndex: 1 }, better] }
    const { options } = buildOptions(contextOf(season))
    for (const field of farm.fields) {
      const least = (variety: string) =>
        Math.min(
          ...options
            .filter((option) => option.field === field.name && option.variety === variety)
            .map(({ cashCents, lossCents, vineCents, giveUpCents }) => cashCents + lossCents + vineCents + giveUpCents),
        )
      expect(least('Plain') - least('Better')).toBeGreaterThan(20 * 10)
    }
  })

  it('worse seed is never cheaper on the same field at the same rate', () => {
    const at = (germination: number) => {
      const variety = { ...pick(farm.varieties), germination }
      const { options } = buildOptions(contextOf({ ...farm, rules: [], varieties: [variety] }))
      return new Map(
        farm.fields.map(({ name }) => [
          name,
          Math.min(
            ...options
              .filter(({ field }) => field === name)
              .map((option) => option.cashCents + option.lossCents + option.vineCents + option.giveUpCents),
          ),
        ]),
      )
    }
    const [weak, sound] = [at(0.5), at(0.95)]
    for (const { name } of farm.fields) expect(weak.get(name)).toBeGreaterThan(sound.get(name) as number)
  })

  it('a rate of 1 seed a foot loses more than its seed saves', () => {
    const field = pick(farm.fields, ({ name }) => name === 'Long Rows')
    const cost = (drop: Field['drop']) => {
      const { options } = buildOptions(contextOf({ ...farm, rules: [], fields: [{ ...field, drop }] }))
      return Math.min(
        ...options.map((o) => o.cashCents + o.lossCents + o.vineCents + o.giveUpCents + o.seedPoundsPerAcre * 85),
      )
    }
    expect(cost({ kind: 'fixed', seedsPerFoot: 1 })).toBeGreaterThan(cost({ kind: 'fixed', seedsPerFoot: 6 }))
  })

  it('a field without a plant makes nothing', () => {
    const at: Growing = {
      field: pick(farm.fields),
      variety: pick(farm.varieties),
      window: 'usual',
      planted: `${farm.season}-05-10`,
      stand: 0,
      isCounted: true,
    }
    expect(cropOf(context, groundFor(context, at.field), at, leftBy(context, [])).lb).toBe(0)
  })
})

describe('practices that raise yield', () => {
  // T17 (NC State, Nov 2014): 1,400 lb for $8 on ground new to peanut, 200 lb on ground that had it before.
  const inoculant = {
    ...pick(farm.measures),
    name: 'Inoculant',
    group: 'inoculant',
    centsPerAcre: 800,
    efficacy: {},
    gainLb: 200,
    gainNewLb: 1400,
    isPesticide: false,
  }
  const season = { ...farm, measures: [...farm.measures, inoculant] }
  const field = pick(farm.fields)
  const rows = publishedTable('T17_practices_that_raise_yield.csv')

  it.each([
    ['new to peanut', [1, 2, 3, 4].map((ago) => ({ season: farm.season - ago, crop: 'cotton' }))],
    ['peanut before', [{ season: farm.season - 3, crop: 'peanut' }]],
  ])('an inoculant on ground %s adds the published pounds, and pays', (ground, history) => {
    const here = { ...field, history }
    const published = Number(pick(rows, (row) => row.ground === ground).yield_change_lb_ac)
    const { options } = buildOptions(contextOf({ ...season, fields: [here] }))
    const same = (withIt: boolean) =>
      pick(
        options,
        (option) =>
          option.variety === 'Brindle' &&
          option.window === 'Usual' &&
          option.programme.includes('Inoculant') === withIt &&
          option.programme.includes('Short schedule (4 sprays)') &&
          option.programme.length === (withIt ? 2 : 1),
      )
    const cost = (o: ReturnType<typeof same>) => o.cashCents + o.lossCents + o.vineCents + o.giveUpCents
    // 8 $/acre buys 200 or 1,400 lb at a quarter of a dollar.
    expect(cost(same(false)) - cost(same(true))).toBeGreaterThan(published * 20 - 800)
    const { yieldLb, programme, seedsPerFoot } = same(true)
    const working = explain(contextOf({ ...season, fields: [here] }), {
      field: here.name,
      variety: 'Brindle',
      window: 'Usual',
      programme: programme.filter((name) => name !== 'Inoculant'),
      seedsPerFoot,
    })
    if (!working.ok) throw new Error('no working')
    expect(yieldLb - pick(working.value.lines, ({ id }) => id === 'yield').value).toBeCloseTo(published, 6)
  })

  it('one that adds less than it costs is not used', () => {
    const dear = { ...inoculant, centsPerAcre: 20_000 }
    const { options } = buildOptions(contextOf({ ...season, measures: [...farm.measures, dear] }))
    const best = (name: string) =>
      options.filter(({ field: own }) => own === name).toSorted((a, b) => costOf(a) - costOf(b))[0]!
    const costOf = (o: (typeof options)[number]) => o.cashCents + o.lossCents + o.vineCents + o.giveUpCents
    for (const { name } of farm.fields) expect(best(name).programme).not.toContain('Inoculant')
  })
})
