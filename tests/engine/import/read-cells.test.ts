/** What other programs write, read as it was meant: pages, days and ticks of a workbook, text of any encoding, and how much. */
import { expect, test } from 'vitest'
import writeFile from 'write-excel-file/node'
import { plainText } from '../../../src-main/engine/import/file-style.ts'
import { readCells } from '../../../src-main/engine/import/read-cells.ts'
import { day, yesNo } from '../../../src-shared/sheet/kind.ts'

test('a workbook from elsewhere: an empty first page, days and ticks as they are typed there', async () => {
  const date = (value: Date) => ({ value, type: Date, format: 'yyyy-mm-dd' })
  const text = (value: string) => ({ value, type: String })
  const head = ['Dealer', 'Variety', 'Weight', 'Price', 'Order by'].map(text)
  const tick = { value: true, type: Boolean }
  const row = [text('North'), text('Amber'), { value: 50, type: Number }, tick, date(new Date('2027-02-28T00:00:00Z'))]
  const bytes = await writeFile([
    { sheet: 'Empty', data: [] },
    { sheet: 'Prices', data: [head, row, [text('South'), null, null, { value: false, type: Boolean }]] },
  ]).toBuffer()
  const read = await readCells('prices.xlsx', bytes)
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  expect(read.value).toMatchObject({ pages: ['Empty', 'Prices'], page: 'Prices' })
  expect(read.value.rows.map(({ cells }) => cells)).toEqual(
    [
      ['North', 'Amber', 50, true, '2027-02-28'],
      ['South', '', '', false],
    ].map((cells) => expect.arrayContaining(cells)),
  )
  expect(plainText(true, yesNo, {})).toBe('yes')
  expect(plainText(false, yesNo, {})).toBe('no')
  expect(await readCells('prices.xlsx', bytes, 'Empty')).toMatchObject({
    ok: false,
    problems: [{ what: 'The file has no header row.', remedy: 'Put the names of the columns in the first row.' }],
  })
})

test('a day that does not fit the order that was chosen stays as it was typed, to be refused in its cell', () => {
  expect(plainText('3/4/2027', day, { days: 'dmy' })).toBe('2027-04-03')
  expect(plainText('early May', day, { days: 'dmy' })).toBe('early May')
})

test('text of other programs: UTF-16 either way round, and what older Windows programs write', async () => {
  const text = 'Größe,Acres\nHügel,12\n'
  const little = Buffer.from(`\ufeff${text}`, 'utf16le')
  const files = [Buffer.from(text), little, Buffer.from(little).swap16(), Buffer.from(text, 'latin1')]
  for (const bytes of files) {
    const read = await readCells('a.csv', bytes)
    expect(read).toMatchObject({ ok: true, value: { headers: ['Größe', 'Acres'], rows: [{ cells: ['Hügel', '12'] }] } })
  }
})

test('more than a farm has is refused with how much of it may come', async () => {
  const wide = Array.from({ length: 301 }, (_, at) => `c${at}`).join()
  expect(await readCells('wide.csv', Buffer.from(wide))).toMatchObject({
    problems: [
      { code: 'bad-file', what: expect.stringContaining('301 columns'), remedy: expect.stringContaining('300') },
    ],
  })
})
