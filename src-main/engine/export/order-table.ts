/** An order as rows of a table: each line as asked and as it stands, then what is added and taken off, then the total. */
import { depositOf, sumsOf, type OrderLine, type PlannedLine, type PlannedOrder } from '../../../src-shared/order.ts'
import { tierAt } from '../../../src-shared/price-break.ts'
import { writeCsv, type TableCell } from './write-csv.ts'

/** An order as kept, or as a plan asks for it: then nothing was answered yet. */
interface Shown extends Omit<PlannedOrder, 'lines'> {
  lines: readonly (PlannedLine & Partial<OrderLine>)[]
  depositShare: number | null
}

export const orderHeaders: readonly string[] = [
  'Dealer',
  'Quote',
  'Variety',
  'Treated',
  'Pack (lb)',
  'Packs asked',
  'Price asked ($ a pack)',
  'Break from (packs)',
  'State',
  'Packs',
  'Pounds',
  'Price ($ a pack)',
  'Amount ($)',
  'Order by',
  'Sent',
  'Answered',
  'Seeds per pound',
  'Germination (%)',
  'Note',
]

const dollars = (cents: number) => cents / 100

/** All orders in one table, as CSV. */
export function orderCsv(orders: readonly Shown[]): Buffer {
  return writeCsv(orderHeaders, orders.flatMap(orderRows))
}

export function orderRows(order: Shown): TableCell[][] {
  const { dealer } = order
  const sums = sumsOf(order)
  const blank = (count: number): TableCell[] => Array.from({ length: count }, () => null)
  const money = (words: string, cents: number): TableCell[] => [
    dealer,
    words,
    ...blank(10),
    dollars(cents),
    ...blank(6),
  ]
  const lines = order.lines.map((line): TableCell[] => {
    const packs = line.confirmedPacks ?? line.packs
    const packPriceCents = line.confirmedPriceCents ?? line.packPriceCents
    const { terms } = line
    return [
      dealer,
      line.quote,
      line.variety,
      terms.isTreated ? 'yes' : 'no',
      line.packPounds,
      line.packs,
      dollars(line.packPriceCents),
      tierAt(terms, line.packs).fromPacks || null,
      line.state ?? 'to order',
      packs,
      packs * line.packPounds,
      dollars(packPriceCents),
      dollars(packs * packPriceCents),
      terms.orderBy ?? null,
      line.sentOn ?? null,
      line.answeredOn ?? null,
      terms.seedsPerPound,
      Number((terms.germination * 100).toPrecision(12)),
      line.note ?? null,
    ]
  })
  return [
    ...lines,
    ...(sums.offCents > 0 ? [money('Off for the weight of the whole order', -sums.offCents)] : []),
    ...(sums.feeCents > 0 ? [money('Order fee', sums.feeCents)] : []),
    [dealer, 'Total', ...blank(7), sums.packs, sums.pounds, null, dollars(sums.cents), ...blank(6)],
    ...(order.depositShare === null ? [] : [money('Deposit', depositOf(order.depositShare, sums))]),
  ]
}
