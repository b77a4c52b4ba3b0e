/** Plans around what is on order, and without quotes that have ended: money, proof and what can still be had. */
import { expect, test } from 'vitest'
import { offered, type OnOrder } from '../../src-main/engine/ordered-seed.ts'
import { solvePlan } from '../../src-main/engine/plan/solve-plan.ts'
import type { Plan, PlanRecord } from '../../src-shared/plan.ts'
import { quoteTitle } from '../../src-shared/quote.ts'
import type { Season } from '../../src-shared/season.ts'
import { pick } from '../shared/demo-farm.ts'
import { farmOf, freeSeason, linesOf, quick, today } from '../support/order-farm.ts'

test('a plan around what is on order costs what the cheapest plan would that buys just that', async () => {
  const own = freeSeason()
  const solve = async (of: Season) => {
    const solved = await solvePlan(of, { gap: 0, seconds: 20 })
    if (!solved.ok) throw new Error(JSON.stringify(solved.problems))
    return solved.value
  }
  const free = await solve(own)
  // What the cheapest plan buys anyway, ordered: the same plan, money and proof.
  const lines: OnOrder[] = free.plan!.purchases.map(
    ({ quote, dealer, variety, packs, packPounds, packPriceCents }) => ({
      quote,
      dealer,
      variety,
      packs,
      packPounds,
      packPriceCents,
      isCut: false,
    }),
  )
  const offer = offered(own, lines)
  if (!offer.ok) throw new Error(JSON.stringify(offer.problems))
  const whole = offer.value.whole(await solve(offer.value.season))
  // Acres are sums of doubles, in another order here.
  const near = (totals?: Plan['totals']) => ({ ...totals, acres: totals?.acres.toFixed(6) })
  expect(near(whole.plan?.totals)).toEqual(near(free.plan?.totals))
  expect(whole.plan?.orders).toEqual(free.plan?.orders)
  // Acres come of the solver to its tolerance: a few millionths of a pound of seed.
  const pounds = (of: Plan | null) =>
    of?.seed.map(({ variety, boughtPounds, leftPounds }) => [variety, boughtPounds, leftPounds.toFixed(3)])
  expect(pounds(whole.plan)).toEqual(pounds(free.plan))
  expect(whole.proof).toMatchObject({ status: 'proven', costCents: free.proof.costCents })
  expect(whole.proof.boundCents).toBeLessThanOrEqual(free.proof.costCents! + 1)

  // Packs that nobody needs are paid all the same, and never make a plan cheaper than the cheapest.
  const useless: OnOrder = {
    quote: quoteTitle(own.quotes[1]!),
    dealer: own.quotes[1]!.dealer,
    variety: own.quotes[1]!.variety,
    packs: 7,
    packPounds: 50,
    packPriceCents: 99_00,
    isCut: false,
  }
  const forced = offered(own, [useless])
  if (!forced.ok) throw new Error(JSON.stringify(forced.problems))
  const paid = forced.value.whole(await solve(forced.value.season))
  expect(paid.plan?.purchases).toContainEqual(
    expect.objectContaining({ onOrderOf: useless.quote, packs: 7, cents: 69_300 }),
  )
  expect(paid.plan!.totals.costCents).toBeGreaterThan(free.plan!.totals.costCents)
  expect(paid.plan!.totals.seedCents).toBe(paid.plan!.orders.reduce((sum, { cents }) => sum + cents, 0))
})

