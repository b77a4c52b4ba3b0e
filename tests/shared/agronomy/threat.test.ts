/** Losses to diseases and pests: by hand, one canopy, ranges, a farm's own, soil counts, and what must always hold. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { silent } from '../../../src-shared/agronomy/calculation.ts'
import { readCanopy } from '../../../src-shared/agronomy/canopy.ts'
import { contextOf } from '../../../src-shared/agronomy/context.ts'
import { levelsOf } from '../../../src-shared/agronomy/levels.ts'
import { buildOptions } from '../../../src-shared/agronomy/option.ts'
import {
  combineLosses,
  countedLevel,
  lossesAfter,
  nematodesPer100cc,
  shareBefore,
  type End,
  type ThreatCase,
} from '../../../src-shared/agronomy/threat.ts'
import { readThreat, threatNotices, type ThreatTable } from '../../../src-shared/agronomy/threat-table.ts'
import { Book, type Assumption } from '../../../src-shared/assumption.ts'
import { starterBook } from '../../../src-shared/book/starter.ts'
import { pressureLevels, rowPatterns, tillages, waters } from '../../../src-shared/field.ts'
import type { Threat } from '../../../src-shared/threat.ts'
import { windowKinds } from '../../../src-shared/window.ts'
import { demoFarm, pick } from '../demo-farm.ts'

const book = new Book(starterBook)
const known: Threat[] = demoFarm().threats
const table = (name: string, from = book) =>
  readThreat(
    from,
    pick(known, (threat) => threat.name === name),
  )
const own = (key: string, value: number): Assumption => ({ key, value, unit: '', source: '', sourceKind: 'the farm' })
const before = (of: ThreatTable, at: ThreatCase, end: End = 'usual', from = book) =>
  shareBefore(from, of, at, silent, end)
/** A share whose odds are multiplied, worked here in another way: 1 / (1 + 1 / (odds × factor)). */
const odds = (share: number, factor: number) => 1 / (1 + (1 - share) / (share * factor))

/** Reference circumstances: every factor is 1, whatever the disease. */
const reference: ThreatCase = {
  level: 'high',
  rating: 9,
  rated: () => 'rated',
  window: 'usual',
  rows: 'single',
  water: 'dryland',
  tillage: 'conventional',
  yearsOut: 2,
  stand: 4,
  vine: 1,
  vineKey: '',
}

describe('by hand', () => {
  it('takes the base share of a variety rated 9 where every factor is 1', () => {
    expect(before(table('early leaf spot'), reference)).toBeCloseTo(0.8, 12)
    expect(before(table('southern stem rot'), reference)).toBeCloseTo(0.19, 12)
    expect(before(table('spotted wilt'), reference)).toBeCloseTo(0.16, 12)
  })

  it('multiplies odds: rated 5 (0.55), early (1.6), strip (0.8), half a plant missing (1.075)', () => {
    const at: ThreatCase = { ...reference, rating: 5, window: 'early', tillage: 'strip', stand: 3.5 }
    expect(before(table('spotted wilt'), at)).toBeCloseTo(odds(0.16, 0.55 * 1.6 * 0.8 * 1.075), 12)
  })

  it('puts a rating between two on the line between them', () => {
    expect(before(table('spotted wilt'), { ...reference, rating: 4.5 })).toBeCloseTo(odds(0.16, (0.38 + 0.55) / 2), 12)
  })

  it('counts the vine for leaf diseases only', () => {
    const large = { ...reference, vine: 1.3, vineKey: 'vine/large/usual/leaf disease' }
    expect(before(table('late leaf spot'), large)).toBeCloseTo(odds(0.9, 1.3), 12)
    expect(before(table('spotted wilt'), large)).toBeCloseTo(0.16, 12)
  })

  it('counts the stand for spotted wilt in single rows only, between 2 and 4 plants (Peanut Science art. 1239, 1245)', () => {
    const thin = { ...reference, stand: 3 }
    expect(before(table('spotted wilt'), thin)).toBeCloseTo(odds(0.16, 1.15), 12)
    expect(before(table('spotted wilt'), { ...thin, rows: 'twin' })).toBeCloseTo(odds(0.16, 0.75), 12)
    expect(before(table('spotted wilt'), { ...reference, stand: 0.5 })).toBeCloseTo(odds(0.16, 1.3), 12)
    expect(before(table('spotted wilt'), { ...reference, stand: 9 })).toBeCloseTo(0.16, 12)
  })

  it('combines 10 % and 20 % to 28 %', () => {
    expect(combineLosses([0.1, 0.2])).toBeCloseTo(0.28, 12)
  })
})

