/** Loads, costs and trouble seen on a real farm: what is refused, what a settlement becomes, what a load is worth. */
import { expect, test } from 'vitest'
import { writeXlsx } from '../../src-main/engine/export/write-table.ts'
import type { TestEngine } from '../support/engine.ts'
import { lookAt } from '../support/import-file.ts'
import { dumpOf } from '../support/open-file.ts'
import { farmOf, freeSeason } from '../support/order-farm.ts'
import { entryOf, springFarm } from '../support/spring-farm.ts'

const base = { field: 'Hill', hauledOn: '2027-10-02', grossPounds: 21_000, tarePounds: 9000 }

async function add({ must }: TestEngine, values: Record<string, unknown>) {
  return must('sheet.change', { sheet: 'load', says: 'Add a load', added: [{ key: -1, values: values as never }] })
}

async function change({ must }: TestEngine, id: number, path: string, value: string | number | null) {
  return must('sheet.change', { sheet: 'load', says: 'Change a load', cells: [{ id, path, value }] })
}

test.each([
  [{ tarePounds: 21_001 }, 'tarePounds', 'bad-value'],
  [{ soundMatureKernels: 0.7, soundSplits: 0.2, hulls: 0.25 }, 'soundMatureKernels', 'bad-value'],
  [{ foreignMaterial: 0.6, looseKernels: 0.5 }, 'foreignMaterial', 'bad-value'],
  [{ field: 'Nowhere' }, 'field', 'unknown-name'],
  [{ hauledOn: undefined }, 'hauledOn', 'missing'],
] as const)('a load with %j is refused at %s as %s', async (wrong, path, code) => {
  const farm = farmOf()
  const before = dumpOf(farm.engine.farm!.connection)
  const values = Object.fromEntries(Object.entries({ ...base, ...wrong }).filter(([, value]) => value !== undefined))
  const { added, refused } = await add(farm, values)
  expect(added).toEqual([])
  expect(refused.map(({ path: at, problem }) => [at, problem.code])).toContainEqual([path, code])
  expect(dumpOf(farm.engine.farm!.connection)).toEqual(before)
  expect(farm.bugs).toEqual([])
})

test.each([
  ['segregation', 4, 'bad-value'],
  ['variety', 'Nobody', 'unknown-name'],
  ['moisture', 8, 'bad-value'],
] as const)('a load can be without its %s: %j is refused and the rest is kept', async (path, value, code) => {
  const farm = farmOf()
  const { added, refused } = await add(farm, { ...base, [path]: value })
  expect(added).toHaveLength(1)
  expect(refused).toMatchObject([{ path, problem: { code } }])
})

test('grades are told in whole percent: a point over the whole is rounding and is taken', async () => {
  const farm = farmOf()
  const graded = { soundMatureKernels: 0.7, soundSplits: 0.04, otherKernels: 0.04, damagedKernels: 0.01, hulls: 0.22 }
  expect((await add(farm, { ...base, ...graded })).refused).toEqual([])
})

test('a standing load is held against its other cells: tare, grade, ticket of a buyer', async () => {
  const farm = farmOf()
  const one = (await add(farm, { ...base, ticket: 'A1', buyer: 'Depot' })).added[0]!.id
  const two = (await add(farm, { ...base, ticket: 'A1', buyer: 'Other depot' })).added[0]!.id
  const codes = async (path: string, value: string | number) =>
    (await change(farm, two, path, value)).refused.map(({ problem }) => problem.code)
  expect(await codes('grossPounds', 8999)).toEqual(['bad-value'])
  expect(await codes('tarePounds', 30_000)).toEqual(['bad-value'])
  expect(await codes('soundMatureKernels', 0.72)).toEqual([])
  expect(await codes('hulls', 0.3)).toEqual(['bad-value'])
  expect(await codes('buyer', 'depot')).toEqual(['repeated-name'])
  expect(await codes('ticket', 'A2')).toEqual([])
  expect((await change(farm, two, 'variety', 'Cedar')).refused).toEqual([])
  expect((await change(farm, two, 'variety', null)).refused).toEqual([])
  const rows = await farm.must('load.list', {})
  expect(rows.map(({ id }) => id).sort()).toEqual([one, two].sort())
  expect(rows.find(({ id }) => id === two)).toMatchObject({ ticket: 'A2', grossPounds: 21_000, grown: null })
  expect(farm.bugs).toEqual([])
})

test('what grew in the field is known from its plantings; another variety is a heed, not refused', async () => {
  const farm = await springFarm()
  const line = (await farm.receipts())[0]!
  const { lotId } = await farm.receive(line)
  const field = (await farm.must('field.list', {}))[0]!
  const lots = [{ lotId, packs: null, pounds: 500 }]
  await farm.must('planting.save', { planting: entryOf({ fieldId: field.id, lots }), today: '2027-04-20' })
  const other = (await farm.must('variety.list', {})).find(({ name }) => name !== line.variety)!
  await add(farm, { ...base, field: field.name })
  await add(farm, { ...base, field: field.name, variety: other.name, ticket: '2' })
  const [plain, heeded] = await farm.must('load.list', {})
  expect(plain).toMatchObject({ grown: line.variety, fieldId: field.id })
  expect(plain).not.toHaveProperty('heed')
  expect(heeded).toMatchObject({ grown: other.name, heed: expect.stringContaining('was not planted') })
  // The record of what was hauled holds the field in the farm.
  const gone = await farm.must('sheet.change', { sheet: 'field', says: 'Remove', removed: [field.id] })
  expect(gone.refused[0]?.problem.code).toBe('in-use')
})

