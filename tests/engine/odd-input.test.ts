/** What nobody means but somebody types: it is taken as it is or refused in words, and never ends in a bug or in a number that is none. */
import { expect, onTestFinished, test } from 'vitest'
import type { SheetName } from '../../src-shared/sheet/sheet.ts'
import { pick } from '../shared/demo-farm.ts'
import { dumpOf } from '../support/open-file.ts'
import { farmOf, quick } from '../support/order-farm.ts'
import { entryOf, spring, springFarm } from '../support/spring-farm.ts'
import type { TestEngine } from '../support/engine.ts'

/** Every number in what a call gave that is infinite or none, by its path. */
function notNumbers(value: unknown, path = ''): string[] {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [`${path} is ${value}`]
  if (typeof value !== 'object' || value === null) return []
  return Object.entries(value).flatMap(([key, part]) => notNumbers(part, `${path}/${key}`))
}

/** A farm of which the test may ask no bug. */
function farm(): TestEngine {
  const host = farmOf()
  onTestFinished(() => expect(host.bugs).toEqual([]))
  return host
}

const added = (sheet: SheetName, values: Record<string, string | number>) => ({
  sheet,
  says: 'Add a row',
  added: [{ key: 1, values }],
})

const field = (name: string) => added('field', { name, acres: 1, water: 'dryland', yieldGoalLb: 3000 })

test.each([
  ['quote', { path: 'packPounds', value: 0 }, 'must be a number from 1 to'],
  ['field', { path: 'acres', value: 0 }, 'must be more than 0 acres'],
  ['field', { path: 'acres', value: -0 }, 'must be more than 0 acres'],
  ['field', { path: 'rowSpacingIn', value: 0 }, 'must be a number from'],
  ['variety', { path: 'germination', value: 0 }, 'must be a number from 0.3 to 1'],
  ['variety', { path: 'seedsPerPound', value: 0 }, 'must be a number from'],
  ['machine', { path: 'fieldEfficiency', value: 0 }, 'must be more than 0 %'],
  ['machine', { path: 'speedMph', value: 0 }, 'must be a number from'],
  ['quote', { path: 'orderBy', value: '2027-02-29' }, 'must be a date'],
  ['quote', { path: 'orderBy', value: '1899-12-30' }, 'must be a date'],
  ['quote', { path: 'orderBy', value: '0027-04-28' }, 'must be a date'],
  ['window', { path: 'closes', value: '02-30' }, 'must be a day'],
  ['threat', { path: 'name', value: 'constructor' }, 'must be another name'],
  ['threat', { path: 'name', value: '__proto__' }, 'must be another name'],
  ['threat', { path: 'name', value: 'toString' }, 'must be another name'],
] as const)('%s %j is refused', async (sheet, cell, words) => {
  const { must } = farm()
  const { refused, taken } = await must('sheet.change', { sheet, says: 'Type', cells: [{ id: 1, ...cell }] })
  expect(taken).toBe(0)
  expect(refused).toMatchObject([{ problem: { code: 'bad-value', what: expect.stringContaining(words) } }])
})

test.each([
  ['quote', { path: 'orderBy', value: '2028-02-29' }],
  ['window', { path: 'opens', value: '02-29' }],
  // Opens after it closes, until the other cell is typed as well.
  ['window', { path: 'opens', value: '12-31' }],
  ['machine', { path: 'hoursPerDay', value: 0 }],
] as const)('%s %j is taken, and the farm can still be planned', async (sheet, cell) => {
  const { must } = farm()
  const { refused } = await must('sheet.change', { sheet, says: 'Type', cells: [{ id: 1, ...cell }] })
  expect(refused).toEqual([])
  expect(notNumbers(await must('plan.solve', quick))).toEqual([])
})

test('seed for nothing is taken; with a break that takes more off, the plan is refused and says whose', async () => {
  const { must, call } = farm()
  const cells = [{ id: 1, path: 'packPriceCents', value: 0 }]
  expect((await must('sheet.change', { sheet: 'quote', says: 'Type', cells })).refused).toEqual([])
  expect(await call('plan.solve', quick)).toMatchObject({
    ok: false,
    problems: [
      { code: 'bad-value', what: expect.stringContaining('more off than a quote of this dealer costs') as string },
    ],
  })
  const breaks = pick(await must('dealer.list', {}), ({ name }) => name === 'North Seed')
  await must('sheet.change', { sheet: 'dealer', says: 'Type', cells: [{ id: breaks.id, path: 'breaks', value: [] }] })
  expect(notNumbers(await must('plan.solve', quick))).toEqual([])
})

test('names with quotes, emoji, letters of other scripts and the words of SQL and of spreadsheets are names as others', async () => {
  const { must } = farm()
  const names = [
    `O'Brien "back 40"; DROP TABLE field --`,
    '🥜'.repeat(40),
    'שדה ליד הנחל',
    '\u202EReversed',
    '=1+1',
    '50 %',
    'NULL',
  ]
  for (const name of names) expect((await must('sheet.change', field(name))).refused).toEqual([])
  const rows = await must('field.list', {})
  expect(rows.map(({ name }) => name)).toEqual(expect.arrayContaining(names))
  await must('sheet.change', added('threat', { name: names[0]!, kind: 'leaf' }))
  for (const [sheet, path, value] of [
    ['field', 'pressure', 'high'],
    ['variety', 'ratings', 5],
    ['measure', 'efficacy', 0.5],
  ] as const) {
    const cell = { id: 1, path: `${path}/${names[0]}`, value }
    expect(await must('sheet.change', { sheet, says: 'Type', cells: [cell] })).toMatchObject({ taken: 1 })
  }
  const { plan } = await must('plan.solve', quick)
  expect(plan!.blocks.map((block) => block.field)).toEqual(expect.arrayContaining(names))
})