describe('one canopy', () => {
  const tables = [table('early leaf spot'), table('late leaf spot'), table('spotted wilt')]
  const canopy = readCanopy(book)
  const losses = (shares: number[], leaves = [1, 1, 1], end: End = 'usual') =>
    lossesAfter(tables, canopy, shares, leaves, end)

  it('takes no leaf twice: 50 % and 50 % leave a quarter of the leaves', () => {
    // 75 % missing: 0.45 × ((0.75 − 0.25) / 0.75)^1.5.
    expect(combineLosses(losses([0.5, 0.5, 0]))).toBeCloseTo(0.45 * (2 / 3) ** 1.5, 12)
  })

  it('lays the loss to each by the leaves it took', () => {
    const [early = 0, late = 0] = losses([0.5, 0.5, 0])
    expect(early).toBeCloseTo(late, 12)
    const [less = 0, more = 0] = losses([0.2, 0.7, 0])
    expect(more).toBeGreaterThan(less)
  })

  it('costs nothing up to a quarter of the leaves (T26: 25–30 %)', () => {
    expect(combineLosses(losses([0.1, 0.15, 0]))).toBe(0)
  })

  it('counts what is no leaf disease as yield at once', () => {
    expect(losses([0, 0, 0.1], [1, 1, 0.5])[2]).toBeCloseTo(0.05, 12)
  })

  it('orders its ends', () => {
    for (const share of [0.1, 0.3, 0.5, 0.7, 0.9, 0.98]) {
      const [low, usual, high] = (['low', 'usual', 'high'] as const).map((end) =>
        combineLosses(losses([share, share / 2, 0], [1, 1, 1], end)),
      )
      expect(low).toBeLessThanOrEqual(usual!)
      expect(usual).toBeLessThanOrEqual(high!)
    }
  })
})

describe('ranges', () => {
  it('has the ends of the published 0.9–2.9 % a locus of stem rot: 10 loci are 9–29 %', () => {
    expect(before(table('southern stem rot'), reference, 'low')).toBeCloseTo(0.09, 12)
    expect(before(table('southern stem rot'), reference, 'high')).toBeCloseTo(0.29, 12)
  })

  it('has the value at both ends where no range was found', () => {
    const at = (end: End) => before(table('spotted wilt'), reference, end)
    expect([at('low'), at('high')]).toEqual([at('usual'), at('usual')])
  })

  it("widens the published ends by a farm's own slope outside them", () => {
    const steep = new Book(starterBook, [{ ...own('threat/southern stem rot/slope', 0.04), low: 0.009, high: 0.029 }])
    const at = (end: End) => before(table('southern stem rot', steep), reference, end, steep)
    expect(at('high')).toBe(at('usual'))
    expect(at('low')).toBeLessThan(at('usual'))
  })

  it('takes a loss that the assumptions state as yield, before missing leaves', () => {
    const rows = pressureLevels.map((level) => own(`threat/early leaf spot/loss/${level}`, 0.5))
    const stated = table('early leaf spot', new Book(starterBook, rows))
    expect(stated.takes).toBe('yield')
    expect(before(stated, reference)).toBeCloseTo(0.5, 12)
  })
})

describe("a disease of the farm's own", () => {
  const rot: Threat = { name: 'Pod rot (Pythium/Rhizoctonia)', kind: 'soil' }
  const farm = demoFarm()
  const season = { ...farm, threats: [...farm.threats, rot] }
  const field = pick(season.fields)
  field.pressure[rot.name] = 'high'

  it('counts as no loss without a row, and that is said', () => {
    const built = buildOptions(contextOf(season))
    expect(built.options.every((option) => option.losses[5] === 0)).toBe(true)
    expect(built.notices).toHaveLength(1)
    expect(built.notices[0]).toMatchObject({ code: 'missing', where: { name: rot.name } })
    expect(buildOptions(contextOf(farm)).notices).toEqual([])
    // Nothing lost, as the farm says itself, is an answer.
    const nothing = { ...season, assumptions: [own(`threat/${rot.name}/loss/high`, 0)] }
    expect(buildOptions(contextOf(nothing)).notices).toEqual([])
  })

  it('counts with rows like any other, unrated varieties as rated 9', () => {
    const rows = [own(`threat/${rot.name}/loss/high`, 0.1), own(`threat/${rot.name}/water/${field.water}`, 2)]
    const built = buildOptions(contextOf({ ...season, assumptions: rows }))
    const here = built.options.filter((option) => option.field === field.name && option.programme.length === 1)
    expect(here.length).toBeGreaterThan(0)
    for (const option of here) expect(option.losses[5]).toBeCloseTo(odds(0.1, 2), 12)
    expect(built.notices).toEqual([])
  })
})