test('a budget below what is on order is told as it was set, and gives way by what a plan needs', async () => {
  const own = freeSeason()
  const [quote] = own.quotes
  if (quote === undefined) throw new Error('No quotes.')
  const { dealer, variety, packPounds } = quote
  const line: OnOrder = {
    quote: quoteTitle(quote),
    dealer,
    variety,
    packPounds,
    packs: 40,
    packPriceCents: 50_00,
    isCut: false,
  }
  const feeCents = own.dealers.find(({ name }) => name === dealer)?.orderFeeCents ?? 0
  const solve = async (budgetCents: number) => {
    const rules = [...own.rules, { rule: 'budget' as const, amount: budgetCents, isOn: true }]
    const offer = offered({ ...own, rules }, [line])
    if (!offer.ok) throw new Error(JSON.stringify(offer.problems))
    const solved = await solvePlan(offer.value.season, { gap: 0, seconds: 20 })
    if (!solved.ok) throw new Error(JSON.stringify(solved.problems))
    return offer.value.whole(solved.value)
  }
  const { plan, proof } = await solve(1000_00)
  expect(plan).toBeNull()
  const [budget, ...others] = proof.conflict?.rules ?? []
  expect(others).toEqual([])
  const spent = (40 * 50_00 + feeCents) / 100
  const onOrder = spent.toLocaleString('en-US', { style: 'currency', currency: 'USD' })
  expect(budget?.says).toBe(`Spend no more than $1,000.00 on seed and measures. ${onOrder} is on order already.`)
  const raised = 1000_00 + Math.ceil(budget?.amount ?? 0)
  const enough = await solve(raised)
  expect(enough.plan?.totals.cashCents).toBeGreaterThan(spent * 100)
  expect(enough.plan?.totals.cashCents).toBeLessThanOrEqual(raised)
})

test('what is left of a quote: fewer packs, nearer breaks, nothing of one that was cut', () => {
  const own = freeSeason()
  const amber = pick(own.quotes, ({ variety }) => variety === 'Amber')
  const line = {
    quote: quoteTitle(amber),
    dealer: amber.dealer,
    variety: 'Amber',
    packPounds: 50,
    packPriceCents: 4400,
    isCut: false,
  }
  const rest = (packs: number, quotes = own.quotes) => {
    const offer = offered({ ...own, quotes }, [{ ...line, packs }])
    if (!offer.ok) throw new Error(JSON.stringify(offer.problems))
    return {
      rest: offer.value.season.quotes.find((quote) => quoteTitle(quote) === line.quote),
      all: offer.value.season,
    }
  }
  // Breaks from 100 and 200: with 150 ordered, 50 more reach the second, and any at all are at the first.
  expect(rest(150).rest).toMatchObject({ packPriceCents: 4400, breaks: [{ fromPacks: 50, packPriceCents: 4300 }] })
  const scarce = own.quotes.map((quote) => (quote === amber ? { ...quote, availablePacks: 160 } : quote))
  expect(rest(150, scarce).rest).toMatchObject({ availablePacks: 10 })
  // The fee of a dealer who has an order already is paid once.
  expect(rest(150).all.dealers.find(({ name }) => name === amber.dealer)?.orderFeeCents).toBe(0)
})

test('quotes whose last day is over are not bought, unless ordered before, and the plan says so', async () => {
  const cheap = { orderBy: '2027-01-31', packPriceCents: 1000 }
  const { must, call } = farmOf(
    freeSeason((own) => ({
      ...own,
      quotes: own.quotes.map((quote) => (quote.variety === 'Amber' ? { ...quote, ...cheap, breaks: [] } : quote)),
    })),
  )
  const buysAmber = (plan: PlanRecord) => plan.plan?.purchases.filter(({ variety }) => variety === 'Amber') ?? []
  const onTheDay = await must('plan.solve', { ...quick, today: '2027-01-31' })
  expect(buysAmber(onTheDay)).toHaveLength(1)
  // The early order of the other dealer ends on the same day.
  const after = await must('plan.solve', { ...quick, today: '2027-02-01' })
  expect(buysAmber(after)).toEqual([])
  expect(after.proof.endedQuotes).toEqual(['North Seed · Amber', 'South Seed · Bison · early order'])
  expect(after.proof.says).toMatch(/ 2 quotes have ended and were left out\.$/)
  expect(after.isStale).toBe(false)
  expect(await must('plan.solve', quick)).toMatchObject({ proof: { costCents: onTheDay.proof.costCents } })
  // Ordered in time, it stays.
  await must('orders.make', { today })
  const line = pick(linesOf(await must('orders.list', {})), ({ variety }) => variety === 'Amber')
  await must('orders.mark', { lines: [line.id], mark: { state: 'ordered', on: today }, says: 'Send' })
  const kept = await must('plan.solve', { ...quick, today: '2027-02-01' })
  expect(buysAmber(kept)).toMatchObject([{ packs: line.packs, packPriceCents: 1000 }])
  expect(await call('plan.solve', { today: 'soon' })).toMatchObject({ problems: [{ code: 'bad-value' }] })
})

