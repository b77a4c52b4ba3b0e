/** The columns of the varieties table. One a threat is added from what the varieties are rated for. */
import type { VarietyRow } from '../../../src-shared/variety.ts'
import { vineClasses } from '../../../src-shared/variety.ts'
import type { Column } from '../../grid/columns.ts'
import { choiceColumn, computedColumn, numberColumn, percentColumn, wordsColumn } from '../../grid/columns.ts'

/** Columns that are typed carry the noun's own names, so that a misspelt one does not compile. */
const id = (column: keyof VarietyRow) => column

const typed: readonly Column<VarietyRow>[] = [
  wordsColumn({ id: id('name'), label: 'Variety', get: (row) => row.name }),
  choiceColumn({ id: id('oilType'), label: 'Oil', choices: ['high oleic', 'normal'], get: (row) => row.oilType }),
  numberColumn({ id: id('seedsPerPound'), label: 'Seed count', unit: 'seeds/lb', get: (row) => row.seedsPerPound }),
  percentColumn({ id: id('germination'), label: 'Germination', unit: '%', get: (row) => row.germination }),
  choiceColumn({ id: id('vine'), label: 'Vine', choices: vineClasses, get: (row) => row.vine }),
  numberColumn({ id: id('daysToMaturity'), label: 'Maturity', unit: 'days', get: (row) => row.daysToMaturity }),
  numberColumn({
    id: id('yieldIndex'),
    label: 'Yield',
    unit: 'usual = 1',
    decimals: 2,
    get: (row) => row.yieldIndex,
  }),
  numberColumn({
    id: id('gradeIndex'),
    label: 'Grade',
    unit: 'usual = 1',
    decimals: 2,
    get: (row) => row.gradeIndex,
  }),
]

const noteColumn = wordsColumn<VarietyRow>({ id: id('note'), label: 'Note', width: 30, get: (row) => row.note })

export function varietyColumns(varieties: readonly VarietyRow[]): Column<VarietyRow>[] {
  const threats = [...new Set(varieties.flatMap((variety) => Object.keys(variety.ratings)))].sort()
  return [...typed, ...threats.map(ratingColumn), noteColumn]
}

function ratingColumn(threat: string): Column<VarietyRow> {
  return computedColumn({
    id: `rating ${threat}`,
    label: threat.charAt(0).toUpperCase() + threat.slice(1),
    unit: '1 hardy, 9 prone',
    isFigure: true,
    from: 'Ratings are brought in with the season.',
    show: (row) => String(row.ratings[threat] ?? ''),
    sortBy: (row) => row.ratings[threat] ?? null,
  })
}
