/**
 * Files imported into a real farm: tables recognized, answers remembered, every row's fate, one undo step, nothing guessed.
 * Long because each kind of file has a test of its own.
 */
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { createFarm } from '../../../src-main/engine/farm-file.ts'
import { writeXlsx } from '../../../src-main/engine/export/write-table.ts'
import { columnsOf } from '../../../src-shared/sheet/columns.ts'
import { engineAt, startTestEngine, type TestEngine } from '../../support/engine.ts'
import { csvFile as csv, lookAt } from '../../support/import-file.ts'
import { dumpOf, smallSeason } from '../../support/open-file.ts'

function smallFarm(): TestEngine {
  const test = startTestEngine()
  onTestFinished(() => test.close())
  const made = createFarm(join(test.engine.home, 'Small.farm'), smallSeason())
  if (!made.ok) throw new Error(JSON.stringify(made.problems))
  test.engine.farm = made.value
  return test
}

const dump = (farm: TestEngine) => dumpOf(farm.engine.farm!.connection)

test('fields: added, changed, unchanged, refused and blank add up, with the reason at the cell', async () => {
  const farm = smallFarm()
  const before = dump(farm)
  const creek = (await farm.must('field.list', {})).find((row) => row.name === 'Creek Bottom')!
  const file = csv(
    [
      'Field,Acres,Water,Yield goal,Spotted wilt (pressure),Crops,Odd',
      'New one,12.5,dryland,3000,low,2026 cotton; 2025 corn,x',
      `creek bottom,${creek.acres + 4},,,,,`,
      `Hill,,,,,,`,
      'Bad,-3,dryland,3000,,,',
      'Lacking,12,,,,,',
      'New one,13,dryland,3000,,,',
      ',,,,,,',
      ',5,dryland,3000,,,',
    ].join('\r\n'),
  )
  const looked = await lookAt(farm, 'field', file)
  expect(looked.columns).toEqual(['name', 'acres', 'water', 'yieldGoalLb', 'pressure/spotted wilt', 'history', null])
  // A row with a name alone says nothing, and is set aside in a table of three columns or more.
  expect(looked.table.aside).toEqual([{ row: 4, why: 'section', text: 'Hill' }])
  const fates = looked.table.rows.map(({ row, fate }) => [row, fate])
  expect(fates).toEqual([
    [2, 'added'],
    [3, 'changed'],
    [5, 'refused'],
    [6, 'refused'],
    [7, 'refused'],
    [9, 'refused'],
  ])
  const at = (row: number) => looked.table.rows.find((each) => each.row === row)!.problems.map(({ column }) => column)
  expect([at(5), at(6), at(7), at(9)]).toEqual([[1], [2, 3], [0], [0]])
  expect(await looked.take()).toMatchObject({ isDone: false })
  expect(dump(farm)).toEqual(before)
  const good = await lookAt(farm, 'field', file, { onlyGood: true })
  expect(await good.take()).toMatchObject({ isDone: true, counts: looked.table.counts })
  const after = await farm.must('field.list', {})
  expect(after.find((row) => row.name === 'New one')).toMatchObject({
    acres: 12.5,
    pressure: { 'spotted wilt': 'low' },
    history: [
      { season: 2026, crop: 'cotton' },
      { season: 2025, crop: 'corn' },
    ],
  })
  expect(after.find((row) => row.id === creek.id)?.acres).toBe(creek.acres + 4)
  expect(await farm.must('undo.state', {})).toMatchObject({ back: 'Import file.csv' })
  await farm.must('undo.back', {})
  expect(dump(farm)).toEqual(before)
  expect(farm.bugs).toEqual([])
})

test('a bad cell that a row can be without is left empty, and the row comes in', async () => {
  const farm = smallFarm()
  const { table, take } = await lookAt(
    farm,
    'field',
    csv('Field,Acres,Water,Yield goal,Nematodes per 100 cc\nNew one,12,dry,3000,lots!\nHill,41,,,\n'),
  )
  expect(table).toMatchObject({
    leftCells: 1,
    counts: { added: 1, changed: 1, refused: 0 },
    rows: [{ left: [{ column: 4 }] }, { left: [] }],
  })
  expect(await take()).toMatchObject({ isDone: true })
  expect((await farm.must('field.list', {})).find(({ name }) => name === 'New one')?.nematodesPer100cc).toBeUndefined()
})