test('when every quote has ended, that is said rather than that there are none', async () => {
  const { call } = farmOf(
    freeSeason((own) => ({ ...own, quotes: own.quotes.map((quote) => ({ ...quote, orderBy: '2027-01-31' })) })),
  )
  expect(await call('plan.solve', { ...quick, today: '2027-02-01' })).toMatchObject({
    problems: [{ code: 'missing', what: 'The last day to order of every quote is over.' }],
  })
})

test('a point of the curve holds what is on order as well, and can be taken', async () => {
  const { must, news } = farmOf()
  await must('plan.solve', quick)
  await must('orders.make', { today })
  const lines = linesOf(await must('orders.list', {}))
  await must('orders.mark', { lines: lines.map(({ id }) => id), mark: { state: 'ordered', on: today }, says: 'Send' })
  const { points } = await must('plan.curve', { ...quick, between: 2, today })
  expect(points.length).toBeGreaterThan(0)
  const spent = lines.reduce((sum, { packs, packPriceCents }) => sum + packs * packPriceCents, 0)
  for (const { plan, paidCents, proof } of points) {
    for (const line of lines) {
      expect(plan.purchases).toContainEqual(expect.objectContaining({ onOrderOf: line.quote, packs: line.packs }))
    }
    expect(paidCents).toBe(plan.totals.cashCents)
    // Lines and fee, less at most 1.5 c for each pound: on this farm vines held back may earn a little, so cash may not.
    const seed = plan.totals.seedCents
    expect(seed).toBeGreaterThanOrEqual(spent + 5000 - Math.round(1.5 * (plan.orders[0]?.pounds ?? 0)))
    expect(proof.costCents).toBe(paidCents)
  }
  const told = news.flatMap((item) =>
    item.kind === 'work' && item.found.of === 'curve' ? [item.found.point.paidCents] : [],
  )
  expect(points.every(({ paidCents }) => told.includes(paidCents))).toBe(true)
  await must('plan.adoptPoint', { point: 0 })
  expect(await must('plan.latest', {})).toMatchObject({ isStale: false, plan: { totals: points[0]?.plan.totals } })
})

test('what another choice costs counts the seed on order in both plans', async () => {
  const { must } = farmOf()
  const { plan } = await must('plan.solve', quick)
  await must('orders.make', { today })
  const lines = linesOf(await must('orders.list', {}))
  const marked = lines.map(({ id }) => id)
  await must('orders.mark', { lines: marked, mark: { state: 'ordered', on: today }, says: 'Send' })
  const block = plan!.blocks[0]!
  const choices = (await must('plan.refine', { ...quick, field: block.field })).choices
  const choice = choices.find(({ field, cost }) => field === block.field && cost.kind === 'refined')
  // The same asked the long way: the field locked to that variety, and the whole season solved with what is on order.
  const fieldId = (await must('field.list', {})).find(({ name }) => name === block.field)!.id
  await must('lock.set', { fieldId, variety: choice!.variety })
  const locked = await must('plan.solve', quick)
  expect(locked.plan!.totals.costCents - plan!.totals.costCents).toBeCloseTo(choice!.cost.cents!, -1)
  // Ordered seed is paid for in both, so changing one's mind costs more than it would have before.
  expect(choice!.cost.cents).toBeGreaterThan(0)
})
