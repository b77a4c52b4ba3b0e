/** Files brought in on a real farm: columns matched and remembered, every row's fate, one undo step, nothing guessed. */
import fc from 'fast-check'
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { createFarm } from '../../../src-main/engine/farm-file.ts'
import { writeCsv } from '../../../src-main/engine/export/write-csv.ts'
import { writeXlsx } from '../../../src-main/engine/export/write-table.ts'
import { readCells } from '../../../src-main/engine/import/read-cells.ts'
import type { Style } from '../../../src-shared/sheet/bring-in.ts'
import { columnsOf } from '../../../src-shared/sheet/columns.ts'
import type { SheetName } from '../../../src-shared/sheet/sheet.ts'
import { startTestEngine, type TestEngine } from '../../support/engine.ts'
import { dumpOf, smallSeason } from '../../support/open-file.ts'

function smallFarm(): TestEngine {
  const test = startTestEngine()
  onTestFinished(() => test.close())
  const made = createFarm(join(test.engine.home, 'Small.farm'), smallSeason())
  if (!made.ok) throw new Error(JSON.stringify(made.problems))
  test.engine.farm = made.value
  return test
}

const csv = (text: string, name = 'file.csv') => ({ name, base64: Buffer.from(text).toString('base64') })

async function bring(
  { must }: TestEngine,
  sheet: SheetName,
  file: { name: string; base64: string },
  { style = {}, onlyGood = false }: { style?: Style; onlyGood?: boolean } = {},
) {
  const look = await must('import.look', { sheet, file })
  const match = look.headers.map((header) => header.match)
  const input = { sheet, file, match, style }
  return {
    look,
    input,
    preview: await must('import.preview', input),
    take: () => must('import.apply', { ...input, onlyGood }),
  }
}

test('fields: added, changed, unchanged, refused and blank add up, with the reason at the cell', async () => {
  const farm = smallFarm()
  const before = dumpOf(farm.engine.farm!.connection)
  const creek = (await farm.must('field.list', {})).find((row) => row.name === 'Creek Bottom')!
  const file = csv(
    [
      'Field,Acres,Water,Yield goal,Spotted wilt (pressure),Crops,Odd',
      'New one,12.5,dryland,3000,low,2026 cotton; 2025 corn,x',
      `creek bottom,${creek.acres + 4},,,,,`,
      `Hill,,,,,,`,
      'Bad,-3,dryland,3000,,,',
      'Worse,12,sea,3000,terrible,,',
      'Lacking,12,,,,,',
      'New one,13,dryland,3000,,,',
      ',,,,,,',
      ',5,dryland,3000,,,',
    ].join('\r\n'),
  )
  const { look, preview, take } = await bring(farm, 'field', file)
  expect(look.headers.map(({ match }) => match)).toEqual([
    'name',
    'acres',
    'water',
    'yieldGoalLb',
    'pressure/spotted wilt',
    'history',
    null,
  ])
  expect(preview.questions).toEqual([])
  expect(preview.rows.map(({ row, fate }) => [row, fate])).toEqual([
    [2, 'added'],
    [3, 'changed'],
    [4, 'unchanged'],
    [5, 'refused'],
    [6, 'refused'],
    [7, 'refused'],
    [8, 'refused'],
    [9, 'blank'],
    [10, 'refused'],
  ])
  expect(preview.counts).toEqual({ added: 1, changed: 1, unchanged: 1, refused: 5, blank: 1 })
  const at = (row: number) => preview.rows.find((each) => each.row === row)!.problems.map(({ column }) => column)
  expect([at(5), at(6), at(7), at(8), at(10)]).toEqual([[1], [2, 4], [2, 3], [0], [0]])
  expect(preview.rows[6]?.problems[0]?.what).toContain('row 2')
  expect(await take()).toMatchObject({ isDone: false })
  expect(dumpOf(farm.engine.farm!.connection)).toEqual(before)
  const good = await bring(farm, 'field', file, { onlyGood: true })
  expect(await good.take()).toMatchObject({ isDone: true, counts: preview.counts })
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
  expect(await farm.must('undo.state', {})).toMatchObject({ back: 'Bring in fields from a file' })
  await farm.must('undo.back', {})
  expect(dumpOf(farm.engine.farm!.connection)).toEqual(before)
  expect(farm.bugs).toEqual([])
})

