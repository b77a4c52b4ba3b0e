/** Stand counts against the published examples (T1d, T1e), and the interval against an independent library (jstat). */
import jstat from 'jstat'
import { describe, expect, it } from 'vitest'
import { lotRate, packsToLoad } from '../../src-shared/agronomy/lot-rate.ts'
import { plantsPerAcre, rowFeetPerAcre, seedsPerAcre } from '../../src-shared/agronomy/seed.ts'
import { contextOf } from '../../src-shared/agronomy/context.ts'
import { replantChoices, type ReplantCase } from '../../src-shared/agronomy/replant.ts'
import { judgeStand, standFrom } from '../../src-shared/agronomy/stand-count.ts'
import { tQuantile } from '../../src-shared/agronomy/student-t.ts'
import { Book } from '../../src-shared/assumption.ts'
import { starterBook } from '../../src-shared/book/starter.ts'
import { randomFrom } from '../plan/random.ts'
import { demoFarm, pick } from '../shared/demo-farm.ts'
import { publishedTable } from './read-csv.ts'

const book = new Book(starterBook)

describe('T1d: every worked example that holds', () => {
  const rows = publishedTable('T1d_rowfeet_and_stand_worked_examples.csv').filter(
    ({ source }) => !source?.includes('DO NOT USE'),
  )
  /** What each row asks for, by its inputs. */
  const answers: Record<string, number> = {
    'row 30 in': rowFeetPerAcre(30),
    'row 30 in; 1.7 plants/ft': standFrom([{ feet: 10, plants: 17 }]).mean * rowFeetPerAcre(30),
    '1/1000 acre at 7.5 in': rowFeetPerAcre(7.5) / 1000,
    '1/1000 acre at 15 in': rowFeetPerAcre(15) / 1000,
    '1/1000 acre at 30 in': rowFeetPerAcre(30) / 1000,
    '36 in rows, 6 in between seeds': plantsPerAcre(36, 6) / 1000,
    '15 in rows, 3 in between seeds': plantsPerAcre(15, 3) / 1000,
    '30 in rows, 55 plants per 50 ft': (standFrom([{ feet: 50, plants: 55 }]).mean * rowFeetPerAcre(30)) / 1000,
    '6 seeds/ft (or 3+3 twin), 70% germination': 6 * 0.7,
    '30 in, 130,000 seeds/acre': 130_000 / rowFeetPerAcre(30),
    '15 in, 130,000 seeds/acre': 130_000 / rowFeetPerAcre(15),
  }
  it.each(rows)('$inputs', (row) => {
    const answer = answers[row.inputs ?? '']
    expect(answer).toBeDefined()
    // Recomputed to the digits the table gives; constants such as 6273 and 10.45 in print round by a thousandth.
    expect(Math.abs((answer ?? 0) / Number(row.recomputed) - 1)).toBeLessThan(0.002)
  })
})

describe('T1e: stands of drops', () => {
  it('plants a metre are plants a foot, and their share of the seeds, as printed', () => {
    const rows = publishedTable('T1e_emergence_and_stand_data.csv').filter(
      ({ unit_converted: text }) => text?.includes('seeds/ft ->') || /^[\d.]+ -> /.test(text ?? ''),
    )
    expect(rows).toHaveLength(3)
    for (const row of rows) {
      const metre = 3.28084
      const seeds = parseFloat(row.seeding_rate ?? '') / metre
      const stand = standFrom([{ feet: 10 * metre, plants: parseFloat(row.result ?? '') * 10 }]).mean
      const [, printedSeeds, printedPlants, share] =
        /([\d.]+)(?: seeds\/ft)? -> ([\d.]+)(?: plants\/ft)? \((\d+)%\)/.exec(row.unit_converted ?? '') ?? []
      expect(seeds).toBeCloseTo(Number(printedSeeds), 2)
      expect(stand).toBeCloseTo(Number(printedPlants), 2)
      expect(Math.round((stand / seeds) * 100)).toBe(Number(share))
    }
  })
  it('13.1 plants a metre are the reference of 4 a foot, to two hundredths', () => {
    expect(13.1 / 3.28084).toBeCloseTo(book.number('stand/reference'), 1)
  })
})

