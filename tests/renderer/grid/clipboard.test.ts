/** Blocks to and from the clipboard, in the form that spreadsheets write and read. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { fromClipboard, fromHtml, fromText, toHtml, toText } from '../../../src-renderer/grid/clipboard.ts'

describe('from a spreadsheet', () => {
  test.each<[string, string, string[][]]>([
    ['one cell', '88', [['88']]],
    [
      'a block',
      '1\t2\n3\t4',
      [
        ['1', '2'],
        ['3', '4'],
      ],
    ],
    [
      'the last line break adds no row',
      '1\t2\r\n3\t4\r\n',
      [
        ['1', '2'],
        ['3', '4'],
      ],
    ],
    [
      'empty cells are cells',
      '\t2\n3\t',
      [
        ['', '2'],
        ['3', ''],
      ],
    ],
    ['a quoted cell with a break and a quote', '"two\nlines ""so"""\tx', [['two\nlines "so"', 'x']]],
    ['a quote inside a word is itself', '6" rows\tx', [['6" rows', 'x']]],
    ['nothing is one empty cell', '', [['']]],
  ])('%s', (_name, text, rows) => expect(fromText(text)).toEqual(rows))
})

test('what is copied comes back the same', () => {
  const cell = fc.string({ maxLength: 8 }).map((text) => text.replaceAll('\r', ' '))
  const block = fc.array(fc.array(cell, { minLength: 2, maxLength: 4 }), { minLength: 1, maxLength: 4 })
  fc.assert(
    fc.property(block, (rows) => {
      expect(fromText(toText(rows))).toEqual(rows)
    }),
  )
})

describe('as a table', () => {
  test('any block comes back from its HTML, tags and all', () => {
    const cell = fc.string().map((text) => text.replace(/[\s\p{Cc}\p{Zs}]+/gu, ' ').trim())
    fc.assert(
      fc.property(fc.array(fc.array(cell, { minLength: 2, maxLength: 4 }), { minLength: 1, maxLength: 4 }), (rows) => {
        expect(fromHtml(toHtml(rows))).toEqual(rows)
      }),
    )
  })

  test('plain text goes before HTML, whose numbers may be rounded; HTML alone is read', () => {
    const data = (parts: Record<string, string>) => ({ getData: (type: string) => parts[type] ?? '' })
    const html = '<meta charset="utf-8"><table><tr><td>1</td><td>2</td></tr></table>'
    expect(fromClipboard(data({ 'text/plain': '1.04\t2', 'text/html': html }))).toEqual([['1.04', '2']])
    expect(fromClipboard(data({ 'text/html': html }))).toEqual([['1', '2']])
    expect(fromClipboard(data({ 'text/html': '<p>no table</p>' }))).toBeNull()
    expect(fromClipboard(data({}))).toBeNull()
  })
})
