/** Orders as calls on a real farm file: made from a plan, answered, held against a newer plan, planned around, taken back. */
import { expect, test } from 'vitest'
import { sumsOf, type OrderLine } from '../../src-shared/order.ts'
import type { PlanRecord } from '../../src-shared/plan.ts'
import { pick } from '../shared/demo-farm.ts'
import { farmOf, freeSeason, linesOf, orderedFarm, quick, today, totalOf } from '../support/order-farm.ts'

const seedCents = (plan: PlanRecord) => plan.plan?.totals.seedCents

test('the orders of a plan are its packs, dealer by dealer, and its cash for seed to the cent', async () => {
  const { must, plan, bugs } = await orderedFarm()
  const now = await must('orders.list', {})
  expect(now.orders.map(({ dealer }) => dealer)).toEqual(plan.plan?.orders.map(({ dealer }) => dealer).sort())
  expect(totalOf(now)).toBe(seedCents(plan))
  for (const order of now.orders) {
    const own = pick(plan.plan!.orders, ({ dealer }) => dealer === order.dealer)
    expect(sumsOf(order)).toMatchObject({ pounds: own.pounds, feeCents: own.feeCents, offCents: own.offCents })
  }
  expect(
    linesOf(now)
      .map(({ quote, packs }) => [quote, packs])
      .sort(),
  ).toEqual(plan.plan?.purchases.map(({ quote, packs }) => [quote, packs]).sort())
  expect(now).toMatchObject({ madeFrom: { id: plan.id, draft: null }, inHand: { id: plan.id }, differences: [] })
  expect(now.shortages).toEqual([])
  expect(bugs).toEqual([])
})

test('a line is sent, confirmed, changed, refused and taken up again; each is one step back, in its words', async () => {
  const { must, call, dump } = await orderedFarm()
  const line = async () => linesOf(await must('orders.list', {}))[0] as OrderLine
  const { id, packs, packPriceCents } = await line()
  const mark = async (mark: object, says: string) => {
    const before = dump()
    await must('orders.mark', { lines: [id], mark: mark as never, says })
    expect((await must('undo.state', {})).back).toBe(says)
    const after = dump()
    await must('undo.back', {})
    expect(dump()).toEqual(before)
    await must('undo.forward', {})
    expect(dump()).toEqual(after)
    return line()
  }
  expect(await mark({ state: 'ordered', on: '2027-01-21' }, 'Send')).toMatchObject({
    state: 'ordered',
    sentOn: '2027-01-21',
  })
  expect(await mark({ state: 'confirmed', on: '2027-01-25' }, 'Confirm')).toMatchObject({
    state: 'confirmed',
    sentOn: '2027-01-21',
    answeredOn: '2027-01-25',
    confirmedPacks: packs,
    confirmedPriceCents: packPriceCents,
  })
  expect(
    await mark({ state: 'changed', on: '2027-01-26', packs: packs - 1, packPriceCents: 5000 }, 'Change'),
  ).toMatchObject({
    state: 'changed',
    packs,
    confirmedPacks: packs - 1,
    confirmedPriceCents: 5000,
  })
  // As it was asked after all: that is a confirmation.
  expect(await mark({ state: 'changed', on: '2027-01-26', packs, packPriceCents }, 'As asked')).toMatchObject({
    state: 'confirmed',
  })
  expect(await mark({ state: 'refused', on: '2027-01-27', note: ' sold out ' }, 'Refuse')).toMatchObject({
    state: 'refused',
    confirmedPacks: 0,
    note: 'sold out',
  })
  expect(await mark({ state: 'to order' }, 'Again')).toMatchObject({
    state: 'to order',
    sentOn: null,
    answeredOn: null,
    confirmedPacks: null,
    note: null,
  })
  expect(await mark({ state: 'changed', on: '2027-01-28', packs: 0 }, 'None')).toMatchObject({ state: 'refused' })
  expect(await call('orders.mark', { lines: [999], mark: { state: 'to order' }, says: 'x' })).toMatchObject({
    problems: [{ code: 'unknown-name' }],
  })
  expect(
    await call('orders.mark', { lines: [id], mark: { state: 'ordered', on: '2027-02-30' }, says: 'x' }),
  ).toMatchObject({
    problems: [{ code: 'bad-value' }],
  })
})