test.each(['', '   ', '\u00a0', '\u200b', '\u200e\u200f', '\ufeff'])('%j is no name', async (name) => {
  const { must } = farm()
  const { added: made, refused } = await must('sheet.change', field(name))
  expect(made).toEqual([])
  expect(refused).toMatchObject([{ path: 'name' }])
})

test('a paste of thousands of rows is one step, and one step takes it back', async () => {
  const { must, engine } = farm()
  const before = dumpOf(engine.farm!.connection)
  const values = { acres: 1, water: 'dryland', yieldGoalLb: 3000 }
  const rows = Array.from({ length: 5000 }, (_, key) => ({ key, values: { ...values, name: `Strip ${key}` } }))
  expect((await must('sheet.change', { sheet: 'field', says: 'Paste', added: rows })).added).toHaveLength(5000)
  expect(await must('undo.back', {})).toEqual({ back: null, forward: 'Paste' })
  expect(dumpOf(engine.farm!.connection)).toEqual(before)
})

test('renamed, removed and brought back: every step back is what was there, and so is every step forward', async () => {
  const { must, engine } = farm()
  const now = () => dumpOf(engine.farm!.connection)
  const stages = [now()]
  const name = { id: 1, path: 'name', value: 'Ünder the 🥜 "oak"' }
  await must('sheet.change', { sheet: 'field', says: 'Rename', cells: [name] })
  stages.push(now())
  await must('sheet.change', { sheet: 'field', says: 'Remove', removed: [1] })
  stages.push(now())
  // The name is free again: another field may have it, and then the removed one is back before it.
  await must('sheet.change', field(name.value))
  stages.push(now())
  for (const stage of stages.slice(0, -1).reverse()) {
    await must('undo.back', {})
    expect(now()).toEqual(stage)
  }
  for (const stage of stages.slice(1)) {
    await must('undo.forward', {})
    expect(now()).toEqual(stage)
  }
})

test('changes that are asked for at once are made one after the other; a row removed twice is removed once', async () => {
  const { must, call } = farm()
  const typed = (value: number) => ({
    sheet: 'field' as const,
    says: `Type ${value}`,
    cells: [{ id: 1, path: 'acres', value }],
  })
  const [, , undone] = await Promise.all([
    must('sheet.change', typed(5)),
    must('sheet.change', typed(6)),
    must('undo.back', {}),
  ])
  expect(undone).toEqual({ back: 'Type 5', forward: 'Type 6' })
  expect(pick(await must('field.list', {}), ({ id }) => id === 1).acres).toBe(5)
  expect(await must('sheet.change', { sheet: 'field', says: 'Remove', removed: [1, 1] })).toMatchObject({ removed: 1 })
  const late = await must('sheet.change', typed(7))
  expect(late.refused).toMatchObject([{ problem: { code: 'unknown-name' } }])
  expect(await call('sheet.change', { sheet: 'field', says: 'Remove', removed: [1] })).toMatchObject({
    ok: true,
    value: { removed: 0 },
  })
})

test('lots of 0 lb and of dead seed: no rate, balance or sum is infinite or no number', async () => {
  const { must, receipts, receive, tag, bugs } = await springFarm()
  const line = pick(await receipts(), ({ packs }) => packs > 1)
  await receive(line, { packs: 0, pounds: 0, lotNumber: 'Nothing' })
  const { lotId } = await receive(line, { packs: 1, pounds: line.packPounds, lotNumber: 'Dead' })
  await tag(lotId, { germination: 0, testedIn: '2026-09' })
  // Emergence that falls with the drop makes a parabola of the stand; of dead seed, a flat one.
  for (const value of [0, 0.085, -0.01]) {
    await must('book.set', { key: 'emergence/falls per seed', value })
    const rates = await must('rates.list', { today: spring })
    expect(notNumbers(rates)).toEqual([])
    const block = pick(rates.blocks, ({ variety }) => variety === line.variety)
    const dead = pick(block.lots, ({ lot }) => lot === 'Dead')
    expect(dead.seedsPerFoot).toBeCloseTo(dead.stand * 20, 6)
  }
  const fieldId = pick((await must('planting.list', {})).fields).id
  await must('planting.save', {
    planting: entryOf({ fieldId, lots: [{ lotId, packs: null, pounds: 0.1 }] }),
    today: spring,
  })
  for (const [name, input] of [
    ['delivery.list', {}],
    ['planting.list', {}],
    ['placing.list', { today: spring }],
    ['trace.list', {}],
    ['review.now', {}],
  ] as const)
    expect(notNumbers(await must(name, input)), name).toEqual([])
  expect(bugs).toEqual([])
})

test('months of a test run to fifty years, not past the calendar’s end', async () => {
  const { call } = farm()
  const key = 'tag/months to shipment'
  expect(await call('book.set', { key, value: 600 })).toMatchObject({ ok: true })
  expect(await call('book.set', { key, value: 100_000 })).toMatchObject({
    ok: false,
    problems: [{ code: 'bad-value', what: '100000 is not a number from 0 to 600.' }],
  })
})
