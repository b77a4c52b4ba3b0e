/** The next season in the same file: what goes on, what is left behind, the old one read and not written, the way back. */
import { expect, test } from 'vitest'
import type { RollLook } from '../../src-shared/roll.ts'
import { gather } from '../../src-main/engine/plan/gather.ts'
import { openFarm } from '../../src-main/engine/farm-file.ts'
import { pick } from '../shared/demo-farm.ts'
import { dumpOf } from '../support/open-file.ts'
import { farmOf, freeSeason, quick, today } from '../support/order-farm.ts'
import { plantedFarm, spring } from '../support/spring-farm.ts'

const says = (look: RollLook) => Object.fromEntries(look.fields.map(({ field, crop, from }) => [field, [crop, from]]))

test('it is known what was planted; the rest is asked; seed left of a lot is counted', async () => {
  const farm = await plantedFarm()
  const look = await farm.must('season.look', {})
  expect(says(look)).toEqual({
    'Creek Bottom': [null, null],
    Hill: ['peanut', 'a planting'],
    'Long Field': [null, null],
  })
  expect(look.left).toEqual([
    {
      lotId: farm.lotId,
      variety: farm.line.variety,
      lot: farm.lot.lotNumber,
      pounds: 300,
      isTreated: true,
      isOwnGrown: false,
    },
  ])
  expect(look.behind.contracts).toBe((await farm.must('contract.list', {})).length)
  expect(look.behind).toMatchObject({ quotes: (await farm.must('quote.list', {})).length, orders: expect.any(Number) })
})

test('where nothing was written down as planted, the plan is proposed; a crop in the history is taken', async () => {
  const farm = farmOf()
  await farm.must('plan.solve', quick)
  const hill = pick(await farm.must('field.list', {}), ({ name }) => name === 'Hill')
  const value = [{ season: 2027, crop: 'corn' }]
  await farm.must('sheet.change', { sheet: 'field', says: 'x', cells: [{ id: hill.id, path: 'history', value }] })
  const look = await farm.must('season.look', {})
  expect(says(look)).toEqual({
    'Creek Bottom': ['peanut', 'the plan'],
    Hill: ['corn', 'its history'],
    'Long Field': ['peanut', 'the plan'],
  })
  // Peanuts that were hauled from a field grew there, whatever else was written down.
  const values = { field: 'Creek Bottom', hauledOn: '2027-09-28', grossPounds: 20_000 }
  await farm.must('sheet.change', { sheet: 'load', says: 'Add a load', added: [{ key: 1, values }] })
  expect(says(await farm.must('season.look', {}))).toMatchObject({ 'Creek Bottom': ['peanut', 'its loads'] })
  // A proposal that is not confirmed is no record.
  await farm.must('season.roll', { crops: [] })
  const rows = await farm.must('field.list', {})
  expect(pick(rows, ({ name }) => name === 'Long Field').history).toEqual([])
  expect(pick(rows, ({ name }) => name === 'Hill').history).toEqual([{ season: 2027, crop: 'corn' }])
})

test('the next season: ground, varieties, rules and book go on, quotes and orders stay behind, seed left is carried', async () => {
  const farm = await plantedFarm()
  const { must } = farm
  await must('book.set', { key: 'drop/seeds per foot/single', value: 7 })
  const before = await gather(farm.engine.farm!.db, farm.engine.farm!.seasonId)
  const long = pick(await must('field.list', {}), ({ name }) => name === 'Long Field')
  const summary = await must('season.roll', { crops: [{ fieldId: long.id, crop: 'cotton' }] })
  expect(summary).toMatchObject({
    season: 2028,
    isReadOnly: false,
    seasons: [{ year: 2028, isOpen: true }, { year: 2027 }],
  })
  const after = await gather(farm.engine.farm!.db, farm.engine.farm!.seasonId)
  const { fields, season, quotes, carried, locks, exclusions, ...kept } = after
  const { fields: old, season: _s, quotes: _q, carried: _c, locks: _l, exclusions: _e, ...oldKept } = before
  expect(kept).toEqual(oldKept)
  expect([season, quotes, locks, exclusions]).toEqual([2028, [], [], []])
  expect(carried).toEqual([
    { variety: farm.line.variety, lot: farm.lot.lotNumber, pounds: 300, mustUse: false, isOwnGrown: false },
  ])
  const grown: Record<string, object[]> = {
    Hill: [{ season: 2027, crop: 'peanut' }],
    'Long Field': [{ season: 2027, crop: 'cotton' }],
  }
  // What was in peanut rests; it stays in the farm.
  expect(fields).toEqual(
    old.map((field) => ({
      ...field,
      history: [...(grown[field.name] ?? []), ...field.history],
      rests: field.name === 'Hill',
    })),
  )
  const orders = await must('orders.list', {})
  expect([
    orders.orders,
    await must('plan.latest', {}),
    await must('draft.list', {}),
    await must('load.list', {}),
  ]).toEqual([[], null, [], []])
  // Carried seed of the lot it came from, for the trace.
  const link = farm.engine.farm!.connection.prepare('SELECT fromLotId FROM carried_seed WHERE fromLotId IS NOT NULL')
  expect(link.pluck().all()).toEqual([farm.lotId])
  expect(farm.bugs).toEqual([])
})