test('fewer packs fall back to the price that they reach, and the order is added up anew', async () => {
  const breaks = [{ fromPacks: 20, packPriceCents: 4000 }]
  const host = farmOf(
    freeSeason((own) => ({
      ...own,
      carried: [],
      quotes: [{ ...pick(own.quotes, ({ variety }) => variety === 'Amber'), packPriceCents: 4550, breaks }],
    })),
  )
  const plan = await host.must('plan.solve', quick)
  await host.must('orders.make', { today })
  const [line] = linesOf(await host.must('orders.list', {}))
  expect(line).toMatchObject({ packPriceCents: 4000 })
  await host.must('orders.mark', { lines: [line!.id], mark: { state: 'changed', on: today, packs: 19 }, says: 'Cut' })
  const now = await host.must('orders.list', {})
  // 19 × 45.50 = 864.50; 950 lb reach no break on the weight; the fee is 50.00.
  expect(sumsOf(now.orders[0]!)).toMatchObject({ linesCents: 86_450, offCents: 0, cents: 86_450 + 5000 })
  expect(sumsOf(now.orders[0]!, true).cents).toBe(seedCents(plan))
})

test('a refused quote: acres short, a draft around it that keeps what is on order, adopted, and made into orders', async () => {
  const { must, call, plan, bugs } = await orderedFarm()
  expect(await call('orders.replan', {})).toMatchObject({ problems: [{ code: 'missing' }] })
  const first = await must('orders.list', {})
  const largest = linesOf(first).toSorted((a, b) => b.packs * b.packPounds - a.packs * a.packPounds)[0]!
  const rest = linesOf(first).filter(({ id }) => id !== largest.id)
  if (rest.length > 0) {
    await must('orders.mark', {
      lines: rest.map(({ id }) => id),
      mark: { state: 'confirmed', on: today },
      says: 'Confirm',
    })
  }
  await must('orders.mark', { lines: [largest.id], mark: { state: 'refused', on: today }, says: 'Refuse' })
  const refused = await must('orders.list', {})
  const seed = pick(plan.plan!.seed, ({ variety }) => variety === largest.variety)
  expect(refused.shortages).toHaveLength(1)
  expect(refused.shortages[0]?.acres).toBeGreaterThan(0)
  expect(refused.shortages[0]?.acres).toBeLessThanOrEqual(seed.acres + 1e-9)
  // The plan in hand buys what cannot be had, and says so.
  const stale = await must('plan.latest', {})
  expect(stale?.isStale).toBe(true)
  expect(stale?.changes).toEqual([
    expect.stringMatching(new RegExp(`^Packs available of ${largest.quote} .* now 0\\.$`)),
  ])

  const id = await must('orders.replan', {})
  expect(await must('orders.replan', {})).toBe(id)
  const [draft] = await must('draft.list', {})
  expect(draft).toMatchObject({ name: 'Without the refused seed', says: [`${largest.quote}: 0 packs can be had.`] })
  await must('draft.solve', { id, today, ...quick })
  await must('draft.adopt', { id })
  const adopted = await must('plan.latest', {})
  expect(adopted?.isStale).toBe(false)
  expect(adopted?.plan?.purchases.some(({ quote }) => quote === largest.quote)).toBe(false)
  for (const line of rest) {
    expect(adopted?.plan?.purchases).toContainEqual(
      expect.objectContaining({ onOrderOf: line.quote, packs: line.packs, packPriceCents: line.packPriceCents }),
    )
  }
  // What is on order counts with its quote where plans are compared, and stands in no other work's way.
  const { quotes } = await must('plan.compare', { a: plan.id, b: adopted!.id })
  expect(quotes.some(({ quote }) => quote.includes('on order'))).toBe(false)
  expect((await must('plan.reasons', {}))?.choices.length).toBeGreaterThan(0)
  expect((await must('plan.hardYear', quick)).years.length).toBeGreaterThan(1)
  const older = await must('orders.list', {})
  expect(older).toMatchObject({
    madeFrom: { id: plan.id },
    inHand: { id: adopted?.id, draft: 'Without the refused seed' },
  })
  expect(older.differences.length).toBeGreaterThan(0)
  expect(await must('orders.waiting', {})).toMatchObject({ isOfOlderPlan: true, short: 1 })

  await must('orders.make', { today: '2027-02-01' })
  const after = await must('orders.list', {})
  expect(after).toMatchObject({ madeFrom: { id: adopted?.id }, differences: [], shortages: [] })
  expect(linesOf(after).find((line) => line.id === largest.id)).toMatchObject({ state: 'refused' })
  expect(totalOf(after)).toBe(seedCents(adopted!))
  // Solving the season again, without the draft, respects the dealers as well.
  const again = await must('plan.solve', { ...quick, today })
  expect(again.plan?.totals.costCents).toBe(adopted?.plan?.totals.costCents)
  expect(bugs).toEqual([])
})

