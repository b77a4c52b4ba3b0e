/** Seed that comes, as calls on a real farm file: against its order, short, over, wrong, refused, later; taken back. */
import { sumsOf } from '../../src-shared/order.ts'
import { expect, test } from 'vitest'
import { pick } from '../shared/demo-farm.ts'
import { plainLot, spring, springFarm, withReturns } from '../support/spring-farm.ts'

test('what was agreed is owed until it comes; short, over, refused and other varieties are told apart', async () => {
  const { must, receipts, receive, lots, bugs } = await springFarm()
  const line = pick(await receipts(), ({ packs }) => packs >= 4)
  const now = async () => pick(await receipts(), ({ lineId }) => lineId === line.lineId)
  expect(line).toMatchObject({ camePounds: 0, owedPounds: line.pounds, overPounds: 0, creditCents: 0 })

  const { deliveryId } = await receive(line, { packs: 2, pounds: 2 * line.packPounds, lotNumber: '0071' })
  expect(await now()).toMatchObject({ camePounds: 2 * line.packPounds, owedPounds: line.pounds - 2 * line.packPounds })

  // Turned away: still owed, and no credit while it may come again.
  await receive(line, { packs: 1, pounds: line.packPounds, lotNumber: '0072', state: 'refused' })
  expect(await now()).toMatchObject({ refusedPounds: line.packPounds, owedPounds: line.pounds - 2 * line.packPounds })

  // Another variety in its place, kept: it settles nothing.
  const other = pick((await must('delivery.list', {})).varieties, ({ id }) => id !== line.varietyId)
  await receive(line, { packs: 1, pounds: line.packPounds, lotNumber: 'X', varietyId: other.id })
  expect(await now()).toMatchObject({ otherPounds: line.packPounds, owedPounds: line.pounds - 2 * line.packPounds })

  // The rest later, then never: a credit at the order's price, less the break of the whole order.
  const { orders } = await must('orders.list', {})
  const order = pick(orders, ({ lines }) => lines.some(({ id }) => id === line.lineId))
  const off = sumsOf(order).reached?.offCentsPerPound ?? 0
  expect(off).toBe(1.5)
  const net = (packs: number) => Math.round(packs * (line.packPriceCents - off * line.packPounds))
  await must('delivery.promise', {
    lineId: line.lineId,
    promise: { says: 'later', expectedOn: '2027-05-01', note: null },
  })
  expect(await now()).toMatchObject({ promise: { expectedOn: '2027-05-01' }, creditCents: 0 })
  await must('delivery.promise', { lineId: line.lineId, promise: { says: 'not coming', expectedOn: null, note: null } })
  expect(await now()).toMatchObject({ owedPounds: 0, creditCents: net(line.packs - 2) })
  await must('undo.back', {})
  await must('undo.back', {})
  expect((await now()).promise).toBeNull()

  // Packs and their weight make the pounds; more than agreed is over.
  await must('lot.save', {
    lot: {
      ...plainLot(line, deliveryId),
      lotNumber: '0073',
      packs: line.packs,
      pounds: 0,
    },
  })
  expect(await now()).toMatchObject({ owedPounds: 0, overPounds: 2 * line.packPounds })
  // Leading zeros of a lot number are its own.
  expect((await lots()).map(({ lotNumber }) => lotNumber)).toContain('0073')
  expect(bugs).toEqual([])
})

test('a return is credited as the quote says', async () => {
  const { must, receipts, receive } = await springFarm(withReturns())
  const line = pick(await receipts(), ({ returnCredit, packs }) => returnCredit > 0 && packs > 0)
  await receive(line, { returnedPounds: line.packPounds })
  const now = pick(await receipts(), ({ lineId }) => lineId === line.lineId)
  // Less 1.5 cents a pound, the break of the whole order.
  expect(now.creditCents).toBe(Math.round((line.packPriceCents - 1.5 * line.packPounds) * line.returnCredit))
  expect(now.returnedPounds).toBe(line.packPounds)
  expect((await must('spring.waiting', { today: spring })).lots).toBe(1)
})

test('one number from two dealers is allowed and told apart; from one it is asked about', async () => {
  const { call, must, receipts, receive, lots } = await springFarm()
  const all = await receipts()
  const { dealers } = await must('delivery.list', {})
  const one = pick(all, ({ lineId }) => dealers[0]!.lines.some((line) => line.lineId === lineId))
  await receive(one, { lotNumber: 'A-1' })
  const { allDealers } = await must('delivery.list', {})
  const second = pick(allDealers, ({ name }) => name !== dealers[0]!.dealer)
  const dealerId = second.id
  const deliveryId = await must('delivery.save', {
    delivery: { dealerId, arrivedOn: '2027-04-13', ticket: 'T-9', scalePounds: 500, note: null },
    today: spring,
  })
  const lot = { ...plainLot(one, deliveryId), orderLineId: null, lotNumber: 'a-1' }
  await must('lot.save', { lot })
  expect((await lots()).map(({ name }) => name).sort()).toEqual([
    `A-1 of ${dealers[0]!.dealer}`,
    `a-1 of ${second.name}`,
  ])
  const again = await call('lot.save', { lot })
  expect(again).toMatchObject({ ok: false, problems: [{ code: 'repeated-name', where: { column: 'lotNumber' } }] })
  await must('lot.save', { lot, isSecondPart: true })
  expect(await lots()).toHaveLength(3)
})

