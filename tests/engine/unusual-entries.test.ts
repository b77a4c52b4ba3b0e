/** What looks like a slip is asked about before it is saved, saved when confirmed, and told again in the record. */
import { expect, test } from 'vitest'
import { pick } from '../shared/demo-farm.ts'
import { entryOf, plainLot, spring, springFarm } from '../support/spring-farm.ts'

test('a planting before its lot came is refused until it is confirmed, then told in the record', async () => {
  const { must, call, receipts, receive } = await springFarm()
  const line = pick(await receipts(), ({ packs }) => packs > 0)
  const { lotId } = await receive(line, {}, '2027-04-15')
  const field = pick(await must('field.list', {}), ({ name }) => name === 'Hill')
  const early = entryOf({ fieldId: field.id, plantedOn: '2027-04-10', lots: [{ lotId, packs: null, pounds: 50 }] })
  const asked = await call('planting.save', { planting: early, today: spring, isConfirmed: false })
  expect(asked).toMatchObject({
    ok: false,
    problems: expect.arrayContaining([{ code: 'unusual' }].map((p) => expect.objectContaining(p))),
  })
  expect((await must('planting.list', {})).plantings).toEqual([])
  // Half-finished, it is still being typed.
  const half = await must('planting.save', {
    planting: { ...early, isFinished: false },
    today: spring,
    isConfirmed: false,
  })
  await must('planting.save', { id: half, planting: early, today: spring, isConfirmed: true })
  expect((await must('planting.list', {})).heeds.join(' ')).toContain('before lot')
})

test('a lot of another variety and a delivery of another year are refused until they are confirmed', async () => {
  const { must, call, receipts } = await springFarm()
  const line = pick(await receipts(), ({ packs }) => packs > 0)
  const { allDealers, varieties } = await must('delivery.list', {})
  const delivery = { dealerId: allDealers[0]!.id, arrivedOn: '2025-04-12', ticket: null, scalePounds: null, note: null }
  const old = await call('delivery.save', { delivery, today: spring, isConfirmed: false })
  expect(old.ok ? '' : old.problems[0]?.code).toBe('unusual')
  const deliveryId = await must('delivery.save', { delivery, today: spring, isConfirmed: true })
  const other = pick(varieties, ({ id }) => id !== line.varietyId)
  const lot = { ...plainLot(line, deliveryId), varietyId: other.id }
  const wrong = await call('lot.save', { lot, isConfirmed: false })
  expect(wrong.ok ? '' : wrong.problems[0]?.what).toContain(`the line ordered ${line.variety}`)
  expect(await must('lot.save', { lot, isConfirmed: true })).toBeGreaterThan(0)
})

test('a load of another year waits in the rail until it is confirmed, and again when it changes', async () => {
  const { must } = await springFarm()
  const row = { field: 'Hill', hauledOn: '2025-10-02', grossPounds: 400_000 }
  const { added } = await must('sheet.change', { sheet: 'load', says: 'Add', added: [{ key: 1, values: row }] })
  const id = added[0]!.id
  const load = async () => pick(await must('load.list', {}), (each) => each.id === id)
  const waiting = async () => (await must('harvest.waiting', {})).heeded
  const { heed } = await load()
  expect(heed).toContain('season 2027')
  expect(heed).toContain('400,000 lb is more than a truck carries')
  expect(await waiting()).toBe(1)
  await must('setting.set', { key: 'confirmed loads', value: { [id]: heed } })
  expect(await load()).toMatchObject({ heed, isConfirmed: true })
  expect(await waiting()).toBe(0)
  await must('sheet.change', { sheet: 'load', says: 'Change', cells: [{ id, path: 'grossPounds', value: 50_000 }] })
  expect(await waiting()).toBe(1)
})

test('a field planted twice over is asked about, and correcting its one entry is not', async () => {
  const { must, call, receipts, receive } = await springFarm()
  const line = pick(await receipts(), ({ packs }) => packs > 0)
  const { lotId } = await receive(line, {}, '2027-04-01')
  const field = pick(await must('field.list', {}), ({ name }) => name === 'Hill')
  const lots = [{ lotId, packs: null, pounds: field.acres * 120 }]
  const planting = entryOf({ fieldId: field.id, plantedOn: '2027-04-10', acres: field.acres, lots })
  const id = await must('planting.save', { planting, today: spring, isConfirmed: true })
  const ask = (id?: number) => call('planting.save', { id, planting, today: spring, isConfirmed: false })
  const acres = (reply: Awaited<ReturnType<typeof ask>>) =>
    reply.ok ? [] : reply.problems.filter(({ where }) => where?.column === 'acres')
  expect(acres(await ask())).toMatchObject([{ code: 'unusual' }])
  expect(acres(await ask(id))).toEqual([])
})

test('a load from a field where nothing was planted is told, once anything is planted', async () => {
  const { must, receipts, receive } = await springFarm()
  const [hill, other] = await must('field.list', {})
  const row = { field: other!.name, hauledOn: '2027-10-02', grossPounds: 40_000 }
  const { added } = await must('sheet.change', { sheet: 'load', says: 'Add', added: [{ key: 1, values: row }] })
  const heed = async () => pick(await must('load.list', {}), ({ id }) => id === added[0]!.id).heed
  expect(await heed()).toBeUndefined()
  const { lotId } = await receive(
    pick(await receipts(), ({ packs }) => packs > 0),
    {},
    '2027-04-01',
  )
  const planting = entryOf({ fieldId: hill!.id, plantedOn: '2027-04-10', lots: [{ lotId, packs: null, pounds: 50 }] })
  await must('planting.save', { planting, today: spring, isConfirmed: true })
  expect(await heed()).toBe(`Nothing is written down as planted in ${other!.name}.`)
})