test('making the orders, writing on one and taking it away are taken back; without a plan nothing is made', async () => {
  const { must, call, dump } = await orderedFarm()
  const made = dump()
  const [order] = (await must('orders.list', {})).orders
  await must('orders.note', { id: order!.id, number: 'N-114', note: 'call before noon' })
  expect((await must('orders.list', {})).orders[0]).toMatchObject({ number: 'N-114', note: 'call before noon' })
  await must('undo.back', {})
  await must('orders.drop', { id: order!.id })
  expect((await must('orders.list', {})).orders.map(({ id }) => id)).not.toContain(order!.id)
  await must('undo.back', {})
  expect(dump()).toEqual(made)
  await must('orders.make', { today })
  expect(totalOf(await must('orders.list', {}))).toBe(seedCents((await must('plan.latest', {}))!))
  await must('undo.back', {})
  await must('undo.back', {})
  expect(await must('orders.list', {})).toMatchObject({ orders: [], madeFrom: null })
  for (const name of ['orders.note', 'orders.drop'] as const) {
    const input = name === 'orders.note' ? { id: 99, number: null, note: null } : { id: 99 }
    expect(await call(name, input as never)).toMatchObject({ problems: [{ code: 'unknown-name' }] })
  }
  expect(await farmOf().call('orders.make', { today })).toMatchObject({ problems: [{ code: 'missing' }] })
})

test('the deposit is of the dealer’s row as it is today; a quote changed later leaves the order as it was', async () => {
  const { must } = await orderedFarm()
  const before = await must('orders.list', {})
  const dealer = pick(await must('dealer.list', {}), ({ name }) => name === before.orders[0]?.dealer)
  await must('sheet.change', {
    sheet: 'dealer',
    says: 'Deposit',
    cells: [{ id: dealer.id, path: 'depositShare', value: 0.25 }],
  })
  const quotes = await must('quote.list', {})
  const cells = quotes.map(({ id }) => ({ id, path: 'packPriceCents', value: 9999 }))
  await must('sheet.change', { sheet: 'quote', says: 'Dearer', cells })
  const after = await must('orders.list', {})
  expect(after.orders[0]?.depositShare).toBe(0.25)
  expect(linesOf(after)).toEqual(linesOf(before))
  expect(totalOf(after)).toBe(totalOf(before))
})

test('what waits is counted without a plan, and the table of an order is guarded', async () => {
  const { must } = await orderedFarm()
  const now = await must('orders.list', {})
  const count = linesOf(now).length
  expect(await must('orders.waiting', {})).toMatchObject({
    lines: count,
    toOrder: count,
    unanswered: 0,
    short: 0,
    isOfOlderPlan: false,
  })
  const [line] = linesOf(now)
  await must('orders.mark', { lines: [line!.id], mark: { state: 'refused', on: today, note: '=1+1' }, says: 'Refuse' })
  expect(await must('orders.waiting', {})).toMatchObject({ toOrder: count - 1, short: 1 })
  const csv = await must('orders.file', { id: null, as: 'csv' })
  const text = Buffer.from(csv.base64, 'base64').toString('utf8')
  expect(csv.name).toBe('Orders.csv')
  expect(text).toContain(",'=1+1")
  expect(text.split('\r\n').filter((row) => row.includes(',Total,'))).toHaveLength(now.orders.length)
  const [order] = now.orders
  expect((await must('orders.file', { id: order!.id, as: 'xlsx' })).name).toBe(`Order ${order!.dealer}.xlsx`)
})

test('where nothing fits without the refused seed, the draft says which rules cannot be kept', async () => {
  const { must } = farmOf(
    freeSeason((own) => ({ ...own, carried: [], quotes: own.quotes.filter(({ variety }) => variety === 'Amber') })),
  )
  await must('plan.solve', quick)
  await must('orders.make', { today })
  const lines = linesOf(await must('orders.list', {})).map(({ id }) => id)
  await must('orders.mark', { lines, mark: { state: 'refused', on: today }, says: 'Refuse' })
  const id = await must('orders.replan', {})
  await must('draft.solve', { id, today, ...quick })
  const [draft] = await must('draft.list', {})
  expect(draft?.plan).toMatchObject({ totals: null, proof: { status: 'nothing-fits' } })
  expect(draft?.plan?.proof.conflict?.rules.map(({ says }) => says)).toEqual([
    'North Seed · Amber: 0 packs can be had.',
  ])
})
