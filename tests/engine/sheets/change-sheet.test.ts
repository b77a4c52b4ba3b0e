/**
 * Sheets on a real file: what is taken, what is refused and why, rows added and removed, one undo step for all of it.
 * Long because every sheet is asked the same questions.
 */
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { createFarm } from '../../../src-main/engine/farm-file.ts'
import { sheetNames } from '../../../src-shared/sheet/sheet.ts'
import { startTestEngine, type TestEngine } from '../../support/engine.ts'
import { dumpOf, smallSeason } from '../../support/open-file.ts'

/** An engine with the small season open. */
function smallFarm(): TestEngine {
  const test = startTestEngine()
  onTestFinished(() => test.close())
  const made = createFarm(join(test.engine.home, 'Small.farm'), smallSeason())
  if (!made.ok) throw new Error(JSON.stringify(made.problems))
  test.engine.farm = made.value
  return test
}

test.each([
  ['field', { id: 1, path: 'acres', value: -3 }, 'bad-value'],
  ['field', { id: 1, path: 'acres', value: '92' }, 'bad-value'],
  ['field', { id: 1, path: 'acres', value: null }, 'missing'],
  ['field', { id: 1, path: 'tillage', value: null }, 'missing'],
  ['field', { id: 1, path: 'name', value: '  ' }, 'missing'],
  ['field', { id: 1, path: 'name', value: '\u0000' }, 'bad-value'],
  ['field', { id: 1, path: 'soil', value: 'a\u0000b' }, 'bad-value'],
  ['field', { id: 1, path: 'acres', value: true }, 'bad-value'],
  ['field', { id: 1, path: 'water', value: 'sea' }, 'bad-value'],
  ['field', { id: 1, path: 'note', value: 'x'.repeat(2001) }, 'bad-value'],
  ['field', { id: 1, path: 'name', value: 'hill' }, 'repeated-name'],
  ['field', { id: 99, path: 'acres', value: 5 }, 'unknown-name'],
  ['variety', { id: 1, path: 'seedsPerPound', value: 20 }, 'bad-value'],
  ['variety', { id: 1, path: 'germination', value: 85 }, 'bad-value'],
  ['variety', { id: 1, path: 'daysToMaturity', value: 140.5 }, 'bad-value'],
  ['variety', { id: 1, path: 'name', value: 'BISON' }, 'repeated-name'],
  ['variety', { id: 99, path: 'name', value: 'New' }, 'unknown-name'],
  ['quote', { id: 1, path: 'packPriceCents', value: 12.5 }, 'bad-value'],
  ['quote', { id: 1, path: 'orderBy', value: '2027-02-30' }, 'bad-value'],
  ['quote', { id: 4, path: 'name', value: 'early order' }, 'repeated-name'],
  ['quote', { id: 99, path: 'name', value: 'x' }, 'unknown-name'],
] as const)('%s %j is refused: %s, and nothing is written', async (sheet, cell, code) => {
  const { must, engine, bugs } = smallFarm()
  const before = dumpOf(engine.farm!.connection)
  const outcome = await must('sheet.change', { sheet, says: 'Change a cell', cells: [cell] })
  expect(outcome).toMatchObject({ taken: 0, refused: [{ key: cell.id, path: cell.path, problem: { code } }] })
  expect(outcome.refused[0]?.problem).toMatchObject({ where: { table: sheet }, remedy: expect.stringMatching(/\.$/) })
  expect(dumpOf(engine.farm!.connection)).toEqual(before)
  expect(await must('undo.state', {})).toEqual({ back: null, forward: null })
  expect(bugs).toEqual([])
})

test('many cells are one step; those not taken are named, and hold the others up not at all', async () => {
  const { must, engine, news } = smallFarm()
  const before = dumpOf(engine.farm!.connection)
  const outcome = await must('sheet.change', {
    sheet: 'field',
    says: 'Paste 4 cells',
    cells: [
      { id: 1, path: 'acres', value: 92 },
      { id: 2, path: 'acres', value: -1 },
      { id: 3, path: 'acres', value: 70 },
      { id: 99, path: 'acres', value: 70 },
    ],
  })
  expect(outcome.taken).toBe(2)
  expect(outcome.refused.map(({ key, path, problem }) => [key, path, problem.code])).toEqual([
    [2, 'acres', 'bad-value'],
    [99, 'acres', 'unknown-name'],
  ])
  expect((await must('field.list', {})).map((row) => row.acres)).toEqual([92, expect.any(Number), 70])
  expect(news).toContainEqual(expect.objectContaining({ kind: 'changed', tables: ['field', 'undo'] }))
  expect(await must('undo.state', {})).toEqual({ back: 'Paste 4 cells', forward: null })
  await must('undo.back', {})
  expect(dumpOf(engine.farm!.connection)).toEqual(before)
})

