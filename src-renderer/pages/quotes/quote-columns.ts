/** The columns of the quotes table: those of the sheet, the prices that can be compared, and the days that are left. */
import type { QuoteRow } from '../../../src-shared/quote.ts'
import { columnsOf, type Names } from '../../../src-shared/sheet/columns.ts'
import type { HouseDrop } from '../../../src-shared/sheet/house-drop.ts'
import { showCents, showDay, showNumber, showWhole } from '../../../src-shared/show.ts'
import { typedColumn, workedColumn, type Column } from '../../grid/columns.ts'

const day = 86_400_000

/** Whole days from a day of the calendar here to an ISO day; below zero once it is past. */
export function daysLeft(isoDay: string, today: Date): number {
  const start = Date.UTC(today.getFullYear(), today.getMonth(), today.getDate())
  return (Date.parse(`${isoDay}T00:00:00Z`) - start) / day
}

export function quoteColumns(names: Omit<Names, 'threats'>, drop: HouseDrop, today: Date): Column<QuoteRow>[] {
  const typed = columnsOf('quote', { threats: [], ...names }).map((column) => typedColumn<QuoteRow>(column))
  const perPound = ({ packPriceCents, packPounds }: QuoteRow) => packPriceCents / packPounds
  const perAcre = ({ centsPerThousandSeeds }: QuoteRow) => (centsPerThousandSeeds * drop.seedsPerAcre) / 1000
  const seedsPerPound = (row: QuoteRow) => (perPound(row) / row.centsPerThousandSeeds) * 1000
  const money = (cents: number) => cents / 100
  const show = (dollars: number) => showCents(dollars * 100)
  const worked: Column<QuoteRow>[] = [
    workedColumn({
      id: 'perPound',
      label: 'A pound',
      unit: '$',
      from: 'Price ÷ pounds in the pack, before any price break.',
      value: (row) => money(perPound(row)),
      show: (value) => `$${showNumber(value, 3)}`,
      working: (row) =>
        `${showCents(row.packPriceCents)} ÷ ${row.packPounds} lb = $${showNumber(money(perPound(row)), 4)} a pound`,
    }),
    workedColumn({
      id: 'perThousand',
      label: '1,000 seeds',
      unit: '$',
      from: 'Price ÷ (pounds in the pack × seeds per pound) × 1,000, before any price break.',
      value: (row) => money(row.centsPerThousandSeeds),
      show,
      working: (row) =>
        `${showCents(row.packPriceCents)} ÷ (${row.packPounds} lb × ${showWhole(seedsPerPound(row))} seeds/lb) × 1,000 = ${showCents(row.centsPerThousandSeeds)}`,
    }),
    workedColumn({
      id: 'perAcre',
      label: 'An acre',
      unit: '$ at the house drop',
      from: 'At the house drop on the rows that most acres have, before any price break.',
      value: (row) => money(perAcre(row)),
      show,
      working: (row) =>
        `${showWhole(drop.seedsPerAcre)} seeds/acre at ${drop.seedsPerFoot} seeds/ft, ${drop.rowSpacingIn} in × ${showCents(row.centsPerThousandSeeds)} a thousand = ${showCents(perAcre(row))} an acre`,
    }),
  ]
  const left = workedColumn<QuoteRow>({
    id: 'daysLeft',
    label: 'Days left',
    unit: 'to order',
    from: 'From today to the day it must be ordered by.',
    value: ({ orderBy }) => (orderBy === undefined ? null : daysLeft(orderBy, today)),
    show: (days) => (days < 0 ? 'past' : days === 0 ? 'today' : showWhole(days)),
    working({ orderBy }) {
      if (orderBy === undefined) return 'no day to order by'
      const days = daysLeft(orderBy, today)
      return days < 0
        ? `${showDay(orderBy)} was ${showWhole(-days)} days ago`
        : `${showWhole(days)} days until ${showDay(orderBy)}`
    },
  })
  typed.splice(typed.findIndex((column) => column.id === 'packPriceCents') + 1, 0, ...worked)
  typed.splice(typed.findIndex((column) => column.id === 'orderBy') + 1, 0, left)
  return typed
}