test('a word is asked about once, whatever the count of its cells, and its answer is kept on this machine until it is taken back', async () => {
  const farm = smallFarm()
  const rows = Array.from({ length: 31 }, (_, at) => `N${at},12,dry,3000,some`)
  const file = csv(['Field,Acres,Water,Yield goal,White mold', ...rows].join('\n'))
  const asked = await lookAt(farm, 'field', file)
  expect(asked.table.questions).toMatchObject([
    { key: 'word/level/some', scope: 'word', cells: 31, suggestion: 'moderate' },
  ])
  expect(await asked.take()).toMatchObject({ isDone: false })
  const answered = await lookAt(farm, 'field', file, { answers: { 'word/level/some': 'low' } })
  expect(answered.table.words).toMatchObject([
    { word: 'dry', value: 'dryland', cells: 31 },
    { word: 'some', value: 'low', cells: 31 },
  ])
  await answered.take()
  const other = engineAt(farm.engine.home)
  onTestFinished(() => other.close())
  expect(await other.must('import.answers', {})).toEqual({ 'word/level/some': 'low' })
  expect((await lookAt(farm, 'field', file)).asks).toEqual([])
  await farm.must('import.forget', { key: 'word/level/some' })
  expect((await lookAt(farm, 'field', file)).asks).toEqual(['word/level/some'])
})

test('a column chosen by hand is remembered for the next file with that heading', async () => {
  const farm = smallFarm()
  const file = csv('What we call it;Sd;Vine;Days to dig\nBison;700;large;140\nCougar;690;large;141\n')
  const first = await lookAt(farm, 'variety', file)
  const key = first.table.key
  const chosen = await lookAt(farm, 'variety', file, {
    choices: { [key]: { noun: 'variety', match: { 0: 'name', 1: 'seedsPerPound' } } },
  })
  expect(await chosen.take()).toMatchObject({ isDone: true })
  expect((await lookAt(farm, 'variety', file)).columns).toEqual(['name', 'seedsPerPound', 'vine', 'daysToMaturity'])
  expect((await farm.must('variety.list', {})).find((row) => row.name === 'Cougar')?.seedsPerPound).toBe(690)
})

test('several files of one import: quotes name varieties and dealers that come in with them, in the order of their sheets', async () => {
  const farm = smallFarm()
  const quotes = csv(
    'Dealer,Variety,Pack,Price\nZeta Seed,Zinnia,50 lb bag,48.50\nAlpha Seed,Alder,50 lb bag,47.25\n',
    'quotes.csv',
  )
  const varieties = csv('Variety,Seeds/lb,Vine,Days\nZinnia,690,large,140\nAlder,700,medium,138\n', 'varieties.csv')
  const { seen, take } = await lookAt(farm, undefined, quotes, { more: [varieties] })
  expect(seen.tables.map(({ noun, counts, newDealers }) => [noun, counts.added, newDealers])).toEqual([
    ['quote', 2, ['Zeta Seed', 'Alpha Seed']],
    ['variety', 2, []],
  ])
  expect(await take()).toMatchObject({ isDone: true, counts: { added: 4 } })
  expect(
    (await farm.must('quote.list', {})).slice(0, 2).map(({ dealer, packPriceCents }) => [dealer, packPriceCents]),
  ).toEqual([
    ['Zeta Seed', 4850],
    ['Alpha Seed', 4725],
  ])
  expect((await farm.must('variety.list', {})).slice(0, 2).map(({ name }) => name)).toEqual(['Zinnia', 'Alder'])
})