test('compound cells of a field: history, pressure, windows, drop, split, boundary', async () => {
  const { must, engine } = smallFarm()
  const before = dumpOf(engine.farm!.connection)
  const history = [
    { season: 2026, crop: 'corn' },
    { season: 2025, crop: 'peanut' },
  ]
  const corner = [
    [-83, 31],
    [-82.9, 31],
    [-82.9, 31.1],
    [-83, 31],
  ]
  const cells: [string, unknown][] = [
    ['history', history],
    ['pressure/spotted wilt', 'severe'],
    ['pressure/late leaf spot', null],
    ['windows', ['usual', 'Early']],
    ['drop', { kind: 'stand', plantsPerFoot: 4 }],
    ['split/mostVarieties', 3],
    ['nematodesPer100cc', 19.2],
    ['boundary', { type: 'Polygon', coordinates: [corner] }],
  ]
  const outcome = await must('sheet.change', {
    sheet: 'field',
    says: 'Change many cells',
    cells: cells.map(([path, value]) => ({ id: 3, path, value: value as never })),
  })
  expect(outcome.refused).toEqual([])
  const row = (await must('field.list', {})).find((field) => field.id === 3)
  expect(row).toMatchObject({
    history,
    windows: ['Early', 'Usual'],
    drop: { kind: 'stand', plantsPerFoot: 4 },
    split: { mostVarieties: 3 },
    nematodesPer100cc: 19.2,
    yearsOut: 1,
  })
  expect(row?.pressure['spotted wilt']).toBe('severe')
  expect(row?.boundaryAcres).toBeGreaterThan(1000)
  await must('undo.back', {})
  expect(dumpOf(engine.farm!.connection)).toEqual(before)
})

test('a split is both of its numbers or neither', async () => {
  const { must } = smallFarm()
  const put = (path: string, value: number | null) =>
    must('sheet.change', { sheet: 'field', says: 'Split', cells: [{ id: 3, path, value }] })
  const split = async () => (await must('field.list', {})).find((field) => field.id === 3)?.split
  await put('split/mostVarieties', null)
  expect(await split()).toBeUndefined()
  await put('split/leastBlockAcres', 20)
  expect(await split()).toEqual({ leastBlockAcres: 20, mostVarieties: 2 })
  await put('split/leastBlockAcres', null)
  expect(await split()).toEqual({ leastBlockAcres: 0, mostVarieties: 2 })
  await put('split/mostVarieties', null)
  expect(await split()).toBeUndefined()
})

test.each([
  ['field', 'pressure/rust', 'low', 'unknown-name'],
  ['field', 'windows', ['Never'], 'unknown-name'],
  ['field', 'pressure', {}, 'bad-value'],
  ['field', 'acres/x', 1, 'bad-value'],
  ['field', '__proto__', 1, 'bad-value'],
  ['field', 'history', [{ season: 1, crop: 'x' }], 'bad-value'],
  ['field', 'history', [{ season: 2028, crop: 'peanut' }], 'bad-value'],
  ['field', 'drop', { kind: 'fixed', seedsPerFoot: 99 }, 'bad-value'],
  ['variety', 'ratings/spotted wilt', 12, 'bad-value'],
  ['quote', 'breaks', [{ fromPacks: 0, packPriceCents: 1 }], 'bad-value'],
  ['quote', 'dealer', 'Nobody', 'unknown-name'],
  ['carried', 'variety', 'Nobody', 'unknown-name'],
  ['machine', 'kind', 'plough', 'bad-value'],
  ['window', 'opens', '13-01', 'bad-value'],
] as const)('%s %s %j is refused as %s', async (sheet, path, value, code) => {
  const { must, bugs } = smallFarm()
  const outcome = await must('sheet.change', { sheet, says: 'Change', cells: [{ id: 1, path, value: value as never }] })
  expect(outcome.refused.map(({ problem }) => problem.code)).toEqual([code])
  expect(bugs).toEqual([])
})

