/** Why seed cost what it did, as a table: planned, each step, paid, a row a variety. */
import { walkSteps, type SeedWalk } from '../../../src-shared/review/seed-walk.ts'
import { stepNames } from '../../../src-shared/review/words.ts'
import { showChange, showDollarChange, showDollars } from '../../../src-shared/show.ts'
import type { FigureCell, FigureRow } from './figure-cells.ts'
import type { Shown } from './tables.ts'

/** Less than half a dollar to the cent: a step that is there is not shown as none. */
const change = (cents: number) => showDollarChange(cents) || showChange(cents) || '0'

/** Planned, each step, paid: a row a variety. */
export function seedTable(walk: SeedWalk): Shown {
  const steps = walkSteps.filter((step) => walk.steps[step] !== 0 || !['fees', 'other bills'].includes(step))
  const line = (
    variety: string | null,
    planned: number,
    at: (step: (typeof walkSteps)[number]) => number,
    paid: number,
  ) => [
    { text: showDollars(planned), figure: { of: 'seed', variety, step: 'planned' } as const },
    ...steps.map((step): FigureCell => {
      if (variety !== null && (step === 'fees' || step === 'other bills')) return { text: '' }
      return { text: change(at(step)), figure: { of: 'seed', variety, step } }
    }),
    { text: showDollars(paid), figure: { of: 'seed', variety, step: 'paid' } as const },
  ]
  return {
    columns: [
      { label: 'Planned' },
      ...steps.map((step) => ({ label: stepNames[step].charAt(0).toUpperCase() + stepNames[step].slice(1) })),
      { label: 'Paid' },
    ],
    rows: [
      ...walk.varieties.map((each) => ({
        key: each.variety,
        label: each.variety,
        note: each.of.planned === undefined ? 'not in the plan' : undefined,
        cells: line(
          each.variety,
          each.plannedCents,
          (step) => (step === 'fees' || step === 'other bills' ? 0 : each.parts[step]),
          each.actualCents,
        ),
      })),
      feesRow(walk, steps),
      {
        key: 'all',
        label: 'All',
        isTotal: true,
        cells: line(null, walk.plannedCents, (step) => walk.steps[step], walk.paidCents),
      },
    ],
  }
}

/** What belongs to no variety, so that every column adds up to its foot. */
function feesRow(walk: SeedWalk, steps: readonly (typeof walkSteps)[number][]): FigureRow {
  const rest = (all: number, of: (variety: SeedWalk['varieties'][number]) => number) =>
    all - walk.varieties.reduce((sum, variety) => sum + of(variety), 0)
  const planned = rest(walk.plannedCents, ({ plannedCents }) => plannedCents)
  const paid = rest(walk.paidCents, ({ actualCents }) => actualCents)
  return {
    key: ' fees',
    label: 'Order fees and bills of no lot',
    cells: [
      { text: showDollars(planned) },
      ...steps.map((step): FigureCell => {
        if (step !== 'fees' && step !== 'other bills') return { text: '' }
        return { text: change(walk.steps[step]), figure: { of: 'seed', variety: null, step } }
      }),
      { text: showDollars(paid) },
    ],
  }
}