test('several files of one import: samples, crops and a second list say more of fields that another of them adds', async () => {
  const farm = smallFarm()
  const before = dump(farm)
  const samples = csv('Field,Sampled,M. arenaria per 100 cc\nPine,10/22/2026,24\n', 'lab.csv')
  const crops = csv('Field,2024,2025\nPine,corn,cotton\n', 'crops.csv')
  const later = csv('Field,Year,Crop\nPine,2026,Pnuts\n', 'later.csv')
  const fields = csv('Field,Acres,Water,Yield goal\nPine,40,dry,3600\n', 'fields.csv')
  const again = csv('Field,Acres,Water,Yield goal,Soil\npine,41,dry,3600,Tifton\n', 'again.csv')
  const { seen, take } = await lookAt(farm, undefined, samples, { more: [crops, later, fields, again] })
  expect(seen.tables.map(({ file, counts }) => [file, counts.added, counts.changed, counts.refused])).toEqual([
    ['lab.csv', 0, 1, 0],
    ['crops.csv', 0, 1, 0],
    ['later.csv', 0, 1, 0],
    ['fields.csv', 1, 0, 0],
    ['again.csv', 0, 1, 0],
  ])
  expect(await take()).toMatchObject({ isDone: true })
  expect((await farm.must('field.list', {})).find(({ name }) => name.toLowerCase() === 'pine')).toMatchObject({
    acres: 41,
    soil: 'Tifton',
    nematodesPer100cc: 24,
    nematodeSpecies: 'peanut root-knot',
    sampledOn: '2026-10-22',
    history: [
      { season: 2026, crop: 'peanut' },
      { season: 2025, crop: 'cotton' },
      { season: 2024, crop: 'corn' },
    ],
  })
  await farm.must('undo.back', {})
  expect(dump(farm)).toEqual(before)
})

test('a table that could be nothing is asked about alone, and left out beside one that is recognized', async () => {
  const farm = smallFarm()
  const chart = csv('x,y\n1,2\n2,4\n', 'chart.csv')
  const alone = await lookAt(farm, undefined, chart)
  expect(alone.asks).toEqual(['noun'])
  expect(await alone.take()).toMatchObject({ isDone: false })
  const fields = csv('Field,Acres,Water,Yield goal\nPine,40,dry,3600\n', 'fields.csv')
  const both = await lookAt(farm, undefined, fields, { more: [chart] })
  expect(both.seen.tables.map(({ noun, questions }) => [noun, questions.length])).toEqual([
    ['field', 0],
    [null, 0],
  ])
  expect(await both.take()).toMatchObject({ isDone: true, counts: { added: 1 } })
})

test('a load that stands in two files of one import comes in once', async () => {
  const farm = smallFarm()
  const loads = (name: string, gross: number) =>
    csv(`Field,Ticket,Date,Gross,Tare\nHill,A1,10/13/2026,${gross},18000\n`, name)
  const { seen, take } = await lookAt(farm, undefined, loads('one.csv', 41_000), { more: [loads('two.csv', 41_000)] })
  expect(seen.tables.map(({ counts }) => [counts.added, counts.unchanged])).toEqual([
    [1, 0],
    [0, 1],
  ])
  expect(await take()).toMatchObject({ isDone: true })
  expect(await farm.must('load.list', {})).toHaveLength(1)
  // Lighter than its truck: said at the cell, whether the load is written already or not.
  const light = await lookAt(farm, undefined, loads('three.csv', 41_000), { more: [loads('four.csv', 9000)] })
  expect(light.seen.tables.map(({ counts }) => counts.refused)).toEqual([0, 1])
})

test('a name that is nearly one that is there is offered, and a soil sample of nobody’s field is refused', async () => {
  const farm = smallFarm()
  await farm.must('sheet.change', {
    sheet: 'field',
    says: 'x',
    added: [{ key: 1, values: { name: "Miss Ora's Back", acres: 40, water: 'dryland', yieldGoalLb: 3000 } }],
  })
  const file = csv('Sample ID,pH,RKN per 100cc\nMiss Oras Back,6.1,12\nMis Oras Bak,6.0,14\nNowhere,6,1\n')
  const { table } = await lookAt(farm, 'field', file)
  expect(table.noun).toBe('soil')
  expect(table.rows.map(({ fate }) => fate)).toEqual(['changed', 'refused', 'refused'])
  expect(table.questions).toMatchObject([{ key: 'word/field/mis oras bak', suggestion: "Miss Ora's Back" }])
})

test('a history keeps the years that the file says nothing of', async () => {
  const farm = smallFarm()
  const there = (await farm.must('field.list', {})).find(({ history }) => history.length > 1)!
  const oldest = there.history.at(-1)!
  const file = csv(`Field,Year,Crop\n${there.name},2019,Pnuts\n`)
  const { take } = await lookAt(farm, undefined, file)
  expect(await take()).toMatchObject({ counts: { changed: 1 } })
  const after = (await farm.must('field.list', {})).find(({ id }) => id === there.id)!
  expect(after.history).toEqual(expect.arrayContaining([oldest, { season: 2019, crop: 'peanut' }]))
})

