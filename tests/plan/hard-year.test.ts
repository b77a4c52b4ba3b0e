/** The hard-year test on the demo farm: the usual year is the plan itself, and each other year moves what it must. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { contextOf } from '../../src-shared/agronomy/context.ts'
import { addDays } from '../../src-shared/agronomy/harvest.ts'
import { hardYear, yearsOf } from '../../src-main/engine/plan/hard-year.ts'
import { optionsOfBlock } from '../../src-main/engine/plan/block-options.ts'
import { priceSeason } from '../../src-main/engine/plan/price.ts'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import { seasonIn } from '../../src-main/engine/plan/year-season.ts'
import type { Year, YearName } from '../../src-shared/hard-year.ts'
import type { Plan, PlanBlock, SolvedPlan } from '../../src-shared/plan.ts'
import type { Season } from '../../src-shared/season.ts'
import { dollarsPerTon } from '../../src-shared/agronomy/price.ts'
import { marginsOf } from '../../src-shared/margin.ts'
import { demoFarm, pick } from '../shared/demo-farm.ts'
import { aSeason } from '../support/a-season.ts'

const solver = new Solver()
afterAll(() => solver.close())
const again = { gap: 0.01, seconds: 30, wholeCents: true }

async function planOf(season: Season): Promise<SolvedPlan & { plan: Plan }> {
  const priced = priceSeason(season)
  if (!priced.ok) throw new Error(JSON.stringify(priced.problems))
  const solved = await solveProblem(priced.value.problem, again, solver)
  if (!solved.ok || solved.value.plan === null) throw new Error(JSON.stringify(solved))
  return { ...solved.value, plan: solved.value.plan }
}

// Its crop without a contract: what a contract has agreed, no year's price moves.
const season = demoFarm({ contracts: [] })
let inHand: SolvedPlan & { plan: Plan }
let years: Map<YearName, Year>
beforeAll(async () => {
  inHand = await planOf(season)
  years = new Map(yearsOf(season, inHand.plan).map((year) => [year.name, year]))
}, 300_000)
const year = (name: YearName) => years.get(name) as Year

describe('the years', () => {
  it('a usual year is the plan, to the cent', () => {
    const { cashCents, lossCents, vineCents, giveUpCents, costCents, leftOutCents, movedCents } = inHand.plan.totals
    const usual = year('usual')
    expect(usual).toMatchObject({ cashCents, vineCents, giveUpCents, seedShortCents: 0, worseCents: 0 })
    expect(usual.loss.cents).toBe(lossCents)
    // The demo's risk weight is 1.
    expect(usual.cashCents + usual.loss.cents + usual.vineCents + usual.giveUpCents + leftOutCents + movedCents).toBe(
      costCents,
    )
    expect(usual.left.cents).toBe(
      usual.crop.cents - cashCents - usual.plantedCents - lossCents - vineCents - usual.digLossCents,
    )
  })

  it('what is left in a usual year is the margin of the plan’s blocks', () => {
    const margins = marginsOf(inHand.plan)
    // Each block's parts are rounded to the cent.
    const margin = margins.reduce<number>((sum, each) => sum + (each ?? Number.NaN), 0)
    expect(Math.abs(year('usual').left.cents - margin)).toBeLessThan(5 * margins.length)
    expect(new Set([...years.values()].map(({ plantedCents }) => plantedCents)).size).toBe(1)
  })

  it('ranges hold their figure, and the demo’s losses have real ones', () => {
    for (const { loss, left } of years.values()) {
      expect(loss.lowCents).toBeLessThan(loss.cents)
      expect(loss.cents).toBeLessThan(loss.highCents)
      expect(left.highCents - left.cents).toBe(loss.cents - loss.lowCents)
    }
  })

  it('a calm year loses less and a hard one more, with nothing else changed', () => {
    expect(year('calm').loss.cents).toBeLessThan(year('usual').loss.cents * 0.8)
    expect(year('hard').loss.cents).toBeGreaterThan(year('usual').loss.cents * 1.2)
    for (const name of ['calm', 'hard'] as const) {
      const { cashCents, crop, vineCents, digLossCents, seedShortCents, loss, worseCents, ...rest } = year(name)
      const usual = year('usual')
      const giveUpCents = rest.giveUpCents - digLossCents
      expect({ cashCents, crop, giveUpCents, seedShortCents }).toEqual({
        cashCents: usual.cashCents,
        crop: usual.crop,
        giveUpCents: usual.giveUpCents - usual.digLossCents,
        seedShortCents: 0,
      })
      // What more disease takes is not there to be left in the ground.
      const dug = digLossCents - usual.digLossCents
      expect(worseCents).toBe(loss.cents - usual.loss.cents + vineCents - usual.vineCents + dug)
    }
  })

  it('a low price takes its share of everything that is yield', () => {
    // The demo's own row: $520 a ton, down to $440.
    const handling = 16.8
    const share = (440 - handling) / (520 - handling)
    const [low, usual] = [year('low price'), year('usual')]
    expect(low.crop.cents / usual.crop.cents).toBeCloseTo(share, 3)
    expect(low.loss.cents / usual.loss.cents).toBeCloseTo(share, 3)
    expect(low.cashCents).toBe(usual.cashCents)
    expect(low.worseCents).toBeGreaterThan(0)
  })

  it('weak seed thins the stand where a number is dropped, and runs short where a stand is aimed at', () => {
    expect(year('weak seed').loss.cents).not.toBe(year('usual').loss.cents)
    const stands = {
      ...season,
      fields: season.fields.map((field) => ({ ...field, drop: { kind: 'stand' as const, plantsPerFoot: 4.2 } })),
    }
    const weak = yearsOf(stands, inHand.plan).find((each) => each.name === 'weak seed') as Year
    expect(weak.seedShort.length).toBeGreaterThan(0)
    for (const { variety, pounds, acres, cents } of weak.seedShort) {
      const quotes = season.quotes.filter((quote) => quote.variety === variety)
      const dearest = Math.max(...quotes.map((quote) => quote.packPriceCents / quote.packPounds))
      expect(cents).toBeGreaterThanOrEqual(pounds * dearest - 1e-6)
      expect(acres).toBeGreaterThan(0)
      expect(acres).toBeLessThan(inHand.plan.totals.acres)
    }
    expect(weak.seedShortCents).toBe(weak.seedShort.reduce((sum, short) => sum + (short.cents ?? 0), 0))
  })

  it('a late spring counts each window as the later kind and two weeks on; the plan’s drop stays', () => {
    const late = seasonIn('late spring', season, contextOf(season)).season
    late.windows.forEach((window, index) => {
      const before = season.windows[index] as (typeof season.windows)[number]
      expect(window.kind).toBe({ early: 'usual', usual: 'late', late: 'late' }[before.kind])
      expect(`2027-${window.opens}`).toBe(addDays(`2027-${before.opens}`, 14))
    })
    expect(year('late spring').loss.cents).not.toBe(year('usual').loss.cents)
    expect(year('late spring').seedShort).toEqual([])
  })
})

it('a year’s season prices the plan’s own options as the year does', () => {
  const hard = priceSeason(seasonIn('hard', season, contextOf(season)).season)
  if (!hard.ok) throw new Error(JSON.stringify(hard.problems))
  let seen = 0
  let loss = 0
  const blocks: PlanBlock[] = []
  for (const block of inHand.plan.blocks) {
    // A rate or program may be dominated or forbidden in the hard year; what is there must agree.
    const parts = optionsOfBlock(hard.value.problem, block)
    if (parts === null) continue
    seen++
    blocks.push(block)
    for (const { option, part } of parts) loss += option.lossCents * part.acres
  }
  expect(seen).toBeGreaterThan(3)
  const judged = yearsOf(season, { ...inHand.plan, blocks }).find((each) => each.name === 'hard') as Year
  expect(Math.abs(judged.loss.cents - loss)).toBeLessThan(seen)
})

it('regret: each plan is best in its own year, to the gap', { timeout: 300_000 }, async () => {
  const test = await hardYear(season, inHand, again, solver)
  if (!test.ok) throw new Error(JSON.stringify(test.problems))
  const { hardPlanInUsualYear, planInHardYear, otherFields, uncertainCents, says } = test.value.regret
  expect(hardPlanInUsualYear).toBeGreaterThan(-uncertainCents)
  expect(planInHardYear).toBeGreaterThan(-uncertainCents)
  expect(otherFields.length).toBeGreaterThan(0)
  expect(says).toMatch(/^A plan made for the hard year would cost .* more in a usual year and save .* in a hard one\.$/)
})

it('a block whose field is gone from the season counts nothing in any year', () => {
  const gone = pick(inHand.plan.blocks).field
  const fewer = yearsOf({ ...season, fields: season.fields.filter(({ name }) => name !== gone) }, inHand.plan)
  const blocks = inHand.plan.blocks.filter(({ field }) => field !== gone)
  const without = yearsOf(season, { ...inHand.plan, blocks })
  expect(fewer.map(({ crop, loss }) => [crop.cents, loss.cents])).toEqual(
    without.map(({ crop, loss }) => [crop.cents, loss.cents]),
  )
})

it('a low price without a low end in the book is 15 % less', () => {
  const row = { key: 'price/peanuts', value: 520, unit: '$/ton', source: '', sourceKind: 'the farm' as const }
  const own = { ...season, assumptions: [...season.assumptions.filter(({ key }) => key !== row.key), row] }
  expect(seasonIn('low price', own, contextOf(own)).says).toBe('Peanuts bring $442 a ton.')
})

it('a low price leaves what a contract has agreed', () => {
  const agreed = demoFarm()
  const [contract] = agreed.contracts
  const low = seasonIn('low price', agreed, contextOf(agreed))
  expect(low.says).toBe('Peanuts without a contract bring $440 a ton.')
  const perTon = ({ book, price }: ReturnType<typeof contextOf>, variety: string) =>
    dollarsPerTon(book, price, { ...pick(agreed.varieties, ({ name }) => name === variety), gradeIndex: 1 })
  const context = contextOf(low.season)
  expect(contract).toMatchObject({ oilType: 'high oleic', perTonCents: 50_500, premiumCents: 1500 })
  expect([perTon(context, 'Brindle'), perTon(context, 'Saltgrass')]).toEqual([520, 440])
})

describe('where no plan can be made for a hard year', () => {
  /** Creek, of high leaf spot, has only the variety rated 6 to choose from. */
  async function regretOf(rules: Season['rules'], locks: Season['locks'] = []) {
    const small = { ...aSeason(), locks }
    const plan = await planOf(small)
    const test = await hardYear({ ...small, rules }, plan, again, solver)
    if (!test.ok) throw new Error(JSON.stringify(test.problems))
    return test.value.regret
  }

  it('a loss that no variety keeps is told with its reason', async () => {
    const regret = await regretOf([{ rule: 'largest-loss', subject: 'late leaf spot', amount: 0.001, isOn: true }])
    expect(regret).toMatchObject({ hardPlanInUsualYear: null, planInHardYear: null, otherFields: [] })
    expect(regret.says).toMatch(/^No plan keeps the house’s rules in a hard year\. No variety may be planted on /)
  })

  it('a rule that no plan keeps is told as that', async () => {
    const regret = await regretOf([{ rule: 'fewest-varieties', amount: 3, isOn: true }])
    expect(regret.says).toBe('No plan keeps the house’s rules in a hard year.')
  })
})