test('a match made by hand is remembered for the next file with that heading', async () => {
  const farm = smallFarm()
  const file = csv('What we call it;Seeds\nBison;700\n')
  const first = await bring(farm, 'variety', file)
  expect(first.look.headers.map(({ match }) => match)).toEqual([null, null])
  const match = ['name', 'seedsPerPound']
  expect(await farm.must('import.apply', { ...first.input, match, onlyGood: false })).toMatchObject({ isDone: true })
  expect((await bring(farm, 'variety', file)).look.headers.map((header) => header.match)).toEqual(match)
  expect((await farm.must('variety.list', {})).find((row) => row.name === 'Bison')?.seedsPerPound).toBe(700)
})

test('what could be read two ways is asked about once a file, and read as answered', async () => {
  const farm = smallFarm()
  const [dealer] = await farm.must('dealer.list', {})
  const file = csv(
    `dealer;variety;quote;pack lb;price;order by;return credit\n${dealer!.name};Bison;x;50;1.250,50;3/4/2027;0,8\n`,
  )
  const asked = await bring(farm, 'quote', file)
  expect(asked.preview.rows).toEqual([])
  expect(asked.preview.questions.map(({ about }) => about).toSorted()).toEqual(['days', 'numbers'])
  expect(asked.preview.questions.find(({ about }) => about === 'numbers')?.example).toMatch(/^(1\.250,50|0,8)$/)
  expect(await asked.take()).toMatchObject({ isDone: false })
  const style: Style = { numbers: 'comma', days: 'dmy', shares: 'share' }
  const answered = await bring(farm, 'quote', file, { style })
  expect(answered.preview.counts.added).toBe(1)
  await answered.take()
  expect((await farm.must('quote.list', {})).find((row) => row.name === 'x')).toMatchObject({
    packPriceCents: 125_050,
    orderBy: '2027-04-03',
    returnCredit: 0.8,
  })
})

/** Order-by days of three quotes, in a file whose days were answered as month first. */
async function orderDays(days: readonly string[]) {
  const farm = smallFarm()
  const [dealer] = await farm.must('dealer.list', {})
  const lines = days.map((day, at) => `${dealer!.name},Bison,q${at},50,40,${day}`)
  const file = csv(`dealer,variety,quote,pack lb,price,order by\n${lines.join('\n')}\n`)
  const brought = await bring(farm, 'quote', file, { style: { days: 'mdy' } })
  const { rows } = brought.preview
  await farm.must('import.apply', { ...brought.input, onlyGood: true })
  const quotes = await farm.must('quote.list', {})
  return {
    asks: (await bring(farm, 'quote', file)).preview.questions.map(({ about }) => about),
    fates: rows.map(({ fate }) => fate),
    days: days.map((_, at) => quotes.find(({ name }) => name === `q${at}`)?.orderBy),
  }
}

test('a day that can be read one way only settles its column, whatever was answered', async () => {
  expect(await orderDays(['13/06/2027', '05/06/2027'])).toEqual({
    asks: [],
    fates: ['added', 'added'],
    days: ['2027-06-13', '2027-06-05'],
  })
  expect((await orderDays(['3/4/2027', '5/6/2027'])).days).toEqual(['2027-03-04', '2027-05-06'])
})

test('days of one column that contradict one another: the doubtful ones are refused', async () => {
  expect(await orderDays(['13/06/2027', '06/14/2027', '05/06/2027'])).toMatchObject({
    fates: ['added', 'added', 'refused'],
    days: ['2027-06-13', '2027-06-14', undefined],
  })
})

test.each<[string, string, string[]]>([
  ['88.5', '"1,250"', []],
  ['"1,250"', '"2,500"', ['numbers']],
  ['88', '90', []],
  ['"12,5"', '90', ['numbers']],
])('acres of %s and %s ask about %j', async (one, other, about) => {
  const farm = smallFarm()
  const { preview } = await bring(farm, 'field', csv(`field,acres\nHill,${one}\nLong Field,${other}\n`))
  expect(preview.questions.map((question) => question.about)).toEqual(about)
})

test('a workbook: text stays text, shares are asked about, dates are dates', async () => {
  const farm = smallFarm()
  const bytes = await writeXlsx('Seed', ['variety', 'lot', 'pounds', 'germination'], [['Bison', '007', 1200, 0.87]])
  const file = { name: 'seed.xlsx', base64: bytes.toString('base64') }
  expect((await bring(farm, 'carried', file)).preview.questions.map(({ about }) => about)).toEqual(['shares'])
  const { preview, take } = await bring(farm, 'carried', file, { style: { shares: 'share' } })
  expect(preview.counts.added).toBe(1)
  await take()
  expect((await farm.must('carried.list', {})).find((row) => row.lot === '007')).toMatchObject({
    pounds: 1200,
    germination: 0.87,
  })
})