test('a cell is corrected in the preview', async () => {
  const farm = smallFarm()
  const file = csv('Field,Acres,Water,Yield goal\nNew one,forty,dry,3000\n')
  const { table } = await lookAt(farm, 'field', file)
  expect(table.rows[0]?.fate).toBe('refused')
  const mended = await lookAt(farm, 'field', file, { choices: { [table.key]: { edits: { 2: { 1: '40' } } } } })
  expect(mended.table.rows[0]).toMatchObject({ fate: 'added', cells: ['New one', '40', 'dry', '3000'] })
  await mended.take()
  expect((await farm.must('field.list', {})).find(({ name }) => name === 'New one')?.acres).toBe(40)
})

test('days that could be month or day first are asked about, and the answer holds for their table', async () => {
  const farm = smallFarm()
  const [dealer] = await farm.must('dealer.list', {})
  const file = csv(
    `dealer;variety;quote;pack lb;price;order by;return credit\n${dealer!.name};Bison;x;50;1.250,50 $/ton;3/4/2027;0,8\n`,
  )
  const asked = await lookAt(farm, 'quote', file)
  expect(asked.asks).toEqual(['days'])
  const answered = await lookAt(farm, 'quote', file, { choices: { [asked.table.key]: { answers: { days: 'dmy' } } } })
  expect(answered.table.counts.added).toBe(1)
  await answered.take()
  expect((await farm.must('quote.list', {})).find((row) => row.name === 'x')).toMatchObject({
    packPriceCents: 3126,
    orderBy: '2027-04-03',
    returnCredit: 0.8,
  })
})

/** Order-by days of three quotes. */
async function orderDays(days: readonly string[], order?: string) {
  const farm = smallFarm()
  const [dealer] = await farm.must('dealer.list', {})
  const file = csv(
    `dealer,variety,quote,pack lb,price,order by\n${days.map((day, at) => `${dealer!.name},Bison,q${at},50,40,${day}`).join('\n')}\n`,
  )
  const key = 'file.csv//0'
  const looked = await lookAt(farm, 'quote', file, {
    onlyGood: true,
    choices: order === undefined ? {} : { [key]: { answers: { days: order } } },
  })
  await looked.take()
  const quotes = await farm.must('quote.list', {})
  return { asks: looked.asks, days: days.map((_, at) => quotes.find(({ name }) => name === `q${at}`)?.orderBy) }
}

test('a day that can be read one way only settles its column, whatever was answered', async () => {
  expect(await orderDays(['13/06/2027', '05/06/2027'], 'mdy')).toEqual({ asks: [], days: ['2027-06-13', '2027-06-05'] })
  expect(await orderDays(['3/4/2027', '5/6/2027'], 'mdy')).toEqual({ asks: [], days: ['2027-03-04', '2027-05-06'] })
})

test('days of one column that contradict one another: the doubtful ones are left empty', async () => {
  expect(await orderDays(['13/06/2027', '06/14/2027', '05/06/2027'])).toEqual({
    asks: [],
    days: ['2027-06-13', '2027-06-14', undefined],
  })
})

test('a workbook: text stays text, and a share that can only be one is one', async () => {
  const farm = smallFarm()
  const bytes = await writeXlsx('Seed', ['variety', 'lot', 'pounds', 'germination'], [['Bison', '007', 1200, 0.87]])
  const { take, asks } = await lookAt(farm, 'carried', { name: 'seed.xlsx', base64: bytes.toString('base64') })
  expect(asks).toEqual([])
  await take()
  expect((await farm.must('carried.list', {})).find((row) => row.lot === '007')).toMatchObject({
    pounds: 1200,
    germination: 0.87,
  })
})

