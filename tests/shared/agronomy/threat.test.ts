/** Expected losses: hand-worked numbers, the ends of ranges, threats of one's own, soil counts, and what must hold always. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { contextOf } from '../../../src-shared/agronomy/context.ts'
import { levelsOf } from '../../../src-shared/agronomy/ground.ts'
import { buildOptions } from '../../../src-shared/agronomy/option.ts'
import {
  combineLosses,
  countedLevel,
  lossAfter,
  lossBeforeMeasures,
  lossRange,
  nematodesPer100cc,
  type ThreatCase,
} from '../../../src-shared/agronomy/threat.ts'
import { readThreat, threatNotices } from '../../../src-shared/agronomy/threat-table.ts'
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

/** Reference circumstances: every factor is 1, whatever the threat. */
const reference: ThreatCase = {
  level: 'high',
  rating: 9,
  window: 'usual',
  rows: 'single',
  water: 'dryland',
  tillage: 'conventional',
  yearsOut: 2,
  stand: 4,
  vine: 1,
}

describe('by hand', () => {
  it('B alone: 80 points × 0.205 % for early leaf spot, 10 loci × 1.9 % for stem rot, 16 % for spotted wilt', () => {
    expect(lossBeforeMeasures(table('early leaf spot'), reference)).toBeCloseTo(0.164, 12)
    expect(lossBeforeMeasures(table('southern stem rot'), reference)).toBeCloseTo(0.19, 12)
    expect(lossBeforeMeasures(table('spotted wilt'), reference)).toBeCloseTo(0.16, 12)
  })

  it('spotted wilt: rated 5 (0.55), early (1.6), strip (0.8), half a plant missing (1.075), insecticide 35 %', () => {
    const at: ThreatCase = { ...reference, rating: 5, window: 'early', tillage: 'strip', stand: 3.5 }
    const before = lossBeforeMeasures(table('spotted wilt'), at)
    expect(before).toBeCloseTo(0.16 * 0.55 * 1.6 * 0.8 * 1.075, 12)
    expect(lossAfter(before, [0.35])).toBeCloseTo(0.65 * before, 12)
  })

  it('a rating between two is on the line between them', () => {
    expect(lossBeforeMeasures(table('spotted wilt'), { ...reference, rating: 4.5 })).toBeCloseTo(
      0.16 * (0.38 + 0.55) * 0.5,
      12,
    )
  })

  it('leaf diseases go by the vine, the others do not', () => {
    const large = { ...reference, vine: 1.3 }
    expect(lossBeforeMeasures(table('late leaf spot'), large)).toBeCloseTo(1.3 * 90 * 0.00205, 12)
    expect(lossBeforeMeasures(table('spotted wilt'), large)).toBeCloseTo(0.16, 12)
  })

  it('the stand bears on spotted wilt in single rows only (Peanut Science art. 1239, 1245)', () => {
    const thin = { ...reference, stand: 3 }
    expect(lossBeforeMeasures(table('spotted wilt'), thin)).toBeCloseTo(0.16 * 1.15, 12)
    expect(lossBeforeMeasures(table('spotted wilt'), { ...thin, rows: 'twin' })).toBeCloseTo(0.16 * 0.75, 12)
  })

  it('together: 10 % and 20 % take 28 %', () => {
    expect(combineLosses([0.1, 0.2])).toBeCloseTo(0.28, 12)
  })
})

describe('ranges', () => {
  it('leaf spot has the ends of the published slope, 1.3–2.8 % for 10 points: 80 points are 10.4–22.4 %', () => {
    const range = lossRange(table('early leaf spot'), reference)
    expect(range.low).toBeCloseTo(0.104, 12)
    expect(range.usual).toBeCloseTo(0.164, 12)
    expect(range.high).toBeCloseTo(0.224, 12)
  })

  it('stem rot 0.9–2.9 % a locus: 10 loci are 9–29 %, and a measure shrinks both ends', () => {
    expect(lossRange(table('southern stem rot'), reference, [0.5]).low).toBeCloseTo(0.045, 12)
    expect(lossRange(table('southern stem rot'), reference, [0.5]).high).toBeCloseTo(0.145, 12)
  })

  it('without a published range the ends are the value', () => {
    const { low, usual, high } = lossRange(table('spotted wilt'), reference)
    expect([low, high]).toEqual([usual, usual])
  })

  it("a farm's own slope outside the published ends widens them", () => {
    const steep = new Book(starterBook, [{ ...own('threat/early leaf spot/slope', 0.004), low: 0.0013, high: 0.0028 }])
    const range = lossRange(table('early leaf spot', steep), reference)
    expect(range.high).toBe(range.usual)
    expect(range.low).toBeLessThan(range.usual)
  })

  it('a loss that the book states goes before severity × slope', () => {
    const stated = new Book(starterBook, [own('threat/early leaf spot/loss/high', 0.5)])
    expect(lossBeforeMeasures(table('early leaf spot', stated), reference)).toBe(0.5)
  })
})