describe('nematodes', () => {
  it('counts in 500 cc are five times those in 100 cc: the published 44–83 are 8.8–16.6', () => {
    expect(nematodesPer100cc(44, 500)).toBeCloseTo(8.8, 12)
    expect(nematodesPer100cc(83, 500)).toBeCloseTo(16.6, 12)
    expect(nematodesPer100cc(12, 100)).toBe(12)
  })

  it.each([
    [0, 'none'],
    [1, 'low'],
    [8.9, 'low'],
    [9, 'moderate'],
    [16.9, 'moderate'],
    [17, 'high'],
    [60, 'severe'],
    [9999, 'severe'],
  ])('%s in 100 cc is %s pressure', (count, level) => {
    expect(countedLevel(table('root-knot nematode'), count)).toBe(level)
  })

  it('reads a count only where the manager gave no level, and only for the pest it speaks of', () => {
    const farm = demoFarm({ threats: [...known, { name: 'lesion nematode', kind: 'nematode' }] })
    const context = contextOf(farm)
    const field = { ...pick(farm.fields), pressure: {}, nematodesPer100cc: 20 }
    expect(levelsOf(context, field)).toEqual(['none', 'none', 'none', 'none', 'high', 'none'])
    expect(levelsOf(context, { ...field, pressure: { 'root-knot nematode': 'low' } })[4]).toBe('low')
    expect(levelsOf(context, { ...field, nematodesPer100cc: undefined })[4]).toBe('none')
    // Southern root-knot does not feed on peanut (Arkansas, T27).
    expect(levelsOf(context, { ...field, nematodeSpecies: 'southern root-knot' })[4]).toBe('none')
    expect(levelsOf(context, { ...field, nematodeSpecies: 'peanut root-knot' })[4]).toBe('high')
  })
})

describe('what must always hold', () => {
  const cases = fc.record({
    level: fc.constantFrom(...pressureLevels),
    rating: fc.integer({ min: 1, max: 9 }),
    rated: fc.constant(() => ''),
    window: fc.constantFrom(...windowKinds),
    rows: fc.constantFrom(...rowPatterns),
    water: fc.constantFrom(...waters),
    tillage: fc.constantFrom(...tillages),
    yearsOut: fc.option(fc.integer({ min: 0, max: 8 })),
    stand: fc.double({ min: 0, max: 12, noNaN: true }),
    vine: fc.double({ min: 0.5, max: 3, noNaN: true }),
    vineKey: fc.constant('vine/large/usual/leaf disease'),
  })
  const leaves = fc.double({ min: 0, max: 1, noNaN: true })
  const tables = known.map((threat) => table(threat.name))
  const canopy = readCanopy(book)
  const all = (at: ThreatCase, left: number, end: End = 'usual') =>
    lossesAfter(
      tables,
      canopy,
      tables.map((each) => before(each, at, end)),
      tables.map(() => left),
      end,
    )
  const holds = (check: (at: ThreatCase, left: number) => void) =>
    fc.assert(fc.property(cases, leaves, check), { numRuns: 1000 })
  const notLess = (a: number, b: number) => expect(a).toBeGreaterThanOrEqual(b - 1e-12)

  it('every loss is within 0–100 %, and so is all loss together', () => {
    holds((at, left) => {
      for (const share of all(at, left)) {
        expect(share).toBeGreaterThanOrEqual(0)
        expect(share).toBeLessThanOrEqual(1)
      }
      expect(combineLosses(all(at, left))).toBeLessThanOrEqual(1)
    })
  })

  it('a worse rating never lowers it', () => {
    holds((at, left) => {
      notLess(combineLosses(all({ ...at, rating: Math.min(9, at.rating + 1) }, left)), combineLosses(all(at, left)))
    })
  })

  it('more pressure never lowers it', () => {
    holds((at, left) => {
      const level = pressureLevels[Math.min(4, pressureLevels.indexOf(at.level) + 1)] ?? at.level
      notLess(combineLosses(all({ ...at, level }, left)), combineLosses(all(at, left)))
    })
  })

  it('a shorter rotation never lowers it', () => {
    holds((at, left) => {
      if (at.yearsOut === null || at.yearsOut === 0) return
      notLess(combineLosses(all({ ...at, yearsOut: at.yearsOut - 1 }, left)), combineLosses(all(at, left)))
    })
  })

  it('more plants never raise it', () => {
    holds((at, left) => {
      notLess(combineLosses(all(at, left)), combineLosses(all({ ...at, stand: at.stand + 0.5 }, left)))
    })
  })

  it('a practice never raises it', () => {
    holds((at, left) => {
      notLess(combineLosses(all(at, left)), combineLosses(all(at, left * 0.7)))
    })
  })

  it('low ≤ usual ≤ high', () => {
    holds((at, left) => {
      const of = (end: End) => combineLosses(all(at, left, end))
      notLess(of('usual'), of('low'))
      notLess(of('high'), of('usual'))
    })
  })
})

it('every disease and pest of the starter set has a loss', () => {
  expect(threatNotices(known.map((threat) => readThreat(book, threat)))).toEqual([])
})