const newRows = {
  field: { name: 'New', acres: 10, water: 'dryland', yieldGoalLb: 3000, 'pressure/spotted wilt': 'low' },
  variety: { name: 'New', seedsPerPound: 600, vine: 'medium', daysToMaturity: 140, 'ratings/spotted wilt': 4 },
  dealer: { name: 'New', breaks: [{ fromPounds: 1000, offCentsPerPound: 1.5 }] },
  quote: { dealer: '', variety: 'Cedar', name: 'new', packPounds: 50, packPriceCents: 4000 },
  carried: { variety: 'Cedar', lot: '007', pounds: 12 },
  window: { name: 'New', kind: 'late', opens: '06-01', closes: '06-10' },
  week: { starts: '05-04', plantingDays: 4.5, note: 'wet' },
  machine: { name: 'New', kind: 'digger', widthFt: 18, speedMph: 3, fieldEfficiency: 0.7, hoursPerDay: 8 },
  measure: { name: 'New', group: 'x', centsPerAcre: 100, 'efficacy/spotted wilt': 0.5 },
  threat: { name: 'rust', kind: 'leaf' },
  rule: { rule: 'most-dealers', amount: 2 },
  contract: { name: 'New', marketType: 'runner', perTonCents: 52_500, tons: 300 },
  load: {
    field: 'Hill',
    variety: 'Cedar',
    ticket: '007',
    hauledOn: '2027-10-02',
    grossPounds: 21_000,
    tarePounds: 8000,
  },
  seen: { field: 'Hill', threat: 'spotted wilt', level: 'high', loss: 0.12 },
  cost: { kind: 'other', says: 'Insurance', cents: -12_500, perAcre: true, field: 'Hill' },
}

test.each(sheetNames)('%s: a row is added, found in its list, removed, and all of it taken back', async (sheet) => {
  const { must, engine, bugs } = smallFarm()
  const list = async () => (await must(`${sheet}.list`, {})) as { id: number }[]
  const dealer = (await must('dealer.list', {})).at(-1)!.name
  const values = sheet === 'quote' ? { ...newRows.quote, dealer } : newRows[sheet]
  const [before, ids] = [dumpOf(engine.farm!.connection), (await list()).map((row) => row.id)]
  const outcome = await must('sheet.change', {
    sheet,
    says: 'Add a row',
    added: [{ key: -1, values: values as never }],
  })
  expect(outcome.refused).toEqual([])
  const id = outcome.added[0]!.id
  expect(outcome.added).toEqual([{ key: -1, id }])
  const added = (await list()).find((row) => row.id === id) as unknown as Record<string, unknown>
  for (const [path, value] of Object.entries(values)) {
    const [property = '', entry] = path.split('/')
    const kept = entry === undefined ? added[property] : (added[property] as Record<string, unknown>)[entry]
    expect(kept, path).toEqual(value)
  }
  const after = dumpOf(engine.farm!.connection)
  const gone = await must('sheet.change', { sheet, says: 'Remove rows', removed: [id, ...ids, 999] })
  expect([gone.removed, await list()]).toEqual([ids.length + 1, []])
  await must('undo.back', {})
  expect(dumpOf(engine.farm!.connection)).toEqual(after)
  await must('undo.back', {})
  expect(dumpOf(engine.farm!.connection)).toEqual(before)
  await must('undo.forward', {})
  expect(dumpOf(engine.farm!.connection)).toEqual(after)
  expect(bugs).toEqual([])
})

test('a row that lacks something is not added, and says what; one with a bad extra is, without it', async () => {
  const { must } = smallFarm()
  const { added, refused } = await must('sheet.change', {
    sheet: 'field',
    says: 'Paste 3 rows',
    added: [
      { key: -1, values: { name: 'One', acres: 10 } },
      { key: -2, values: { ...newRows.field, name: 'Two', soil: 'x'.repeat(90) } },
      { key: -3, values: { ...newRows.field, name: 'two' } },
    ],
  })
  expect(added.map(({ key }) => key)).toEqual([-2])
  expect(refused.map(({ key, path, problem }) => [key, path, problem.code])).toEqual([
    [-1, 'water', 'missing'],
    [-1, 'yieldGoalLb', 'missing'],
    [-2, 'soil', 'bad-value'],
    [-3, 'name', 'repeated-name'],
  ])
  const two = (await must('field.list', {})).find((row) => row.name === 'Two')
  expect(two).toMatchObject({ rowSpacingIn: 36, rowPattern: 'single' })
})

test('a variety that is removed takes its quotes, locks and rules along, and undo brings them all back', async () => {
  const { must, engine } = smallFarm()
  const before = dumpOf(engine.farm!.connection)
  const amber = (await must('variety.list', {})).find((row) => row.name === 'Amber')!
  await must('sheet.change', { sheet: 'variety', says: 'Remove Amber', removed: [amber.id] })
  expect((await must('quote.list', {})).some((row) => row.variety === 'Amber')).toBe(false)
  expect((await must('field.list', {})).every((row) => row.lockedTo !== 'Amber')).toBe(true)
  await must('undo.back', {})
  expect(dumpOf(engine.farm!.connection)).toEqual(before)
})

