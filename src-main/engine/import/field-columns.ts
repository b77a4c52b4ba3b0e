/** The columns of a fields table. */
import {
  fieldSchema,
  growthLevels,
  nematodeSpecies,
  pressureLevels,
  rowPatterns,
  tillages,
  waters,
  type Field,
} from '../../../src-shared/field.ts'
import { readDollars, readList, readNumber, readOneOf, readWords, readYesNo } from '../../../src-shared/read-text.ts'
import { readDay } from '../../../src-shared/sheet/day-text.ts'
import { readCrop } from '../../../src-shared/sheet/compound.ts'
import { patternWords, tillageWords, waterWords } from '../../../src-shared/sheet/other-words.ts'
import { readRows, type Columns, type RowsRead } from './read-rows.ts'
import type { Table } from './read-table.ts'

const fieldTable: Columns = {
  columns: [
    { header: 'field', key: 'name', read: readWords },
    { header: 'acres', key: 'acres', read: readNumber },
    { header: 'row spacing in', key: 'rowSpacingIn', read: readNumber },
    { header: 'rows', key: 'rowPattern', read: readOneOf(rowPatterns, patternWords) },
    { header: 'water', key: 'water', read: readOneOf(waters, waterWords) },
    { header: 'soil', key: 'soil', read: readWords },
    { header: 'tillage', key: 'tillage', read: readOneOf(tillages, tillageWords) },
    { header: 'yield goal lb/acre', key: 'yieldGoalLb', read: readNumber },
    { header: 'rests', key: 'rests', read: readYesNo },
    { header: 'brings otherwise $/acre', key: 'otherCents', read: readDollars },
    { header: 'growth', key: 'growth', read: readOneOf(growthLevels) },
    { header: 'nematodes per 100 cc', key: 'nematodesPer100cc', read: readNumber },
    { header: 'nematode counted', key: 'nematodeSpecies', read: readOneOf(nematodeSpecies) },
    { header: 'sampled on', key: 'sampledOn', read: readDay },
    { header: 'windows', key: 'windows', read: readList(readWords) },
    { header: 'crops', key: 'history', read: readList(readCrop) },
    { header: 'least block acres', key: 'leastBlockAcres', read: readNumber },
    { header: 'most varieties', key: 'mostVarieties', read: readNumber },
    { header: 'note', key: 'note', read: readWords },
  ],
  families: [{ prefix: 'pressure ', key: 'pressure', read: readOneOf(pressureLevels) }],
}

export function readFields(table: Table): RowsRead<Field> {
  return readRows(table, fieldSchema, fieldTable, ({ leastBlockAcres, mostVarieties, ...field }) => ({
    ...field,
    ...(leastBlockAcres === undefined && mostVarieties === undefined
      ? {}
      : { split: { leastBlockAcres: leastBlockAcres ?? 0, mostVarieties: mostVarieties ?? 2 } }),
  }))
}