test.each([
  ['empty.csv', Buffer.alloc(0)],
  ['no-header.csv', Buffer.from('\n\n1,2\n')],
  ['open-quote.csv', Buffer.from('field,acres\n"Hill,3\n')],
  ['nul.csv', Buffer.from('field,acres\nHi\u0000ll,3\n')],
  ['old.xls', Buffer.from([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1])],
  ['cut.xlsx', Buffer.from('PK\u0003\u0004 cut off')],
  ['lies.xlsx', bomb()],
])('%s is refused as a bad file, and nothing breaks', async (name, bytes) => {
  const farm = smallFarm()
  const reply = await farm.call('import.look', { sheet: 'field', file: { name, base64: bytes.toString('base64') } })
  expect(reply).toMatchObject({ ok: false, problems: [{ code: 'bad-file', where: { file: name } }] })
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

test('text in other encodings is read: UTF-16, and what older Windows programs write', async () => {
  for (const bytes of [
    Buffer.from('\uFEFFfeld,ort\nÄcker,Süd\n', 'utf16le'),
    Buffer.from('feld,ort\nÄcker,Süd\n', 'latin1'),
  ]) {
    const cells = await readCells('a.csv', bytes)
    expect(cells.ok && cells.value.rows[0]?.cells).toEqual(['Äcker', 'Süd'])
  }
})

test('what is written out comes in again, and nothing in it is run by a spreadsheet', async () => {
  const cell = fc.oneof(
    fc.string().map((text) => text.replace(/[\p{Cc}\uFEFF]/gu, '').trim()),
    fc.constantFrom('=1+1', '+1', '-1', '@x', "'=x", '＝1', ' =1', '007', '3E5', '"=1', 'a,b', 'a;b', 'a\nb'),
    fc.integer({ min: -1_000_000, max: 1_000_000 }),
  )
  const table = fc.array(fc.array(cell, { minLength: 2, maxLength: 2 }), { minLength: 1, maxLength: 6 })
  await fc.assert(
    fc.asyncProperty(table, async (rows) => {
      const bytes = writeCsv(['one', 'two'], rows)
      const text = bytes.toString('utf8')
      expect(text.startsWith('\uFEFF')).toBe(true)
      const read = await readCells('out.csv', bytes)
      if (!read.ok) throw new Error(JSON.stringify(read.problems))
      const kept = rows.map((row) => row.map(String))
      while (kept.length > 0 && kept.at(-1)?.every((each) => each === '')) kept.pop()
      expect(read.value.rows.map(({ cells }) => cells)).toEqual(kept)
    }),
  )
})

test.each([
  ['=1+1', `'=1+1`],
  ['+1', `'+1`],
  ['-1', `'-1`],
  ['@SUM(A1)', `'@SUM(A1)`],
  ['  =1', `'  =1`],
  ['＝1', `'＝1`],
  [-12.5, '-12.5'],
  [null, ''],
])('%j leaves as %s', (cell, out) => {
  expect(writeCsv(['x'], [[cell]]).toString('utf8')).toBe(`\uFEFFx\r\n${out}\r\n`)
})

test('rows shorter than the header, and the same row twice where more than a name tells rows apart', async () => {
  const farm = smallFarm()
  const file = csv('Dealer,Variety,Pack lb,Pack price,Note\nNorth Seed,Amber,50,$40\nNorth Seed,Amber,50,$41,later\n')
  const { preview } = await bring(farm, 'quote', file)
  expect(preview.rows[0]?.cells).toEqual(['North Seed', 'Amber', '50', '$40', ''])
  expect(preview.rows[1]?.problems.map(({ what }) => what).join()).toMatch(/^The same row stands in row 2 already\.$/)
})

test('what a new row lacks is named as the column is, where no column of the file gives it', async () => {
  const farm = smallFarm()
  const { preview } = await bring(farm, 'field', csv('Field,Acres\nNew one,12\n'))
  expect(preview.rows[0]).toMatchObject({ fate: 'refused' })
  const labels = columnsOf('field', { threats: [] }).map(({ label }) => label)
  const lacking = preview.rows[0]!.problems.map(
    ({ what }) => /^No column of the file gives “(.+)”, which/.exec(what)?.[1],
  )
  expect(lacking).toEqual(expect.arrayContaining(['Water', 'Yield goal']))
  expect(lacking.filter((label) => !labels.includes(label ?? ''))).toEqual([])
})

test('a value that a row there may not have is refused in its cell, and the row stays', async () => {
  const farm = smallFarm()
  const { preview } = await bring(farm, 'field', csv('Field,Acres\nHill,-3\n'))
  expect(preview.rows[0]).toMatchObject({ fate: 'refused', changes: [], problems: [{ column: 1 }] })
})