test('every change is one step back, in its words, to the last byte', async () => {
  const { must, receipts, receive, tag, dump } = await springFarm()
  const line = pick(await receipts(), ({ packs }) => packs > 0)
  const { deliveryId, lotId, lot } = await receive(line)
  await tag(lotId, { germination: 0.8, testedIn: '2026-12' })
  const png = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 1, 2]).toString('base64')
  const steps: [string, () => Promise<unknown>][] = [
    [
      'Change a delivery',
      () => must('delivery.save', { id: deliveryId, delivery: { ...load(line), note: 'wet' }, today: spring }),
    ],
    [`Change lot ${lot.lotNumber}`, () => must('lot.save', { id: lotId, lot: { ...lot, returnedPounds: 10 } })],
    [`Write down the tag of ${lot.lotNumber}`, () => tag(lotId, { germination: 0.9 })],
    ['Take a tag away', () => must('tag.save', { lotId, tag: null, today: spring })],
    ['Keep a picture of a tag', () => must('tag.addPhoto', { lotId, file: { name: 'tag.png', base64: png } })],
    [
      'Write down a germination test',
      () =>
        must('test.save', {
          lotId,
          test: {
            testedOn: spring,
            laboratory: null,
            germination: null,
            hardSeed: null,
            replicates: [{ seeds: 100, sprouted: 81 }],
            note: null,
          },
          today: spring,
        }),
    ],
    [
      'The rest: later',
      () =>
        must('delivery.promise', {
          lineId: line.lineId,
          promise: { says: 'later', expectedOn: null, note: null },
        }),
    ],
    ['Take a lot away', () => must('lot.remove', { id: lotId })],
    ['Take a delivery away', () => must('delivery.remove', { id: deliveryId })],
  ]
  for (const [words, step] of steps) {
    const before = dump()
    await step()
    expect((await must('undo.state', {})).back).toBe(words)
    const after = dump()
    expect(after).not.toEqual(before)
    await must('undo.back', {})
    expect(dump()).toEqual(before)
    await must('undo.forward', {})
    expect(dump()).toEqual(after)
  }

  function load(of: typeof line) {
    const dealerId = 1
    expect(of.lineId).toBeGreaterThan(0)
    return { dealerId, arrivedOn: '2027-04-12', ticket: null, scalePounds: 100, note: null }
  }
})

test('a delivery with lots, one of the future and one of nobody are refused, each with what to do', async () => {
  const { call, receipts, receive } = await springFarm()
  const line = pick(await receipts(), ({ packs }) => packs > 0)
  const { deliveryId, lot } = await receive(line)
  const delivery = { dealerId: 1, arrivedOn: '2027-04-21', ticket: null, scalePounds: null, note: null }
  for (const [name, input, code] of [
    ['delivery.remove', { id: deliveryId }, 'bad-value'],
    ['delivery.save', { delivery, today: spring }, 'bad-value'],
    ['delivery.save', { delivery: { ...delivery, arrivedOn: spring, dealerId: 99 }, today: spring }, 'unknown-name'],
    ['delivery.save', { id: 99, delivery: { ...delivery, arrivedOn: spring }, today: spring }, 'unknown-name'],
    ['delivery.promise', { lineId: 999, promise: null }, 'unknown-name'],
    ['lot.save', { lot: { ...lot, lotNumber: 'N', varietyId: 99 } }, 'unknown-name'],
    ['lot.save', { lot: { ...lot, lotNumber: 'N', deliveryId: 99 } }, 'unknown-name'],
    ['lot.save', { lot: { ...lot, lotNumber: 'N', orderLineId: 99 } }, 'unknown-name'],
    ['lot.save', { lot: { ...lot, lotNumber: 'N', carriedSeedId: 99 } }, 'unknown-name'],
    ['lot.save', { lot: { ...lot, lotNumber: 'N', packs: -1 } }, 'bad-value'],
    ['lot.save', { lot: { ...lot, lotNumber: 'N', pounds: -5 } }, 'bad-value'],
    ['lot.save', { lot: { ...lot, lotNumber: '  ' } }, 'bad-value'],
    ['lot.save', { lot: { ...lot, lotNumber: 'N', returnedPounds: lot.pounds + 1 } }, 'bad-value'],
    ['lot.remove', { id: 99 }, 'unknown-name'],
    ['tag.removePhoto', { id: 99 }, 'unknown-name'],
    ['tag.photo', { id: 99 }, 'unknown-name'],
    ['test.remove', { id: 99 }, 'unknown-name'],
  ] as const) {
    const reply = await call(name, input as never)
    expect(reply, `${name} ${JSON.stringify(input)}`).toMatchObject({ ok: false, problems: [{ code }] })
    if (!reply.ok) expect(reply.problems[0]?.remedy.length).toBeGreaterThan(5)
  }
})

test('refuses to call a line refused, or not yet ordered, when its seed came', async () => {
  const { must, call, receipts, receive } = await springFarm()
  const line = pick(await receipts(), ({ packs }) => packs >= 4)
  const { lotId } = await receive(line)
  const on = '2027-04-02'
  const before = await must('orders.list', {})
  for (const mark of [{ state: 'refused', on }, { state: 'to order' }, { state: 'changed', on, packs: 0 }] as const) {
    expect(await call('orders.mark', { lines: [line.lineId], mark, says: 'x' })).toMatchObject({
      ok: false,
      problems: [{ code: 'bad-value', what: expect.stringContaining('came for this line already') as string }],
    })
  }
  expect(await must('orders.list', {})).toEqual(before)
  await must('lot.set', { id: lotId, values: { state: 'refused' } })
  await must('orders.mark', { lines: [line.lineId], mark: { state: 'refused', on }, says: 'x' })
})