test('a dealer with an order stays', async () => {
  const { must, engine } = smallFarm()
  const [dealer] = await must('dealer.list', {})
  const { connection, seasonId } = engine.farm!
  connection
    .prepare(`INSERT INTO purchase_order (seasonId, dealerId, madeOn, terms) VALUES (?, ?, '2027-01-20', '{}')`)
    .run(seasonId, dealer!.id)
  const outcome = await must('sheet.change', { sheet: 'dealer', says: 'Remove', removed: [dealer!.id] })
  expect(outcome).toMatchObject({ removed: 0, refused: [{ key: dealer!.id, problem: { code: 'in-use' } }] })
  expect((await must('dealer.list', {})).map((row) => row.id)).toContain(dealer!.id)
})

test('rules: the subject is kept by what it is, switched, and never twice', async () => {
  const { must, engine } = smallFarm()
  const add = (values: Record<string, unknown>) =>
    must('sheet.change', { sheet: 'rule', says: 'Add a rule', added: [{ key: -1, values: values as never }] })
  const wilt = await add({ rule: 'largest-loss', subject: 'late leaf spot', amount: 0.1 })
  const { id } = wilt.added[0]!
  const row = () => engine.farm!.connection.prepare('SELECT * FROM house_rule WHERE id = ?').get(id)
  expect(row()).toMatchObject({ threatId: expect.any(Number), subject: null, isOn: 1 })
  const again = await add({ rule: 'largest-loss', subject: 'late leaf spot', amount: 0.2 })
  expect(again.refused[0]?.problem.code).toBe('repeated-name')
  expect((await add({ rule: 'largest-loss', subject: 'rust', amount: 0.2 })).added).toEqual([])
  const set = (path: string, value: string | boolean) =>
    must('sheet.change', { sheet: 'rule', says: 'Change a rule', cells: [{ id, path, value }] })
  expect((await set('isOn', false)).taken).toBe(1)
  expect((await set('subject', 'early leaf spot')).refused).toEqual([])
  expect((await must('rule.list', {})).find((rule) => rule.id === id)).toMatchObject({
    isOn: false,
    subject: 'early leaf spot',
  })
})

test('the book: a value of the farm’s own, what it is felt in, back to the default, one and all', async () => {
  const { must, engine, call } = smallFarm()
  const before = dumpOf(engine.farm!.connection)
  const key = 'drop/seeds per foot/single'
  const row = async () => (await must('book.list', {})).flatMap(({ rows }) => rows).find((each) => each.key === key)
  const usual = (await row())?.default?.value as number
  await must('book.set', { key, value: usual + 1, source: 'Our planter' })
  expect(await row()).toMatchObject({
    isChanged: true,
    value: usual + 1,
    own: { source: 'Our planter', sourceKind: 'the farm' },
    default: { value: usual },
  })
  const drop = await must('house.drop', {})
  if (drop.rowPattern === 'single') expect(drop.seedsPerFoot).toBe(usual + 1)
  expect((await must('book.bearing', { key })).varieties.length).toBeGreaterThan(0)
  expect(await call('book.set', { key, value: 400 })).toMatchObject({ ok: false, problems: [{ code: 'bad-value' }] })
  const unknown = await call('book.set', { key: 'no/such', value: 4 })
  expect(unknown).toMatchObject({ ok: false, problems: [{ code: 'unknown-name' }] })
  await must('book.reset', { key })
  expect(await row()).toMatchObject({ isChanged: false, value: usual })
  await must('book.set', { key, value: usual + 2 })
  await must('book.reset', { key: null })
  expect((await must('book.list', {})).flatMap(({ rows }) => rows).filter((each) => each.isChanged)).toEqual([])
  expect((await must('undo.state', {})).back).toBe('Reset the whole book')
  for (let step = 0; step < 4; step += 1) await must('undo.back', {})
  expect(dumpOf(engine.farm!.connection)).toEqual(before)
})

test('settings are kept in the file and are no undo step', async () => {
  const { must } = smallFarm()
  await must('setting.set', { key: 'widths/field', value: { name: 12.5 } })
  await must('setting.set', { key: 'widths/field', value: { name: 14 } })
  expect(await must('setting.list', {})).toMatchObject({ 'widths/field': { name: 14 } })
  expect(await must('undo.state', {})).toEqual({ back: null, forward: null })
})
