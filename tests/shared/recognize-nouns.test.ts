/** The table of words holds together: every column of a noun is one of its sheet or is read into one, and no two nouns’ needs are empty. */
import { expect, test } from 'vitest'
import { columnsOf } from '../../src-shared/sheet/columns.ts'
import { headBooks } from '../../src-shared/recognize/head-book.ts'
import { nounNames, nouns } from '../../src-shared/recognize/nouns.ts'
import { tokensOf } from '../../src-shared/recognize/tokens.ts'
import { sheetNames } from '../../src-shared/sheet/sheet.ts'

/** Columns that are read into others. */
const virtual = [
  'rows',
  'crop',
  'nematodes',
  'year',
  'yearCrop',
  'ph',
  'lab',
  'pack',
  'price',
  'earlyPrice',
  'earlyBy',
  'tier',
  'dealerPrice',
  'packPrice',
  'tierFrom',
  'treatment',
  'cashDiscount',
  'netPounds',
  'soundTotal',
  'treatmentPrice',
  'packs',
  'packPounds',
]

test('every noun and every sheet is in the table', () => {
  expect(nouns.map(({ noun }) => noun)).toEqual([...nounNames])
  expect([...new Set(nouns.map(({ sheet }) => sheet))].toSorted()).toEqual([...sheetNames].toSorted())
})

test.each(nouns)('$noun', ({ sheet, columns, needs }) => {
  const ids = columnsOf(sheet, { threats: [] }).map(({ id }) => id)
  expect(columns.map(({ id }) => id).filter((id) => !ids.includes(id) && !virtual.includes(id))).toEqual([])
  for (const { heads, label } of columns) expect(tokensOf(label).length + tokensOf(heads).length).toBeGreaterThan(0)
  // A need that no column can meet would keep the noun from ever being found.
  const known = [...columns.map(({ id }) => id), 'leafspot', 'pressure/*', 'ratings/*', 'efficacy/*']
  for (const some of needs) expect(some.some((id) => known.includes(id))).toBe(true)
})

test('every column that our own tables are written out with is found again by its heading', () => {
  const threats = ['early leaf spot', 'spotted wilt']
  const books = headBooks(threats)
  const missing: string[] = []
  for (const { noun, sheet, columns } of books) {
    if (noun === 'history' || noun === 'soil') continue
    const known = new Set(columns.flatMap(({ tokens }) => tokens.map((head) => head.join(' '))))
    for (const { label, id } of columnsOf(sheet, { threats })) {
      if (!known.has(tokensOf(label).join(' ')) && !id.includes('nematodes')) missing.push(`${sheet}: ${label}`)
    }
  }
  expect(missing).toEqual([])
})
