/** Blocks to and from the clipboard, in the form that spreadsheets write and read. */
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { fromText, toText } from '../../../src-renderer/grid/clipboard.ts'

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