describe('the interval', () => {
  it('the t quantile is jstat’s', () => {
    for (const degrees of [1, 2, 3, 4, 5, 7, 9, 14, 29, 60, 200, 1000]) {
      for (const confidence of [0.5, 0.8, 0.9, 0.95, 0.99, 0.999]) {
        const theirs = jstat.studentt.inv((1 + confidence) / 2, degrees)
        expect(Math.abs(tQuantile(confidence, degrees) / theirs - 1), `${degrees} ${confidence}`).toBeLessThan(1e-7)
      }
    }
  })
  it('four decimals as printed in any table of t', () => {
    // No confidence needs no width.
    expect(tQuantile(0, 4)).toBeCloseTo(0, 9)
    expect(tQuantile(0.95, 1)).toBeCloseTo(12.7062, 4)
    expect(tQuantile(0.95, 4)).toBeCloseTo(2.7764, 4)
    expect(tQuantile(0.95, 9)).toBeCloseTo(2.2622, 4)
  })
  it('of counts drawn at random holds the true mean about 95 times in 100', () => {
    const draw = randomFrom(7).next
    let held = 0
    for (let trial = 0; trial < 2000; trial++) {
      const spots = Array.from({ length: 6 }, () => {
        const normal = Math.sqrt(-2 * Math.log(1 - draw())) * Math.cos(2 * Math.PI * draw())
        return { feet: 1000, plants: 4000 + 400 * normal }
      })
      const { low, high } = standFrom(spots)
      if ((low ?? 0) <= 4 && (high ?? 0) >= 4) held += 1
    }
    expect(held / 2000).toBeGreaterThan(0.935)
    expect(held / 2000).toBeLessThan(0.965)
  })
  it('one spot has none, equal spots have none to speak of, and none goes below nothing', () => {
    expect(standFrom([{ feet: 10, plants: 40 }])).toEqual({ spots: 1, mean: 4, low: null, high: null })
    expect(standFrom([1, 2, 3].map(() => ({ feet: 10, plants: 40 })))).toMatchObject({ low: 4, high: 4 })
    expect(
      standFrom([
        { feet: 10, plants: 0 },
        { feet: 10, plants: 50 },
      ]).low,
    ).toBe(0)
  })
  it('a stand is low only where the whole interval is below what was wanted', () => {
    expect(judgeStand({ spots: 5, mean: 3.1, low: 2.8, high: 3.4 }, 4)).toBe('low')
    expect(judgeStand({ spots: 5, mean: 3.1, low: 2.1, high: 4.1 }, 4)).toBe('not told apart')
    expect(judgeStand({ spots: 1, mean: 1, low: null, high: null }, 4)).toBe('not told apart')
    expect(judgeStand({ spots: 5, mean: 4, low: 3.5, high: 4.5 }, 4)).toBe('as wanted')
  })
})

