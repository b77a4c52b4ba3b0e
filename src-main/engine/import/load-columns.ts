/** The columns of a table of loads as the demo's file has them. */
import { loadSchema, type Load } from '../../../src-shared/load.ts'
import { readDollars, readNumber, readPercent, readWords } from '../../../src-shared/read-text.ts'
import { readRows, type Columns, type RowsRead } from './read-rows.ts'
import type { Table } from './read-table.ts'

const loadTable: Columns = {
  columns: [
    { header: 'ticket', key: 'ticket', read: readWords },
    { header: 'hauled on', key: 'hauledOn', read: readWords },
    { header: 'field', key: 'field', read: readWords },
    { header: 'variety', key: 'variety', read: readWords },
    { header: 'gross lb', key: 'grossPounds', read: readNumber },
    { header: 'tare lb', key: 'tarePounds', read: readNumber },
    { header: 'moisture %', key: 'moisture', read: readPercent },
    { header: 'foreign material %', key: 'foreignMaterial', read: readPercent },
    { header: 'loose kernels %', key: 'looseKernels', read: readPercent },
    { header: 'sound mature kernels %', key: 'soundMatureKernels', read: readPercent },
    { header: 'sound splits %', key: 'soundSplits', read: readPercent },
    { header: 'other kernels %', key: 'otherKernels', read: readPercent },
    { header: 'damaged kernels %', key: 'damagedKernels', read: readPercent },
    { header: 'hulls %', key: 'hulls', read: readPercent },
    { header: 'segregation', key: 'segregation', read: readNumber },
    { header: 'price', key: 'priceBasis', read: readWords },
    { header: 'price $/ton', key: 'centsPerTon', read: readDollars },
    { header: 'buyer', key: 'buyer', read: readWords },
  ],
}

export function readLoads(table: Table): RowsRead<Load> {
  return readRows(table, loadSchema, loadTable)
}
