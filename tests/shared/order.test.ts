/** The arithmetic of an order, against sums worked by hand: common practice of seed trade, no source. */
import { describe, expect, test } from 'vitest'
import { depositOf, nextTier, sumsOf, type LineTerms, type PlannedLine } from '../../src-shared/order.ts'
import { tierAt } from '../../src-shared/price-break.ts'
import { shortagesOf } from '../../src-shared/order-shortage.ts'
import { ordersOfPlan } from '../../src-shared/orders-of-plan.ts'
import type { OrderLine, OrderSheet } from '../../src-shared/order.ts'
import type { Plan, Purchase } from '../../src-shared/plan.ts'
import { quoteTitle } from '../../src-shared/quote.ts'
import { demoFarm } from './demo-farm.ts'

/** Plain $48.50 a bag; from 400 bags $47.25; from 800 bags $46.10. */
const terms: LineTerms = {
  packPriceCents: 4850,
  breaks: [
    { fromPacks: 800, packPriceCents: 4610 },
    { fromPacks: 400, packPriceCents: 4725 },
  ],
  returnCredit: 0,
  seedsPerPound: 690,
  germination: 0.87,
  isTreated: true,
  after: null,
}
const line = (packs: number, packPriceCents: number): PlannedLine => ({
  quote: 'A · B',
  variety: 'B',
  packs,
  packPounds: 50,
  packPriceCents,
  terms,
})

describe('a break on the quote counts for every pack', () => {
  test.each([
    [1, 4850, 0],
    [399, 4850, 0],
    [400, 4725, 400],
    [799, 4725, 400],
    [800, 4610, 800],
    [5000, 4610, 800],
  ])('%d packs', (packs, packPriceCents, fromPacks) => {
    expect(tierAt(terms, packs)).toEqual({ fromPacks, packPriceCents })
  })

  test('how far the next one is, and what reaching it costs or saves', () => {
    // 380 bags cost 380 × 48.50 = 18,430.00; 400 cost 400 × 47.25 = 18,900.00: 20 bags more for 470.00.
    expect(nextTier(terms, 380)).toMatchObject({ morePacks: 20, cents: 47_000 })
    // 395 cost 19,157.50; 400 cost 18,900.00: five bags more are 257.50 cheaper.
    expect(nextTier(terms, 395)).toMatchObject({ morePacks: 5, cents: -25_750 })
    expect(nextTier(terms, 800)).toBeNull()
  })
})

describe('an order adds up', () => {
  const dealer = {
    orderFeeCents: 15_000,
    leastPounds: 2000,
    breaks: [
      { fromPounds: 30_000, offCentsPerPound: 2.5 },
      { fromPounds: 20_000, offCentsPerPound: 1.5 },
    ],
  }

  test('lines, less the break on the whole weight, plus the fee', () => {
    const sums = sumsOf({ terms: dealer, lines: [line(400, 4725), line(37, 4850)] })
    // 400 × 47.25 = 18,900.00 and 37 × 48.50 = 1,794.50: 20,694.50. 437 × 50 = 21,850 lb × 1.5 c = 327.75 off.
    // 20,694.50 − 327.75 + 150.00 = 20,516.75.
    expect(sums).toMatchObject({
      packs: 437,
      pounds: 21_850,
      linesCents: 2_069_450,
      offCents: 32_775,
      cents: 2_051_675,
    })
    expect(sums.reached).toEqual({ fromPounds: 20_000, offCentsPerPound: 1.5 })
    expect(sums.next).toEqual({ fromPounds: 30_000, offCentsPerPound: 2.5, morePounds: 8150 })
    // A fifth of 20,516.75 is 4,103.35.
    expect(depositOf(0.2, sums)).toBe(410_335)
    expect(depositOf(null, sums)).toBe(0)
  })

  test('a refused line counts nothing; an order of nothing has no fee; the least order is told', () => {
    const refused = { ...line(400, 4725), confirmedPacks: 0, confirmedPriceCents: 4725 }
    expect(sumsOf({ terms: dealer, lines: [refused] })).toMatchObject({
      packs: 0,
      feeCents: 0,
      cents: 0,
      poundsToLeast: 0,
    })
    expect(sumsOf({ terms: dealer, lines: [refused] }, true)).toMatchObject({
      packs: 400,
      cents: 1_890_000 - 30_000 + 15_000,
    })
    // 30 × 50 = 1,500 lb of at least 2,000.
    expect(sumsOf({ terms: dealer, lines: [line(30, 4850)] }).poundsToLeast).toBe(500)
  })
})

