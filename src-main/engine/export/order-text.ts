/** Orders as plain text: for each dealer the lines, the breaks, what is added and taken off, the total. */
import { depositOf, nextTier, otherPacksOf, type OrderSums, type PlannedOrder } from '../../../src-shared/order.ts'
import { tierAt } from '../../../src-shared/price-break.ts'
import { showCents, showDay, showPercent, showWhole } from '../../../src-shared/show.ts'
import { cautions } from '../../../src-shared/threat.ts'
import { textTable } from './text-table.ts'

/** An order as a plan asks for it, added up. */
export interface AskedOrder extends PlannedOrder {
  depositShare: number | null
  sums: OrderSums
}

export function ordersText(orders: readonly AskedOrder[]): string {
  if (orders.length === 0) return 'Nothing to order: the seed on hand covers the plan.\n'
  const isTreated = orders.some(({ lines }) => lines.some(({ terms }) => terms.isTreated))
  return [...orders.map(orderText), ...(isTreated ? [`${cautions.treatedSeed}\n`] : [])].join('\n')
}

function orderText({ dealer, lines, terms, depositShare, sums }: AskedOrder): string {
  const rows = lines.map((line) => {
    const other = otherPacksOf(line, lines)
    const { fromPacks } = tierAt(line.terms, line.packs + other)
    const next = nextTier(line.terms, line.packs, other)
    return [
      line.quote.startsWith(`${dealer} · `) ? line.quote.slice(dealer.length + 3) : line.quote,
      showWhole(line.packs),
      showWhole(line.packPounds),
      showWhole(line.packs * line.packPounds),
      showCents(line.packPriceCents),
      showCents(line.packs * line.packPriceCents),
      line.terms.orderBy === undefined ? '' : showDay(line.terms.orderBy),
      [
        fromPacks > 0 ? `reached from ${showWhole(fromPacks)}` : '',
        next ? `${showWhole(next.morePacks)} more to ${showCents(next.packPriceCents)}` : '',
      ]
        .filter((words) => words !== '')
        .join(', '),
    ]
  })
  const more = [
    ...(sums.offCents > 0 ? [['Off for the weight of the whole order', `-${showCents(sums.offCents)}`]] : []),
    ...(sums.feeCents > 0 ? [['Order fee', showCents(sums.feeCents)]] : []),
    [`Total, ${showWhole(sums.packs)} packs, ${showWhole(sums.pounds)} lb`, showCents(sums.cents)],
    ...(depositShare === null
      ? []
      : [[`Deposit, ${showPercent(depositShare)}`, showCents(depositOf(depositShare, sums))]]),
  ]
  const width = Math.max(...more.map(([words = '']) => words.length))
  const notes = [
    ...(sums.next
      ? [
          `${showWhole(sums.next.morePounds)} lb more would take ${sums.next.offCentsPerPound} c/lb off the whole order.`,
        ]
      : []),
    ...(sums.poundsToLeast > 0
      ? [`${showWhole(sums.poundsToLeast)} lb short of the least order of ${showWhole(terms.leastPounds)} lb.`]
      : []),
  ]
  return [
    dealer,
    textTable(['Quote', 'Packs', 'lb/pack', 'Pounds', 'Price', 'Amount', 'Order by', 'Break'], rows, [1, 2, 3, 4, 5]),
    ...more.map(([words = '', money = '']) => `${words.padEnd(width)}  ${money.padStart(12)}`),
    ...notes,
    '',
  ].join('\n')
}
