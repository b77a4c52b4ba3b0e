/** The columns of the fields table: units in the headers, words as growers use them. */
import type { FieldRow } from '../../../src-shared/field.ts'
import { growthLevels, pressureLevels, rowPatterns, tillages, waters } from '../../../src-shared/field.ts'
import { showAcres } from '../../../src-shared/show.ts'
import type { Column } from '../../grid/columns.ts'
import { choiceColumn, computedColumn, numberColumn, wordsColumn } from '../../grid/columns.ts'

/** Columns that are typed carry the noun's own names, so that a misspelt one does not compile. */
const id = (column: keyof FieldRow) => column

export const fieldColumns: readonly Column<FieldRow>[] = [
  wordsColumn({ id: id('name'), label: 'Field', get: (row) => row.name }),
  numberColumn({ id: id('acres'), label: 'Planted', unit: 'acres', get: (row) => row.acres }),
  numberColumn({ id: id('rowSpacingIn'), label: 'Rows', unit: 'inches', get: (row) => row.rowSpacingIn }),
  choiceColumn({ id: id('rowPattern'), label: 'Pattern', choices: rowPatterns, get: (row) => row.rowPattern }),
  choiceColumn({ id: id('water'), label: 'Water', choices: waters, get: (row) => row.water }),
  wordsColumn({ id: id('soil'), label: 'Soil', get: (row) => row.soil }),
  choiceColumn({ id: id('tillage'), label: 'Tillage', choices: tillages, get: (row) => row.tillage }),
  choiceColumn({ id: id('growth'), label: 'Vines grow', choices: growthLevels, get: (row) => row.growth }),
  numberColumn({ id: id('yieldGoalLb'), label: 'Yield goal', unit: 'lb/acre', get: (row) => row.yieldGoalLb }),
  numberColumn({
    id: id('nematodesPer100cc'),
    label: 'Nematodes',
    unit: 'per 100 cc',
    get: (row) => row.nematodesPer100cc,
  }),
  computedColumn({
    id: 'yearsOut',
    label: 'Out of peanut',
    unit: 'seasons',
    isFigure: true,
    from: 'Counted from the crop history.',
    show: (row) => (row.yearsOut === null ? 'not known' : String(row.yearsOut)),
    sortBy: (row) => row.yearsOut,
  }),
  computedColumn({
    id: 'history',
    label: 'Grown before',
    from: 'The crop history, newest first. It is brought in with the season.',
    show: (row) => row.history.map(({ season, crop }) => `${String(season).slice(2)} ${crop}`).join(', '),
    sortBy: (row) => row.history[0]?.crop ?? null,
  }),
  computedColumn({
    id: 'pressure',
    label: 'Trouble seen',
    width: 30,
    from: 'Moderate and worse, worst first. It is brought in with the season.',
    show: (row) => troubles(row),
    sortBy: (row) => Math.max(-1, ...Object.values(row.pressure).map((level) => pressureLevels.indexOf(level))),
  }),
  computedColumn({
    id: 'windows',
    label: 'Can be planted',
    from: 'The planting windows that suit the field. They are brought in with the season.',
    show: (row) => (row.windows.length === 0 ? 'any window' : row.windows.join(', ')),
    sortBy: (row) => row.windows.join(', '),
  }),
  computedColumn({
    id: 'lockedTo',
    label: 'Locked to',
    from: 'Set on the plan.',
    show: (row) => row.lockedTo ?? '',
    sortBy: (row) => row.lockedTo,
  }),
  wordsColumn({ id: id('note'), label: 'Note', width: 30, get: (row) => row.note }),
]

function troubles({ pressure }: FieldRow): string {
  return pressureLevels
    .filter((level) => level !== 'none' && level !== 'low')
    .reverse()
    .flatMap((level) => {
      const names = Object.keys(pressure).filter((name) => pressure[name] === level)
      return names.length === 0 ? [] : [`${level}: ${names.join(', ')}`]
    })
    .join('; ')
}

export function fieldTotals(shown: readonly FieldRow[]): Record<string, string> {
  return {
    name: `${shown.length} shown`,
    acres: showAcres(shown.reduce((sum, row) => sum + row.acres, 0)),
  }
}