test('a closed season reads as it was, on every page, and no change of it is taken', async () => {
  const farm = await plantedFarm()
  const { must, call } = farm
  const hill = farm.field.id
  await must('sheet.change', {
    sheet: 'load',
    says: 'Add',
    added: [
      {
        key: -1,
        values: { field: 'Hill', hauledOn: '2027-10-02', grossPounds: 30_000, tarePounds: 10_000, paidCents: 400_000 },
      },
    ],
  })
  const reads = ['field.list', 'variety.list', 'quote.list', 'orders.list', 'delivery.list', 'planting.list'] as const
  const more = [
    'trace.list',
    'load.list',
    'harvest.list',
    'draft.list',
    'rule.list',
    'book.list',
    'plan.latest',
  ] as const
  const readAll = async () => {
    const all: unknown[] = [await must('rates.list', { today: spring }), await must('placing.list', { today: spring })]
    for (const name of [...reads, ...more]) all.push(await must(name, {}))
    return all
  }
  const before = await readAll()
  const [old] = (await must('farm.current', {}))!.seasons
  await must('season.roll', { crops: [] })
  await must('sheet.change', {
    sheet: 'variety',
    says: 'x',
    cells: [{ id: (await must('variety.list', {}))[0]!.id, path: 'note', value: 'next year' }],
  })
  expect(await must('season.open', { id: old!.id })).toMatchObject({ season: 2027, isReadOnly: true })
  expect(await readAll()).toEqual(before)
  const dump = dumpOf(farm.engine.farm!.connection)
  const refused = [
    await call('sheet.change', { sheet: 'field', says: 'x', cells: [{ id: hill, path: 'acres', value: 1 }] }),
    await call('lock.set', { fieldId: hill, variety: null }),
    await call('book.set', { key: 'drop/seeds per foot/single', value: 5 }),
    await call('plan.solve', quick),
    await call('orders.make', { today }),
    await call('season.roll', { crops: [] }),
    await call('undo.back', {}),
  ]
  for (const reply of refused) expect(reply).toMatchObject({ ok: false, problems: [{ code: 'closed-season' }] })
  expect(await must('undo.state', {})).toEqual({ back: null, forward: null })
  // Column widths are the window's, and a curve is only looked at.
  await must('setting.set', { key: 'widths/field', value: { name: 12 } })
  expect(dumpOf(farm.engine.farm!.connection)).toEqual(dump)
  // The tables themselves refuse it too, whoever asks.
  const { connection, seasonId } = farm.engine.farm!
  const closed = /a closed season is not written in/
  expect(() => connection.prepare('UPDATE variety SET note = NULL WHERE seasonId = ?').run(seasonId)).toThrow(closed)
  expect(() => connection.prepare('DELETE FROM load WHERE seasonId = ?').run(seasonId)).toThrow(closed)
  expect(() => connection.prepare('UPDATE planting SET acres = 1').run()).toThrow(closed)
  // After a restart the open season is at hand.
  const { path } = farm.engine.farm!
  await must('farm.close', {})
  const again = openFarm(path)
  if (!again.ok) throw new Error('It does not open.')
  expect([again.value.isReadOnly, again.value.seasonId === seasonId]).toEqual([false, false])
  again.value.close()
  expect(farm.bugs).toEqual([])
})

