/** The columns of a varieties table. */
import { marketTypes, oilTypes, varietySchema, vineClasses, type Variety } from '../../../src-shared/variety.ts'
import { readNumber, readOneOf, readPercent, readWords, readYesNo } from '../../../src-shared/read-text.ts'
import { readRows, type Columns, type RowsRead } from './read-rows.ts'
import type { Table } from './read-table.ts'

const varietyTable: Columns = {
  columns: [
    { header: 'variety', key: 'name', read: readWords },
    { header: 'oil type', key: 'oilType', read: readOneOf(oilTypes) },
    { header: 'market type', key: 'marketType', read: readOneOf(marketTypes) },
    { header: 'seeds per pound', key: 'seedsPerPound', read: readNumber },
    { header: 'germination %', key: 'germination', read: readPercent },
    { header: 'vine', key: 'vine', read: readOneOf(vineClasses) },
    { header: 'days to maturity', key: 'daysToMaturity', read: readNumber },
    { header: 'yield index', key: 'yieldIndex', read: readNumber },
    { header: 'yield index dryland', key: 'yieldIndexDryland', read: readNumber },
    { header: 'grade index', key: 'gradeIndex', read: readNumber },
    { header: 'treated', key: 'isTreated', read: readYesNo },
    { header: 'note', key: 'note', read: readWords },
  ],
  families: [{ prefix: 'rating ', key: 'ratings', read: readNumber }],
}

export function readVarieties(table: Table): RowsRead<Variety> {
  return readRows(table, varietySchema, varietyTable, (record) => ({ ratings: {}, ...record }))
}