describe("threats of one's own", () => {
  const rot: Threat = { name: 'Pod rot (Pythium/Rhizoctonia)', kind: 'soil' }
  const farm = demoFarm()
  const season = { ...farm, threats: [...farm.threats, rot] }
  const field = pick(season.fields)
  field.pressure[rot.name] = 'high'

  it('without a row counts as no loss, and that is said', () => {
    const built = buildOptions(contextOf(season))
    expect(built.options.every((option) => option.losses[5] === 0)).toBe(true)
    expect(built.notices).toHaveLength(1)
    expect(built.notices[0]).toMatchObject({ code: 'missing', where: { name: rot.name } })
    expect(buildOptions(contextOf(farm)).notices).toEqual([])
    // Nothing lost, as the farm says itself, is an answer.
    const nothing = { ...season, assumptions: [own(`threat/${rot.name}/loss/high`, 0)] }
    expect(buildOptions(contextOf(nothing)).notices).toEqual([])
  })

  it('with rows counts like any other, unrated varieties as rated 9', () => {
    const rows = [own(`threat/${rot.name}/loss/high`, 0.1), own(`threat/${rot.name}/water/${field.water}`, 2)]
    const built = buildOptions(contextOf({ ...season, assumptions: rows }))
    const here = built.options.filter((option) => option.field === field.name && option.programme.length === 1)
    expect(here.length).toBeGreaterThan(0)
    for (const option of here) expect(option.losses[5]).toBeCloseTo(0.2, 12)
    expect(built.notices).toEqual([])
  })
})

describe('nematodes', () => {
  it('a count in 500 cc is a fifth of it in 100 cc: the published 44–83 are 8.8–16.6', () => {
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

  it('a count is read only where the manager gave no level, and only for the threat it speaks of', () => {
    const farm = demoFarm({ threats: [...known, { name: 'lesion nematode', kind: 'nematode' }] })
    const context = contextOf(farm)
    const field = { ...pick(farm.fields), pressure: {}, nematodesPer100cc: 20 }
    expect(levelsOf(context, field)).toEqual(['none', 'none', 'none', 'none', 'high', 'none'])
    expect(levelsOf(context, { ...field, pressure: { 'root-knot nematode': 'low' } })[4]).toBe('low')
    expect(levelsOf(context, { ...field, nematodesPer100cc: undefined })[4]).toBe('none')
  })
})

describe('what must always hold', () => {
  const cases = fc.record({
    level: fc.constantFrom(...pressureLevels),
    rating: fc.integer({ min: 1, max: 9 }),
    window: fc.constantFrom(...windowKinds),
    rows: fc.constantFrom(...rowPatterns),
    water: fc.constantFrom(...waters),
    tillage: fc.constantFrom(...tillages),
    yearsOut: fc.option(fc.integer({ min: 0, max: 8 })),
    stand: fc.double({ min: 0.5, max: 12, noNaN: true }),
    vine: fc.double({ min: 0.5, max: 3, noNaN: true }),
  })
  const efficacies = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 4 })
  const threats = fc.constantFrom(...known.map((threat) => table(threat.name)))
  const loss = (threat: ReturnType<typeof table>, at: ThreatCase, measures: number[]) =>
    lossAfter(lossBeforeMeasures(threat, at), measures)
  const holds = (check: (threat: ReturnType<typeof table>, at: ThreatCase, measures: number[]) => void) =>
    fc.assert(fc.property(threats, cases, efficacies, check), { numRuns: 1000 })

  it('a loss is a share, and so is all loss together', () => {
    holds((threat, at, measures) => {
      const share = loss(threat, at, measures)
      expect(share).toBeGreaterThanOrEqual(0)
      expect(share).toBeLessThanOrEqual(1)
      const all = combineLosses([share, share, share])
      expect(all).toBeGreaterThanOrEqual(share - 1e-12)
      expect(all).toBeLessThanOrEqual(1)
    })
  })

  it('a worse rating never lowers it', () => {
    holds((threat, at, measures) => {
      const worse = { ...at, rating: Math.min(9, at.rating + 1) }
      expect(loss(threat, worse, measures)).toBeGreaterThanOrEqual(loss(threat, at, measures))
    })
  })

  it('more pressure never lowers it', () => {
    holds((threat, at, measures) => {
      const more = { ...at, level: pressureLevels[Math.min(4, pressureLevels.indexOf(at.level) + 1)] ?? at.level }
      expect(loss(threat, more, measures)).toBeGreaterThanOrEqual(loss(threat, at, measures))
    })
  })

  it('a shorter rotation never lowers it', () => {
    holds((threat, at, measures) => {
      if (at.yearsOut === null || at.yearsOut === 0) return
      const shorter = { ...at, yearsOut: at.yearsOut - 1 }
      expect(loss(threat, shorter, measures)).toBeGreaterThanOrEqual(loss(threat, at, measures))
    })
  })

  it('a measure never raises it', () => {
    holds((threat, at, measures) => {
      expect(loss(threat, at, measures)).toBeLessThanOrEqual(loss(threat, at, measures.slice(1)))
    })
  })

  it('low ≤ usual ≤ high', () => {
    holds((threat, at, measures) => {
      const { low, usual, high } = lossRange(threat, at, measures)
      expect(low).toBeLessThanOrEqual(usual)
      expect(usual).toBeLessThanOrEqual(high)
      expect(usual).toBeCloseTo(loss(threat, at, measures), 12)
    })
  })
})

it('every threat of the starter set has a loss', () => {
  expect(threatNotices(known.map((threat) => readThreat(book, threat)))).toEqual([])
})
