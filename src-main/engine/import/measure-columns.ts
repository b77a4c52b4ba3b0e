/** The columns of a measures table. */
import { readDollars, readNumber, readPercent, readWords, readYesNo } from '../../../src-shared/read-text.ts'
import { measureSchema, type Measure } from '../../../src-shared/threat.ts'
import { readRows, type Columns, type ColumnFamily, type RowsRead } from './read-rows.ts'
import type { Table } from './read-table.ts'

/** "stops spotted wilt %": the threat's name stands between. */
const stops: ColumnFamily = { prefix: 'stops ', key: 'efficacy', read: readPercent }

const measureTable: Columns = {
  columns: [
    { header: 'measure', key: 'name', read: readWords },
    { header: 'group', key: 'group', read: readWords },
    { header: 'cost $/acre', key: 'centsPerAcre', read: readDollars },
    { header: 'yield gain lb/acre', key: 'gainLb', read: readNumber },
    { header: 'gain on new ground lb/acre', key: 'gainNewLb', read: readNumber },
    { header: 'pesticide', key: 'isPesticide', read: readYesNo },
    { header: 'source', key: 'source', read: readWords },
    { header: 'from label', key: 'fromLabel', read: readWords },
  ],
  families: [stops],
}

export function readMeasures(table: Table): RowsRead<Measure> {
  return readRows(table, measureSchema, measureTable, ({ efficacy, ...measure }) => ({
    ...measure,
    efficacy: Object.fromEntries(
      Object.entries((efficacy ?? {}) as Record<string, number>).map(([threat, share]) => [
        threat.replace(/\s*%$/, ''),
        share,
      ]),
    ),
  }))
}