const settlement = [
  'Ticket No,Date,Field,Gross Wt,Tare Wt,Net,FM %,LSK %,Moist,SMK,SS,OK,DK,Hulls,Seg,Price per ton,Total Paid,Buying point,Remarks',
  '5001,2027-10-02,HILL,41000,15000,26000,4,3,8.2,69,4,4,1,22,1,,"$4,210.55",Depot,wet',
  '5002,2027-10-02,Hill,40250,15000,25250,5,2,7,71,3,3,1,22,1,,,Depot,',
  '5003,2027-10-03,Long Field,39000,15000,24000,4,3,6.5,68,5,4,1,22,1,480,,Depot,',
].join('\r\n')

const file = (text: string) => ({ name: 'settlement.csv', base64: Buffer.from(text).toString('base64') })

const bring = (farm: TestEngine, given: { name: string; base64: string }) => lookAt(farm, 'load', given)

test('a settlement comes in by its own headings; brought in again it changes nothing', async () => {
  const farm = farmOf()
  const { columns, asks, table, take } = await bring(farm, file(settlement))
  expect(columns).toEqual([
    'ticket',
    'hauledOn',
    'field',
    'grossPounds',
    'tarePounds',
    null,
    'foreignMaterial',
    'looseKernels',
    'moisture',
    'soundMatureKernels',
    'soundSplits',
    'otherKernels',
    'damagedKernels',
    'hulls',
    'segregation',
    'centsPerTon',
    'paidCents',
    'buyer',
    'note',
  ])
  expect(asks).toEqual([])
  expect(table.rows.flatMap(({ problems, left }) => [...problems, ...left])).toEqual([])
  expect(await take()).toMatchObject({ isDone: true, counts: { added: 3 } })
  const rows = await farm.must('load.list', {})
  expect(rows).toMatchObject([
    // 26,000 lb less 4 % and 3 % and the water above 7 %.
    {
      ticket: '5001',
      field: 'Hill',
      net: { netPounds: 26_000 - 1040 - 780 - 312 },
      valueCents: 421_055,
      valueFrom: 'settlement',
    },
    { ticket: '5002', valueCents: null, valueFrom: null, lacks: expect.stringContaining('price') },
    {
      ticket: '5003',
      net: { netPounds: 22_320 },
      valueCents: Math.round((22_320 / 2000) * 48_000),
      valueFrom: 'market',
    },
  ])
  const before = dumpOf(farm.engine.farm!.connection)
  const again = await bring(farm, file(settlement))
  expect(again.table.counts).toMatchObject({ unchanged: 3, added: 0, changed: 0, refused: 0 })
  await again.take()
  expect(dumpOf(farm.engine.farm!.connection)).toEqual(before)
  expect(farm.bugs).toEqual([])
})

test('a corrected settlement changes the load of its ticket, also when it leaves the buyer out', async () => {
  const farm = farmOf()
  await (await bring(farm, file(settlement))).take()
  const corrected = file('Ticket,Date,Field,Gross,Tare\n5001,2027-10-02,Hill,12000,4000\n')
  const { table, take } = await bring(farm, corrected)
  expect(table.counts).toMatchObject({ changed: 1, added: 0 })
  await take()
  const rows = await farm.must('load.list', {})
  expect(rows).toHaveLength(3)
  expect(rows[0]).toMatchObject({ ticket: '5001', grossPounds: 12_000, tarePounds: 4000, buyer: 'Depot' })
  // Heavier again: the order in which the cells are written does not matter.
  await (await bring(farm, file('Ticket,Date,Field,Tare,Gross\n5001,2027-10-02,Hill,15000,41000\n'))).take()
  expect((await farm.must('load.list', {}))[0]).toMatchObject({ grossPounds: 41_000, tarePounds: 15_000 })
  const askew = await bring(farm, file('Ticket,Date,Field,Gross\n5001,2027-10-02,Hill,14000\n'))
  expect(askew.table.rows[0]).toMatchObject({
    fate: 'refused',
    problems: [{ what: expect.stringContaining('empty') }],
  })
  const twice = await bring(farm, file(`${settlement}\r\n5001,2027-10-09,Hill,1,0,,,,,,,,,,,,,Depot,`))
  expect(twice.table.rows[3]).toMatchObject({
    fate: 'refused',
    problems: [{ column: 0, what: expect.stringContaining('row 2') }],
  })
  expect(farm.bugs).toEqual([])
})

