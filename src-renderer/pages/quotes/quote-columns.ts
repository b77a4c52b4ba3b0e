/** The columns of the quotes table. The price of 1,000 seeds is the one that compares small seed with large. */
import type { QuoteRow } from '../../../src-shared/quote.ts'
import { showCents, showWhole } from '../../../src-shared/show.ts'
import type { Column } from '../../grid/columns.ts'
import {
  computedColumn,
  dayColumn,
  dollarsColumn,
  numberColumn,
  percentColumn,
  wordsColumn,
} from '../../grid/columns.ts'

/** Columns that are typed carry the noun's own names, so that a misspelt one does not compile. */
const id = (column: keyof QuoteRow) => column

export const quoteColumns: readonly Column<QuoteRow>[] = [
  computedColumn({
    id: 'quote',
    label: 'Dealer and variety',
    from: 'Who offers what. It is brought in with the season.',
    show: (row) => `${row.dealer} · ${row.variety}`,
    sortBy: (row) => `${row.dealer} ${row.variety}`,
  }),
  wordsColumn({ id: id('name'), label: 'Kind of offer', get: (row) => row.name }),
  numberColumn({ id: id('packPounds'), label: 'Pack', unit: 'lb', get: (row) => row.packPounds }),
  dollarsColumn({ id: id('packPriceCents'), label: 'Price', unit: '$ a pack', get: (row) => row.packPriceCents }),
  computedColumn({
    id: 'perThousand',
    label: '1,000 seeds',
    unit: '$',
    isFigure: true,
    from: 'Price ÷ (pounds in the pack × seeds per pound) × 1,000, before any price break.',
    show: (row) => showCents(row.centsPerThousandSeeds),
    sortBy: (row) => row.centsPerThousandSeeds,
  }),
  computedColumn({
    id: 'breaks',
    label: 'Price breaks',
    from: 'All packs get the price of the break that is reached. Breaks are brought in with the season.',
    show: (row) =>
      row.breaks.map((each) => `from ${showWhole(each.fromPacks)}: ${showCents(each.packPriceCents)}`).join('; '),
    sortBy: (row) => row.breaks[0]?.fromPacks ?? null,
  }),
  numberColumn({ id: id('availablePacks'), label: 'Available', unit: 'packs', get: (row) => row.availablePacks }),
  numberColumn({ id: id('leastPacks'), label: 'Least order', unit: 'packs', get: (row) => row.leastPacks }),
  dayColumn({ id: id('orderBy'), label: 'Order by', unit: 'as 2027-03-15', get: (row) => row.orderBy }),
  dayColumn({ id: id('returnBy'), label: 'Return by', unit: 'as 2027-06-20', get: (row) => row.returnBy }),
  percentColumn({ id: id('returnCredit'), label: 'Credit', unit: '% of price', get: (row) => row.returnCredit }),
  wordsColumn({ id: id('note'), label: 'Note', width: 24, get: (row) => row.note }),
]