describe('seed that is short in a year of weak seed', () => {
  /** A stand is aimed at, so weak seed is dropped thicker. */
  async function weakYear(carried: Season['carried'], quotesNow: (quotes: Season['quotes']) => Season['quotes']) {
    const plain = aSeason()
    const fields = plain.fields.map((field) => ({ ...field, drop: { kind: 'stand' as const, plantsPerFoot: 4 } }))
    const small = { ...plain, fields }
    const { plan } = await planOf(small)
    const years = yearsOf({ ...small, carried, quotes: quotesNow(plain.quotes) }, plan)
    return years.find((each) => each.name === 'weak seed') as Year
  }

  it('has no price where nobody offers the variety', async () => {
    const offered = await weakYear([], (quotes) => quotes)
    expect(offered.seedShort.length).toBeGreaterThan(0)
    expect(offered.seedShortCents).toBeGreaterThan(0)
    const gone = await weakYear([], () => [])
    expect(gone.seedShort).toEqual(offered.seedShort.map((short) => ({ ...short, cents: null })))
    expect(gone.seedShortCents).toBe(0)
  })

  it('is not short of what is on hand', async () => {
    const carried = ['Big', 'Small'].map((variety) => ({
      variety,
      pounds: 100_000,
      mustUse: false,
      isOwnGrown: false,
    }))
    expect((await weakYear(carried, (quotes) => quotes)).seedShort).toEqual([])
  })
})
