/** Which columns a table has on paper. */
import { expect, test } from 'vitest'
import { computedColumn, typedColumn } from '../../../src-renderer/grid/columns.ts'
import { onPaper } from '../../../src-renderer/sheet/on-paper.ts'
import { number, scaled, words } from '../../../src-shared/sheet/kind.ts'

interface Row {
  name: string
  count: number | null
  note: string | null
}

const columns = [
  typedColumn<Row>({ id: 'name', label: 'Field', kind: words }),
  typedColumn<Row>({ id: 'count', label: 'Nematodes', unit: 'per 100 cc', kind: number() }),
  typedColumn<Row>({ id: 'other', path: 'count', label: 'Nematodes', unit: 'per 500 cc', kind: scaled(5) }),
  computedColumn<Row>({
    id: 'double',
    label: 'Twice',
    from: 'the count',
    show: ({ count }) => (count === null ? '' : String(count * 2)),
    sortBy: ({ count }) => count,
  }),
  typedColumn<Row>({ id: 'note', label: 'Note', kind: words }),
]
const ids = (rows: Row[]) => onPaper(columns, rows).columns.map(({ id }) => id)

test('a column in which nothing stands is left out and named; a value stands in one unit', () => {
  const rows = [
    { name: 'Creek', count: null, note: null },
    { name: 'North', count: 0, note: null },
  ]
  expect(ids(rows)).toEqual(['name', 'count', 'double'])
  expect(onPaper(columns, rows).empty).toEqual(['Note'])
  expect(onPaper(columns, [{ name: 'Creek', count: null, note: 'Galls' }]).empty).toEqual(['Nematodes', 'Twice'])
})

test('a table without rows keeps its columns, to be filled in by hand', () => {
  expect(ids([])).toEqual(['name', 'count', 'double', 'note'])
  expect(onPaper(columns, []).empty).toEqual([])
})