test('a workbook that keeps percents as shares is read as such where one of its columns tells it, else asked about', async () => {
  const farm = farmOf()
  const bytes = await writeXlsx(
    'Loads',
    ['Ticket', 'Date', 'Field', 'Gross', 'Tare', 'FM', 'SMK', 'SS'],
    [['9', '2027-10-05', 'Hill', 40_000, 15_000, 0.04, 0.7, 0.05]],
  )
  const book = { name: 'loads.xlsx', base64: bytes.toString('base64') }
  const { take, asks } = await bring(farm, book)
  expect(asks).toEqual([])
  expect(await take()).toMatchObject({ isDone: true, counts: { added: 1 } })
  const plain = await writeXlsx(
    'Loads',
    ['Ticket', 'Date', 'Field', 'Gross', 'FM'],
    [['9', '2027-10-05', 'Hill', 40_000, 0.04]],
  )
  expect((await bring(farm, { name: 'plain.xlsx', base64: plain.toString('base64') })).asks).toEqual(['shares/FM'])
  expect(await farm.must('load.list', {})).toMatchObject([{ foreignMaterial: 0.04, soundMatureKernels: 0.7 }])
})

test('loads without a ticket are told by field, day and weights', async () => {
  const farm = farmOf()
  const plain = file(
    'Date,Field,Gross,Tare,Buyer\n2027-10-02,Hill,40000,15000,Depot\n2027-10-02,Hill,40100,15000,Depot\n',
  )
  await (await bring(farm, plain)).take()
  const again = await bring(farm, plain)
  expect(again.table.counts).toMatchObject({ unchanged: 2, added: 0 })
})

test('by the loan schedule: a year with a published rate, a year without, and the farm’s own rate', async () => {
  const graded = { ...base, grossPounds: 10_000, tarePounds: 0, soundMatureKernels: 0.69, soundSplits: 0.04 }
  const load = { ...graded, foreignMaterial: 0.04, looseKernels: 0.03, priceBasis: 'loan schedule' }
  // Constructed from the published rate of 2016, not published itself.
  const past = farmOf(freeSeason((season) => ({ ...season, season: 2016 })))
  await add(past, load)
  expect((await past.must('load.list', {}))[0]).toMatchObject({ valueCents: 163_275, valueFrom: 'loan schedule' })
  const farm = farmOf()
  await add(farm, load)
  expect((await farm.must('load.list', {}))[0]).toMatchObject({
    valueCents: null,
    lacks: expect.stringContaining('loan rate of 2027'),
  })
  expect((await farm.must('load.terms', {})).rateFrom).toContain('fill in')
  await farm.must('book.set', { key: 'load/loan rate', value: 5 })
  const value = async () => (await farm.must('load.list', {}))[0]?.valueCents
  expect(await value()).toBe(Math.round((9300 / 2000) * 73 * 500))
  await farm.must('book.set', { key: 'load/discount/foreign material', value: 1 })
  await farm.must('book.set', { key: 'load/discount/foreign material/free', value: 0.01 })
  await farm.must('book.set', { key: 'load/loose kernels', value: 0.07 })
  expect(await value()).toBe(Math.round((9300 / 2000) * (73 * 500 - 300)) + 300 * 7)
  const type = await farm.call('book.set', { key: 'load/market type', value: 'goober' })
  expect(type).toMatchObject({ ok: false, problems: [{ code: 'bad-value' }] })
  await farm.must('book.set', { key: 'load/market type', value: 'Virginia' })
  expect((await farm.must('load.terms', {})).marketType).toBe('Virginia')
})

test('what only values loads makes no plan out of date', async () => {
  const farm = farmOf()
  await farm.must('plan.solve', { gap: 0, seconds: 20 })
  await farm.must('book.set', { key: 'load/free moisture', value: 0.08 })
  expect(await farm.must('plan.latest', {})).toMatchObject({ isStale: false, changes: [] })
  await farm.must('book.set', { key: 'replant/work', value: 30 })
  expect(await farm.must('plan.latest', {})).toMatchObject({ isStale: true })
})

test('costs and trouble seen come in by file too, and are told again', async () => {
  const farm = farmOf()
  const bringAs = async (sheet: 'cost' | 'seen', text: string) => {
    return (await lookAt(farm, sheet, file(text))).take()
  }
  const costs =
    'Description,Category,Amount,Per acre,Field\nInsurance,other,"1,250.00",no,\nFourth spray,measure,18.50,yes,hill\n'
  expect(await bringAs('cost', costs)).toMatchObject({ isDone: true, counts: { added: 2 } })
  expect(await bringAs('cost', costs)).toMatchObject({ counts: { unchanged: 2, added: 0 } })
  expect(await farm.must('cost.list', {})).toMatchObject([
    { kind: 'measure', cents: 1850, perAcre: true, field: 'Hill' },
    { kind: 'other', cents: 125_000, perAcre: false, fieldId: null },
  ])
  const seen = 'Field,Disease,Severity,Loss %,Date\nHill,Spotted Wilt,high,12,2027-08-20\n'
  expect(await bringAs('seen', seen)).toMatchObject({ isDone: true, counts: { added: 1 } })
  expect(await bringAs('seen', seen)).toMatchObject({ counts: { unchanged: 1 } })
  expect(await farm.must('seen.list', {})).toMatchObject([{ threat: 'spotted wilt', level: 'high', loss: 0.12 }])
})