test('a season begun can be taken back and begun again, to the last byte, until it has a plan', async () => {
  const farm = await plantedFarm()
  const { must, call } = farm
  const dump = () => dumpOf(farm.engine.farm!.connection)
  const before = dump()
  await must('season.roll', { crops: [] })
  const after = dump()
  expect((await must('undo.state', {})).back).toBe('Begin season 2028')
  await must('undo.back', {})
  expect(dump()).toEqual(before)
  expect(await must('farm.current', {})).toMatchObject({ season: 2027, isReadOnly: false, seasons: [{ year: 2027 }] })
  await must('undo.forward', {})
  expect(dump()).toEqual(after)
  expect(await must('farm.current', {})).toMatchObject({ season: 2028, isReadOnly: false })
  // What was entered since goes first.
  const hill = pick(await must('field.list', {}), ({ name }) => name === 'Hill')
  await must('sheet.change', { sheet: 'field', says: 'Acres', cells: [{ id: hill.id, path: 'acres', value: 40 }] })
  expect(await must('undo.back', {})).toMatchObject({ back: 'Begin season 2028' })
  const dealer = (await must('dealer.list', {}))[0]!.name
  await must('sheet.change', {
    sheet: 'quote',
    says: 'Quotes',
    added: ['Amber', 'Bison', 'Cedar'].map((variety, at) => ({
      key: -1 - at,
      values: { dealer, variety, packPounds: 50, packPriceCents: 4500 },
    })),
  })
  await must('plan.solve', quick)
  await must('undo.back', {})
  expect(await call('undo.back', {})).toMatchObject({ ok: false, problems: [{ code: 'in-use' }] })
  expect(await must('farm.current', {})).toMatchObject({ season: 2028 })
  expect(farm.bugs).toEqual([])
})

test('a field that comes and goes over the seasons keeps its name, its history and its loads', async () => {
  const farm = farmOf()
  const { must } = farm
  await must('season.roll', { crops: [] })
  const hill = pick(await must('field.list', {}), ({ name }) => name === 'Hill')
  await must('sheet.change', { sheet: 'field', says: 'Leave out', removed: [hill.id] })
  await must('season.roll', { crops: [] })
  const values = { name: 'Hill', acres: 44, water: 'dryland', yieldGoalLb: 3000 }
  await must('sheet.change', { sheet: 'field', says: 'Back', added: [{ key: -1, values }] })
  expect(pick(await must('field.list', {}), ({ name }) => name === 'Hill').id).toBe(hill.id)
  const seasons = await must('season.list', {})
  expect(seasons.map(({ year, fields, isOpen }) => [year, fields, isOpen])).toEqual([
    [2029, 3, true],
    [2028, 2, false],
    [2027, 3, false],
  ])
  expect(farm.bugs).toEqual([])
})

test('the seasons side by side: acres, tons, value, what the plan said', async () => {
  const farm = await plantedFarm()
  const { must } = farm
  const base = { field: 'Hill', hauledOn: '2027-10-02', grossPounds: 30_000, tarePounds: 10_000 }
  const added = [
    { key: -1, values: { ...base, paidCents: 400_000 } },
    { key: -2, values: { ...base, ticket: '2' } },
  ]
  await must('sheet.change', { sheet: 'load', says: 'Add', added })
  const plan = await must('plan.latest', {})
  const [row] = await must('season.list', {})
  expect(row).toMatchObject({
    year: 2027,
    fields: 3,
    plantedAcres: 20,
    varieties: 1,
    tons: 20,
    tonsPerAcre: 1,
    valueCents: 400_000,
  })
  expect(row?.planCentsPerAcre).toBe(plan!.plan!.totals.costCents / plan!.plan!.totals.acres)
  await must('season.roll', { crops: [] })
  expect((await must('season.list', {}))[0]).toMatchObject({
    year: 2028,
    tons: null,
    valueCents: null,
    planCentsPerAcre: null,
  })
})

test('the last year that a season can have is said', async () => {
  const farm = farmOf(freeSeason((season) => ({ ...season, season: 2200 })))
  expect(await farm.call('season.roll', { crops: [] })).toMatchObject({ ok: false, problems: [{ code: 'bad-value' }] })
  expect(await farm.call('season.open', { id: 99 })).toMatchObject({ ok: false, problems: [{ code: 'unknown-name' }] })
})