test('what is lost after the last day: the same dealer’s cheapest later offer of at least the same pounds', () => {
  const season = demoFarm()
  const title = 'Burrow Bend Seed · Brindle · early order'
  const purchase: Purchase = {
    quote: title,
    dealer: 'Burrow Bend Seed',
    variety: 'Brindle',
    packs: 500,
    packPounds: 50,
    packPriceCents: 4640,
    fromPacks: 0,
    pounds: 25_000,
    cents: 2_320_000,
  }
  const [order] = ordersOfPlan({ purchases: [purchase] }, season)
  // 500 × 46.40 = 23,200.00 now; later 500 × 47.25 (from 400) = 23,625.00: 425.00 more.
  expect(order?.lines[0]?.terms).toMatchObject({
    orderBy: '2027-01-31',
    after: { quote: 'Burrow Bend Seed · Brindle', cents: 42_500 },
  })
  const scarce = {
    ...purchase,
    quote: 'Burrow Bend Seed · Linden',
    variety: 'Linden',
    packs: 100,
    packPriceCents: 5800,
  }
  expect(ordersOfPlan({ purchases: [scarce] }, season)[0]?.lines[0]?.terms.after).toBeNull()
})

describe('seed refused, in acres', () => {
  const plan = {
    seed: [
      {
        variety: 'B',
        acres: 100,
        neededPounds: 10_000,
        reservePounds: 300,
        carriedPounds: 1000,
        boughtPounds: 9500,
        leftPounds: 500,
      },
    ],
    blocks: [{ field: 'Hill', variety: 'B' }],
  } as unknown as Plan
  const orders = (...lines: Partial<OrderLine>[]) =>
    [{ lines: lines.map((each) => ({ ...line(190, 4850), confirmedPacks: null, ...each })) }] as OrderSheet[]

  test('all of it: what is on hand still plants some', () => {
    // Needed 10,300 lb for 100 acres; 1,000 on hand: 9,300 short, 9,300 / 103 = 90.29 acres.
    const [short] = shortagesOf(plan, orders({ confirmedPacks: 0 }))
    expect(short).toMatchObject({ variety: 'B', pounds: 9300, fields: ['Hill'] })
    expect(short?.acres).toBeCloseTo(90.2913, 4)
  })

  test('cut to what was needed, or made up by another line: nothing short; nothing refused: nothing said', () => {
    expect(shortagesOf(plan, orders({ confirmedPacks: 186 }))).toEqual([])
    expect(shortagesOf(plan, orders({ confirmedPacks: 0 }, { packs: 186 }))).toEqual([])
    expect(shortagesOf(plan, orders({ packs: 10 }))).toEqual([])
  })
})

test('a plan that names what its season does not have is a fault that is named', () => {
  const season = demoFarm()
  const [quote] = season.quotes
  if (quote === undefined) throw new Error('The demo has a quote.')
  const purchase: Purchase = {
    quote: quoteTitle(quote),
    dealer: quote.dealer,
    variety: quote.variety,
    packs: 10,
    packPounds: quote.packPounds,
    packPriceCents: quote.packPriceCents,
    fromPacks: 0,
    pounds: 10 * quote.packPounds,
    cents: 10 * quote.packPriceCents,
  }
  const ask = (change: Partial<Purchase>, of = season) => ordersOfPlan({ purchases: [{ ...purchase, ...change }] }, of)
  expect(ask({})).toHaveLength(1)
  expect(() => ask({ dealer: 'Nobody' })).toThrow('The plan buys of Nobody, who is not in its season.')
  expect(() => ask({ quote: 'Nothing' })).toThrow('The plan buys by Nothing, which is not in its season.')
  expect(() => ask({}, { ...season, varieties: [] })).toThrow(`There is no variety ${quote.variety} in the season`)
})
