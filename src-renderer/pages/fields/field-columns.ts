/** The columns of the fields table: those of the sheet, and beside them what is worked out. */
import type { FieldRow } from '../../../src-shared/field.ts'
import { isPeanut } from '../../../src-shared/crop.ts'
import { columnsOf } from '../../../src-shared/sheet/columns.ts'
import { showAcres, showNumber } from '../../../src-shared/show.ts'
import { computedColumn, typedColumn, workedColumn, type Column } from '../../grid/columns.ts'

/** [share] of the boundary's area beyond which the planted acres are said to differ. */
const noted = 0.02

export function fieldColumns(threats: readonly string[], season: number): Column<FieldRow>[] {
  const typed = columnsOf('field', { threats }).map((column) => typedColumn<FieldRow>(column))
  const after = (id: string, ...columns: Column<FieldRow>[]) => {
    typed.splice(typed.findIndex((column) => column.id === id) + 1, 0, ...columns)
  }
  after('acres', boundaryColumn)
  after('history', yearsOutColumn(season))
  typed.splice(-1, 0, lockedColumn)
  return typed
}

/** Said where the two differ: the planted acres are what counts. */
const boundaryColumn: Column<FieldRow> = {
  ...workedColumn<FieldRow>({
    id: 'boundaryAcres',
    label: 'Inside boundary',
    unit: 'acres',
    from: 'The area inside the boundary that was brought in. What is planted is counted with.',
    value: (row) => row.boundaryAcres ?? null,
    show: (acres) => showNumber(acres, 1),
    working({ acres, boundaryAcres }) {
      if (boundaryAcres === undefined) return 'no boundary was brought in'
      const less = boundaryAcres - acres
      const share = Math.abs(less) / boundaryAcres
      const says =
        share <= noted
          ? 'as good as the same'
          : `${showNumber(Math.abs(less), 1)} acres ${less > 0 ? 'less' : 'more'} planted than are inside`
      return `${showNumber(boundaryAcres, 2)} acres inside the boundary on the ellipsoid, ${showNumber(acres, 2)} planted: ${says}`
    },
  }),
  show({ acres, boundaryAcres }) {
    if (boundaryAcres === undefined) return ''
    const differs = Math.abs(boundaryAcres - acres) / boundaryAcres > noted
    return `${showNumber(boundaryAcres, 1)}${differs ? ' ≠' : ''}`
  },
}

function yearsOutColumn(season: number): Column<FieldRow> {
  return workedColumn<FieldRow>({
    id: 'yearsOut',
    label: 'Out of peanut',
    unit: 'seasons',
    from: 'Counted from the crop history.',
    value: (row) => row.yearsOut,
    show: String,
    working({ history, yearsOut }) {
      if (yearsOut === null) return 'not known until its crop history is typed'
      const last = Math.max(...history.filter(({ crop }) => isPeanut(crop)).map((entry) => entry.season))
      if (!Number.isFinite(last)) return `no peanut since ${season - yearsOut}, where the history begins`
      return `last peanut ${last}: ${season} − ${last} − 1 = ${yearsOut}`
    },
  })
}

const lockedColumn = computedColumn<FieldRow>({
  id: 'lockedTo',
  label: 'Locked to',
  from: 'Set on the plan.',
  show: (row) => row.lockedTo ?? '',
  sortBy: (row) => row.lockedTo,
})

export function fieldTotals(shown: readonly FieldRow[]): Record<string, string> {
  const inside = shown.reduce((sum, row) => sum + (row.boundaryAcres ?? 0), 0)
  return {
    name: `${shown.length} shown`,
    acres: showAcres(shown.reduce((sum, row) => sum + row.acres, 0)),
    ...(inside > 0 ? { boundaryAcres: showAcres(inside) } : {}),
  }
}
