/** The columns of the varieties table: those of the sheet, then seed an acre and the cheapest quote for it. */
import type { QuoteRow } from '../../../src-shared/quote.ts'
import { quoteTitle } from '../../../src-shared/quote.ts'
import { columnsOf } from '../../../src-shared/sheet/columns.ts'
import type { HouseDrop } from '../../../src-shared/sheet/house-drop.ts'
import { showCents, showNumber, showWhole } from '../../../src-shared/show.ts'
import type { VarietyRow } from '../../../src-shared/variety.ts'
import { typedColumn, workedColumn, type Column } from '../../grid/columns.ts'

export function varietyColumns(
  threats: readonly string[],
  drop: HouseDrop,
  quotes: readonly QuoteRow[],
): Column<VarietyRow>[] {
  const typed = columnsOf('variety', { threats }).map((column) => typedColumn<VarietyRow>(column))
  const pounds = ({ seedsPerPound }: VarietyRow) => drop.seedsPerAcre / seedsPerPound
  const rows = `${drop.seedsPerFoot} seeds/ft in ${drop.rowPattern} rows ${drop.rowSpacingIn} in apart`
  const cheapest = ({ name }: VarietyRow) => {
    const own = quotes.filter((quote) => quote.variety === name)
    return own.toSorted((one, other) => one.centsPerThousandSeeds - other.centsPerThousandSeeds)[0]
  }
  const seed = workedColumn<VarietyRow>({
    id: 'poundsPerAcre',
    label: 'Seed at the house drop',
    unit: 'lb/acre',
    from: 'The house drop on the rows that most acres have.',
    value: pounds,
    show: (value) => showNumber(value, 1),
    working: (row) =>
      `${rows} = ${showWhole(drop.seedsPerAcre)} seeds/acre ÷ ${row.seedsPerPound} seeds/lb = ${showNumber(pounds(row), 1)} lb/acre`,
  })
  const cost = workedColumn<VarietyRow>({
    id: 'centsPerAcre',
    label: 'Cheapest seed',
    unit: '$/acre',
    from: 'The cheapest quote before any price break, at the house drop.',
    value(row) {
      const quote = cheapest(row)
      return quote ? (quote.centsPerThousandSeeds * drop.seedsPerAcre) / 100_000 : null
    },
    show: (value) => showCents(value * 100),
    working(row) {
      const quote = cheapest(row)
      if (!quote) return 'nobody quotes it'
      const perPound = quote.packPriceCents / quote.packPounds
      return `${quoteTitle(quote)}: ${showNumber(pounds(row), 1)} lb/acre × ${showCents(perPound)} a pound = ${showCents(pounds(row) * perPound)} an acre, before any price break`
    },
  })
  typed.splice(typed.findIndex((column) => column.id === 'gradeIndex') + 1, 0, seed, cost)
  return typed
}