describe('T20: keep, add seed, or start over', () => {
  const farm = demoFarm({ rules: [] })
  const context = contextOf(farm)
  const of = (rowPattern: 'single' | 'twin', countedOn: string): ReplantCase => ({
    growing: {
      field: { ...pick(farm.fields), rowPattern },
      variety: pick(farm.varieties),
      window: 'usual',
      planted: `${farm.season}-05-05`,
    },
    practices: [],
    countedOn: `${farm.season}-${countedOn}`,
    seedsPerFoot: 6,
    germination: 0.85,
    rowSpacingIn: 36,
    seedsPerPound: 650,
    seedCentsPerPound: 80,
  })

  it('adding up is exact: seed, pass and yield loss', () => {
    const choice = replantChoices(context, 1.5, of('single', '05-26'))
    expect(choice.addCents).toBe(choice.addSeedCents + choice.addWorkCents + choice.addLostCents)
    expect(choice.replantCents).toBe(choice.seedCents + choice.workCents + choice.laterCents)
    // 4.5 seeds/ft × 14,520 ft / 650 at 80 c.
    expect(choice.addSeedsPerFoot).toBeCloseTo(4.5, 12)
    expect(choice.addSeedCents).toBe(Math.round(((4.5 * 14_520) / 650) * 80))
  })

  it('starting over is never the best above 1 plant a foot (Delta Farm Press 2014; Peanut Grower, May 2024)', () => {
    for (const rows of ['single', 'twin'] as const) {
      for (const day of ['05-20', '05-26', '06-02']) {
        for (const stand of [1.1, 1.5, 2, 2.5, 3, 3.5]) {
          const { keepCents, addCents, replantCents } = replantChoices(context, stand, of(rows, day))
          expect(replantCents, `${rows} ${day} ${stand}`).toBeGreaterThan(Math.min(keepCents, addCents))
        }
      }
    }
  })

  it('a full stand is kept, and a bare one is not', () => {
    const full = replantChoices(context, 4.5, of('single', '05-20'))
    expect(full.keepCents).toBe(0)
    const bare = replantChoices(context, 0, of('single', '05-20'))
    expect(bare.keepShare).toBe(1)
    expect(bare.keepCents).toBeGreaterThan(Math.min(bare.addCents, bare.replantCents))
  })

  it('adding seed to a twin stand of 2.99 gains about the published 8 %', () => {
    const { keepCents, addLostCents, keepShare } = replantChoices(context, 2.99, of('twin', '05-26'))
    const full = keepCents / keepShare
    expect((100 * (keepCents - addLostCents)) / (full - keepCents)).toBeGreaterThan(4)
    expect((100 * (keepCents - addLostCents)) / (full - keepCents)).toBeLessThan(9)
  })
})

describe('rates of a lot', () => {
  const emergence = { field: 0.86, fallsPerSeed: 0, referenceSeedsPerFoot: 6 }
  it('keeps the stand: a weaker lot is dropped closer, a smaller seed weighs less', () => {
    const usual = lotRate(4, { germination: 0.85, seedsPerPound: 650 }, emergence, 36)
    expect(usual.seedsPerFoot).toBeCloseTo(4 / (0.85 * 0.86), 10)
    expect(usual.poundsPerAcre).toBeCloseTo((usual.seedsPerFoot * 14_520) / 650, 8)
    expect(usual.stand).toBeCloseTo(4, 10)
    const weak = lotRate(4, { germination: 0.75, seedsPerPound: 650 }, emergence, 36)
    expect(weak.seedsPerFoot / usual.seedsPerFoot).toBeCloseTo(0.85 / 0.75, 10)
    expect(weak.stand).toBeCloseTo(4, 10)
    const small = lotRate(4, { germination: 0.85, seedsPerPound: 700 }, emergence, 36)
    expect(small.poundsPerAcre / usual.poundsPerAcre).toBeCloseTo(650 / 700, 10)
    expect(seedsPerAcre(usual.seedsPerFoot, 36)).toBeCloseTo(79_453, -1)
  })
  it('says so where the stand cannot be reached', () => {
    const falling = { field: 0.86, fallsPerSeed: 0.08, referenceSeedsPerFoot: 6 }
    const rate = lotRate(5, { germination: 0.6, seedsPerPound: 650 }, falling, 36)
    expect(rate.stand).toBeLessThan(5)
  })
  it('loads whole packs', () => {
    expect([packsToLoad(0, 50), packsToLoad(1, 50), packsToLoad(100, 50), packsToLoad(100.01, 50)]).toEqual([
      0, 1, 2, 3,
    ])
  })
})
