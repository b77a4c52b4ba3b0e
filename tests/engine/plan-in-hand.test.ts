/** The plan in hand on a real farm file: a solve that finds nothing never takes its place, and going back goes back. */
import { expect, test } from 'vitest'
import { farmOf, freeSeason, quick, today } from '../support/order-farm.ts'

async function planned() {
  const host = farmOf(freeSeason())
  const first = await host.must('plan.solve', quick)
  const latest = async () => {
    const record = await host.must('plan.latest', {})
    if (record === null) throw new Error('There is no plan in hand.')
    return record
  }
  const setPrice = async (cents: number) => {
    const [quote] = await host.must('quote.list', {})
    const cells = [{ id: quote!.id, path: 'packPriceCents', value: cents }]
    await host.must('sheet.change', { sheet: 'quote', says: 'Change price', cells })
  }
  /** No quote has a pack left: nothing fits. */
  const takeSeedAway = async () => {
    const cells = (await host.must('quote.list', {})).map(({ id }) => ({ id, path: 'availablePacks', value: 0 }))
    await host.must('sheet.change', { sheet: 'quote', says: 'Take seed away', cells })
  }
  return { ...host, first, latest, setPrice, takeSeedAway }
}

test('a solve that finds nothing leaves the plan in hand, its rates and its orders', { timeout: 300_000 }, async () => {
  const { must, latest, first, takeSeedAway } = await planned()
  await must('orders.make', { today })
  const rates = await must('rates.list', { today })
  await takeSeedAway()
  await must('plan.solve', quick)
  const after = await latest()
  expect(after).toMatchObject({ id: first.id, plan: first.plan, attempt: { costCents: null } })
  expect(after.attempt?.proof).toMatchObject({ status: 'nothing-fits', conflict: { rules: expect.any(Array) } })
  expect((await must('rates.list', { today })).blocks).toEqual(rates.blocks)
  expect((await must('orders.waiting', {})).isOfOlderPlan).toBe(false)
})

test('a plan says whether it left yield out, whatever the rules say now', { timeout: 300_000 }, async () => {
  const { must, latest } = await planned()
  expect((await latest()).leavesYieldOut).toBe(false)
  await must('sheet.change', {
    sheet: 'rule',
    says: 'Leave yield out',
    added: [{ key: 1, values: { rule: 'yield-left-out' } }],
  })
  expect(await latest()).toMatchObject({ isStale: true, leavesYieldOut: false })
  await must('plan.solve', quick)
  const [rule] = (await must('rule.list', {})).filter((each) => each.rule === 'yield-left-out')
  await must('sheet.change', { sheet: 'rule', says: 'Count yield', removed: [rule!.id] })
  expect(await latest()).toMatchObject({ isStale: true, leavesYieldOut: true })
})

test('undoing what clashed takes the failed solve off the page', { timeout: 300_000 }, async () => {
  const { must, latest, first, takeSeedAway } = await planned()
  await takeSeedAway()
  await must('plan.solve', quick)
  await must('undo.back', {})
  expect(await latest()).toMatchObject({ id: first.id, isStale: false, attempt: null })
})

test('without a plan in hand, a failed solve goes when the farm has changed', { timeout: 300_000 }, async () => {
  const host = farmOf(freeSeason())
  const cells = (await host.must('quote.list', {})).map(({ id }) => ({ id, path: 'availablePacks', value: 0 }))
  await host.must('sheet.change', { sheet: 'quote', says: 'Take seed away', cells })
  expect((await host.must('plan.solve', quick)).plan).toBeNull()
  expect((await host.must('plan.latest', {}))?.proof.status).toBe('nothing-fits')
  await host.must('undo.back', {})
  expect(await host.must('plan.latest', {})).toBeNull()
})

test(
  'earlier plan, pressed again and again, reaches the first; later plan comes back',
  { timeout: 300_000 },
  async () => {
    const { must, latest, first, setPrice } = await planned()
    const ids = [first.id]
    for (const cents of [4100, 3900]) {
      await setPrice(cents)
      ids.push((await must('plan.solve', quick)).id)
    }
    for (const id of [ids[1]!, ids[0]!]) {
      await must('plan.adopt', { id: (await latest()).beforeId! })
      expect((await latest()).id).toBe(id)
    }
    expect(await latest()).toMatchObject({ plan: first.plan, beforeId: null, afterId: ids[1] })
    for (const id of [ids[1]!, ids[2]!]) {
      await must('plan.adopt', { id: (await latest()).afterId! })
      expect((await latest()).id).toBe(id)
    }
    expect((await latest()).afterId).toBeNull()
  },
)

test('a stopped solve is offered and does not take the place of the plan in hand', { timeout: 300_000 }, async () => {
  const { must, latest, first, setPrice, news, call } = await planned()
  await setPrice(4100)
  const solve = must('plan.solve', { gap: 0, seconds: 20 })
  await call('plan.stop', {})
  await solve
  const { id, attempt } = await latest()
  expect(id).toBe(first.id)
  expect(attempt?.proof.endedBy).toBe('you')
  expect(news.length).toBeGreaterThan(0)
})