test.each([
  ['empty.csv', Buffer.alloc(0)],
  ['blank.csv', Buffer.from('\n,,\n')],
  ['open-quote.csv', Buffer.from('field,acres\n"Hill,3\n')],
  ['nul.csv', Buffer.from('field,acres\nHi\u0000ll,3\n')],
  ['old.xls', Buffer.from([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1])],
  ['cut.xlsx', Buffer.from('PK\u0003\u0004 cut off')],
  ['lies.xlsx', bomb()],
])('%s is refused as a bad file, and nothing breaks', async (name, bytes) => {
  const farm = smallFarm()
  const bad = { name, base64: bytes.toString('base64') }
  expect(await farm.call('import.look', { files: [bad] })).toMatchObject({
    ok: false,
    problems: [{ code: 'bad-file', where: { file: name } }],
  })
  // Beside a good one it holds nothing up but the taking.
  const { seen, take } = await lookAt(farm, 'field', csv('Field,Acres\nHill,41\n'), { more: [bad] })
  expect(seen.problems).toMatchObject([{ code: 'bad-file' }])
  expect(seen.tables).toHaveLength(1)
  expect(await take()).toMatchObject({ isDone: false })
  expect(farm.bugs).toEqual([])
})

/** A zip whose directory says that one small entry unpacks to four gigabytes. */
function bomb(): Buffer {
  const entry = Buffer.alloc(46)
  entry.writeUInt32LE(0x02014b50, 0)
  entry.writeUInt32LE(0xffffffff, 24)
  const end = Buffer.alloc(22)
  end.writeUInt32LE(0x06054b50, 0)
  end.writeUInt16LE(1, 10)
  end.writeUInt32LE(4, 16)
  return Buffer.concat([Buffer.from('PK\u0003\u0004', 'latin1'), entry, end])
}

test('rows shorter than the header, and the same row twice where more than a name tells rows apart', async () => {
  const farm = smallFarm()
  const file = csv('Dealer,Variety,Pack lb,Pack price,Note\nNorth Seed,Amber,50,$40\nNorth Seed,Amber,50,$41,later\n')
  const { table } = await lookAt(farm, 'quote', file)
  expect(table.rows[0]?.cells).toEqual(['North Seed', 'Amber', '50', '$40', ''])
  expect(table.rows[1]?.problems.map(({ what }) => what).join()).toMatch(/^The same row stands in row 2 already\.$/)
})

test('what a new row lacks is asked for once, for all rows', async () => {
  const farm = smallFarm()
  const file = csv('Field,Acres\nNew one,12\nNew two,13\n')
  const { table } = await lookAt(farm, 'field', file)
  expect(table.questions.map(({ key, cells }) => [key, cells])).toEqual([
    ['fill/water', 2],
    ['fill/yieldGoalLb', 2],
  ])
  const labels = columnsOf('field', { threats: [] }).map(({ label }) => label)
  const lacking = table.rows[0]!.problems.map(({ what }) => /^No column gives “(.+)”\./.exec(what)?.[1] ?? '')
  expect(lacking.toSorted()).toEqual(['Water', 'Yield goal'])
  expect(lacking.filter((label) => !labels.includes(label))).toEqual([])
  const answers = { 'fill/water': 'dryland', 'fill/yieldGoalLb': '3,200' }
  const filled = await lookAt(farm, 'field', file, { choices: { [table.key]: { answers } } })
  expect(await filled.take()).toMatchObject({ isDone: true, counts: { added: 2 } })
  expect((await farm.must('field.list', {})).find(({ name }) => name === 'New two')).toMatchObject({
    water: 'dryland',
    yieldGoalLb: 3200,
  })
})

test('a value that a row there may not have is left out, and the row stays as it is', async () => {
  const farm = smallFarm()
  const { table } = await lookAt(farm, 'field', csv('Field,Acres\nHill,-3\n'))
  expect(table.rows[0]).toMatchObject({ fate: 'unchanged', changes: [], left: [{ column: 1 }] })
})

test('landlord, farm number, tract and place are columns of a field', async () => {
  const farm = smallFarm()
  const { take, columns } = await lookAt(
    farm,
    undefined,
    csv('Field,Acres,Land owner,FSA #,Tract,Community,Irr,Goal\nNew one,40,Ora Est.,4417,12,Pine Level,Y,4000\n'),
  )
  expect(columns).toEqual(['name', 'acres', 'landlord', 'farmNumber', 'tract', 'place', 'water', 'yieldGoalLb'])
  await take()
  expect((await farm.must('field.list', {})).find(({ name }) => name === 'New one')).toMatchObject({
    landlord: 'Ora Est.',
    farmNumber: '4417',
    tract: '12',
    place: 'Pine Level',
  })
})
