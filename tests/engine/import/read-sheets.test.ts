/** What other programs write, read as it was meant: sheets, days and ticks of a workbook, merged cells, text of any encoding, and how much. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import writeFile from 'write-excel-file/node'
import { writeCsv } from '../../../src-main/engine/export/write-csv.ts'
import { readSheets } from '../../../src-main/engine/import/read-sheets.ts'
import { valueOf } from '../../../src-shared/problem.ts'

const gridOf = async (name: string, bytes: Buffer) => valueOf(await readSheets(name, bytes)).sheets[0]!.grid.rows

test('a workbook from elsewhere: an empty first sheet, days and ticks as they are typed there, merged cells', async () => {
  const date = (value: Date) => ({ value, type: Date, format: 'yyyy-mm-dd' })
  const text = (value: string) => ({ value, type: String })
  const head = ['Dealer', 'Variety', 'Weight', 'Price', 'Order by'].map(text)
  const tick = { value: true, type: Boolean }
  const row = [text('North'), text('Amber'), { value: 50, type: Number }, tick, date(new Date('2027-02-28T00:00:00Z'))]
  const title = [{ value: 'Prices & terms', type: String, columnSpan: 5 }, null, null, null, null]
  const bytes = await writeFile([
    { sheet: 'Empty', data: [] },
    { sheet: 'Prices & more', data: [title, head, row, [text('South'), null, null, { value: false, type: Boolean }]] },
  ]).toBuffer()
  const { sheets } = valueOf(await readSheets('prices.xlsx', bytes))
  expect(sheets.map(({ page }) => page)).toEqual(['Prices & more'])
  expect(sheets[0]?.grid.rows.slice(2)).toEqual([
    ['North', 'Amber', 50, true, '2027-02-28'],
    ['South', '', '', false, ''],
  ])
  expect(sheets[0]?.grid.merges).toEqual([{ top: 0, left: 0, bottom: 0, right: 4 }])
})

const plain = [
  ['Field', 'Note'],
  ['Creek', 'Élan, “wet”'],
  ["Ora's", ''],
]

/** As a program with that delimiter writes it. */
const written = (delimiter: string, end: string) =>
  plain.map((row) => row.map((cell) => (cell.includes(delimiter) ? `"${cell}"` : cell)).join(delimiter)).join(end) + end

test('any delimiter, line end and encoding gives the same cells', async () => {
  const delimiter = fc.constantFrom(',', ';', '\t', '|')
  const end = fc.constantFrom('\n', '\r\n', '\r')
  const encoding = fc.constantFrom('utf8', 'utf8 mark', 'utf16', 'utf16 mark', 'utf16 turned', 'windows')
  await fc.assert(
    fc.asyncProperty(delimiter, end, encoding, fc.boolean(), async (mark, lineEnd, kind, saysSo) => {
      const text = `${saysSo ? `sep=${mark}${lineEnd}` : ''}${written(mark, lineEnd)}`
      const utf16 = Buffer.from(text, 'utf16le')
      const bytes = {
        utf8: () => Buffer.from(text),
        'utf8 mark': () => Buffer.from(`\uFEFF${text}`),
        utf16: () => utf16,
        'utf16 mark': () => Buffer.from(`\uFEFF${text}`, 'utf16le'),
        'utf16 turned': () => Buffer.from(`\uFEFF${text}`, 'utf16le').swap16(),
        // Its own quotation marks and accents, a byte each.
        windows: () => Buffer.from(text.replace('“', '\u0093').replace('”', '\u0094'), 'latin1'),
      }[kind]!()
      expect(await gridOf('a.csv', bytes)).toEqual(plain)
    }),
    { numRuns: 150 },
  )
})

test('an apostrophe of Mac Roman is one, and an inch mark in a cell is no quotation mark', async () => {
  const mac = Buffer.concat([Buffer.from('Field,Rows\nMiss Ora'), Buffer.from([0xd5]), Buffer.from('s,36" twin\n')])
  expect(await gridOf('a.csv', mac)).toEqual([
    ['Field', 'Rows'],
    ['Miss Ora’s', '36" twin'],
  ])
})

test('more than a farm has is refused with how much of it may come', async () => {
  const wide = Array.from({ length: 301 }, (_, at) => `c${at}`).join()
  expect(await readSheets('wide.csv', Buffer.from(wide))).toMatchObject({
    problems: [
      { code: 'bad-file', what: expect.stringContaining('301 columns'), remedy: expect.stringContaining('300') },
    ],
  })
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
      expect(bytes.toString('utf8').startsWith('\uFEFF')).toBe(true)
      const kept = rows.map((row) => row.map(String))
      while (kept.length > 0 && kept.at(-1)?.every((each) => each.trim() === '')) kept.pop()
      expect((await gridOf('out.csv', bytes)).slice(1)).toEqual(kept)
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
