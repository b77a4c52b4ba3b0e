/** The columns of the loads table: those of the sheet, then net weight, what the load is worth and what to look at again. */
import { loadWorking, type LoadTerms } from '../../../src-shared/agronomy/load-worth.ts'
import type { LoadRow } from '../../../src-shared/load.ts'
import { columnsOf, type Names } from '../../../src-shared/sheet/columns.ts'
import { showCents, showWhole } from '../../../src-shared/show.ts'
import { computedColumn, typedColumn, workedColumn, type Column } from '../../grid/columns.ts'

export function loadColumns(names: Names, terms: LoadTerms): Column<LoadRow>[] {
  const typed = columnsOf('load', names).map((column) => typedColumn<LoadRow>(column))
  const worked: Column<LoadRow>[] = [
    workedColumn({
      id: 'netPounds',
      label: 'Net',
      unit: 'lb',
      from: 'Gross less tare, foreign material, loose kernels and water above what is free.',
      value: ({ net }) => net.netPounds,
      show: showWhole,
      working: (row) =>
        loadWorking(row, terms)
          .filter(({ label }) => label !== 'Value')
          .map(({ working }) => working)
          .join(' · '),
    }),
    workedColumn({
      id: 'value',
      label: 'Value',
      unit: '$',
      from: 'What was paid, else the price a ton, else the loan schedule.',
      value: ({ valueCents }) => (valueCents === null ? null : valueCents / 100),
      show: (dollars) => showCents(dollars * 100),
      working: (row) => loadWorking(row, terms).at(-1)?.working ?? '',
    }),
  ]
  const heed = computedColumn<LoadRow>({
    id: 'heed',
    label: 'Look at',
    width: 22,
    from: 'What does not fit what was planted, or what a value still needs.',
    show: heedOf,
    sortBy: (row) => heedOf(row) || null,
  })
  typed.splice(typed.findIndex(({ id }) => id === 'hauledOn') + 1, 0, ...worked)
  typed.splice(
    typed.findIndex(({ id }) => id === 'note'),
    0,
    heed,
  )
  return typed
}

export function heedOf({ heed, lacks }: LoadRow): string {
  return [heed, lacks === undefined ? undefined : `Its value needs ${lacks}.`].filter(Boolean).join(' ')
}
