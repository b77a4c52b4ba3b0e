/** All SQL about orders: the lines as they stand, marked as dealers answer, and what waits. */
import type { Kysely } from 'kysely'
import { byName } from '../../src-shared/name-order.ts'
import {
  isShort,
  type DealerTerms,
  type LineTerms,
  type Mark,
  type OrderLine,
  type OrderSheet,
  type OrdersWaiting,
  type PlannedLine,
  type PlannedOrder,
} from '../../src-shared/order.ts'
import { tierAt } from '../../src-shared/price-break.ts'
import { ProblemError, type Problem } from '../../src-shared/problem.ts'
import { showWhole } from '../../src-shared/show.ts'
import { idsByName } from './db/names.ts'
import type { Tables } from './db/tables.ts'

/** Every order with its lines: dealers by name, lines as they were made. */
export async function readOrders(db: Kysely<Tables>, seasonId: number): Promise<OrderSheet[]> {
  const orders = await db
    .selectFrom('purchase_order')
    .innerJoin('dealer', 'dealer.id', 'purchase_order.dealerId')
    .where('purchase_order.seasonId', '=', seasonId)
    .select(['purchase_order.id', 'dealer.name as dealer', 'purchase_order.number', 'purchase_order.note'])
    .select(['purchase_order.madeOn', 'purchase_order.planId', 'purchase_order.terms', 'dealer.depositShare'])
    .orderBy('purchase_order.id')
    .execute()
  const lines = await linesOf(db, seasonId).orderBy('order_line.id').execute()
  const linesByOrder = Map.groupBy(lines, (line) => line.purchaseOrderId)
  return orders.sort(byName(({ dealer }) => dealer)).map(({ terms, ...order }) => ({
    ...order,
    terms: JSON.parse(terms) as DealerTerms,
    lines: (linesByOrder.get(order.id) ?? []).map(({ purchaseOrderId: _, terms: lineTerms, ...line }): OrderLine => ({
      ...line,
      terms: JSON.parse(lineTerms) as LineTerms,
    })),
  }))
}

function linesOf(db: Kysely<Tables>, seasonId: number) {
  return db
    .selectFrom('order_line')
    .innerJoin('purchase_order', 'purchase_order.id', 'order_line.purchaseOrderId')
    .innerJoin('variety', 'variety.id', 'order_line.varietyId')
    .where('purchase_order.seasonId', '=', seasonId)
    .selectAll('order_line')
    .select('variety.name as variety')
    .$narrowType<{ varietyId: never }>()
}

/** An order to be written: where a line has no `quoteId`, its quote is gone. */
export interface NewOrder extends Omit<PlannedOrder, 'lines'> {
  lines: (PlannedLine & { quoteId: number | null })[]
}

/**
 * Writes a plan's orders in place of the lines still to order. Lines sent or answered stay; a dealer without any line
 * left has no order. In the caller's transaction.
 */
export async function writeOrders(
  db: Kysely<Tables>,
  seasonId: number,
  { planId, madeOn, orders }: { planId: number; madeOn: string; orders: readonly NewOrder[] },
): Promise<void> {
  const [dealers, varieties] = [await idsByName(db, 'dealer', seasonId), await idsByName(db, 'variety', seasonId)]
  const before = await readOrders(db, seasonId)
  for (const { id, lines } of before) {
    const open = lines.filter(({ state }) => state === 'to order').map((line) => line.id)
    if (open.length > 0) await db.deleteFrom('order_line').where('id', 'in', open).execute()
    await db.updateTable('purchase_order').set({ planId, madeOn }).where('id', '=', id).execute()
  }
  for (const { dealer, terms, lines } of orders) {
    if (lines.length === 0) continue
    const dealerId = dealers.get(dealer)
    if (dealerId === undefined) throw new ProblemError([gone('dealer', dealer)])
    const there = before.find((order) => order.dealer === dealer)?.id
    const purchaseOrderId =
      there ??
      (
        await db
          .insertInto('purchase_order')
          .values({ seasonId, dealerId, planId, madeOn, terms: JSON.stringify(terms) })
          .returning('id')
          .executeTakeFirstOrThrow()
      ).id
    if (there !== undefined) {
      const text = JSON.stringify(terms)
      await db.updateTable('purchase_order').set({ terms: text }).where('id', '=', there).execute()
    }
    for (const { variety, terms: lineTerms, ...line } of lines) {
      const varietyId = varieties.get(variety)
      if (varietyId === undefined) throw new ProblemError([gone('variety', variety)])
      await db
        .insertInto('order_line')
        .values({ purchaseOrderId, varietyId, ...line, terms: JSON.stringify(lineTerms) })
        .execute()
    }
  }
  await removeEmpty(db, seasonId)
}

async function removeEmpty(db: Kysely<Tables>, seasonId: number): Promise<void> {
  await db
    .deleteFrom('purchase_order')
    .where('seasonId', '=', seasonId)
    .where('id', 'not in', db.selectFrom('order_line').select('purchaseOrderId'))
    .execute()
}

/** Says the same of each of the lines. In the caller's transaction. */
export async function markLines(
  db: Kysely<Tables>,
  seasonId: number,
  lineIds: readonly number[],
  mark: Mark,
): Promise<void> {
  const lines = (await readOrders(db, seasonId)).flatMap((order) => order.lines)
  for (const id of lineIds) {
    const line = lines.find((each) => each.id === id)
    if (line === undefined) throw new ProblemError([lineGone(id)])
    await mustNotHaveCome(db, line, mark)
    await db.updateTable('order_line').set(marked(line, mark)).where('id', '=', id).execute()
  }
}

/** Seed that is in the shed was sold: a line that it came for is neither refused nor yet to be ordered. */
async function mustNotHaveCome(db: Kysely<Tables>, line: OrderLine, mark: Mark): Promise<void> {
  const isRefused = mark.state === 'refused' || (mark.state === 'changed' && mark.packs === 0)
  if (!isRefused && mark.state !== 'to order') return
  const { pounds } = await db
    .selectFrom('lot')
    .where('orderLineId', '=', line.id)
    .where('state', '!=', 'refused')
    .select(({ fn, lit }) => fn.coalesce(fn.sum<number>('pounds'), lit(0)).as('pounds'))
    .executeTakeFirstOrThrow()
  if (pounds === 0) return
  throw new ProblemError([
    {
      code: 'bad-value',
      what: `${showWhole(pounds)} lb of ${line.variety} came for this line already.`,
      where: { table: 'order', id: line.id },
      remedy: 'Turn its lots away on the page Deliveries first, or take them away there.',
    },
  ])
}

/** What a line becomes. A change to what was asked is a confirmation, a change to no packs a refusal. */
export function marked(line: OrderLine, mark: Mark) {
  const blank = { confirmedPacks: null, confirmedPriceCents: null, answeredOn: null, note: null }
  if (mark.state === 'to order') return { ...blank, state: mark.state, sentOn: null }
  if (mark.state === 'ordered') return { ...blank, state: mark.state, sentOn: mark.on }
  const answer = { sentOn: line.sentOn ?? mark.on, answeredOn: mark.on }
  const asked = { confirmedPacks: line.packs, confirmedPriceCents: line.packPriceCents }
  if (mark.state === 'confirmed') return { ...answer, ...asked, state: mark.state, note: null }
  const words = mark.note?.trim() || null
  if (mark.state === 'refused' || mark.packs === 0) {
    const none = { confirmedPacks: 0, confirmedPriceCents: line.packPriceCents }
    return { ...answer, ...none, state: 'refused' as const, note: words }
  }
  const { packs, packPriceCents = tierAt(line.terms, packs).packPriceCents } = mark
  const isAsAsked = packs === line.packs && packPriceCents === line.packPriceCents
  const state = isAsAsked ? ('confirmed' as const) : ('changed' as const)
  return { ...answer, state, confirmedPacks: packs, confirmedPriceCents: packPriceCents, note: words }
}

/** The dealer's number and the manager's words on an order. */
export async function setOrderNote(
  db: Kysely<Tables>,
  seasonId: number,
  id: number,
  words: { number: string | null; note: string | null },
): Promise<void> {
  const { numUpdatedRows } = await db
    .updateTable('purchase_order')
    .set(words)
    .where('id', '=', id)
    .where('seasonId', '=', seasonId)
    .executeTakeFirst()
  if (numUpdatedRows === 0n) throw new ProblemError([orderGone(id)])
}

/** Takes an order away with its lines; what was sent is the dealer's to know. */
export async function dropOrder(db: Kysely<Tables>, seasonId: number, id: number): Promise<void> {
  const { numDeletedRows } = await db
    .deleteFrom('purchase_order')
    .where('id', '=', id)
    .where('seasonId', '=', seasonId)
    .executeTakeFirst()
  if (numDeletedRows === 0n) throw new ProblemError([orderGone(id)])
}

/** @param planId of the plan in hand; null where there is none */
export async function ordersWaiting(
  db: Kysely<Tables>,
  seasonId: number,
  planId: number | null,
): Promise<OrdersWaiting> {
  const lines = await db
    .selectFrom('order_line')
    .innerJoin('purchase_order', 'purchase_order.id', 'order_line.purchaseOrderId')
    .where('purchase_order.seasonId', '=', seasonId)
    .select(['order_line.state', 'order_line.packs', 'order_line.confirmedPacks', 'purchase_order.planId'])
    .select(({ fn, val, ref }) =>
      fn<string | null>('json_extract', [ref('order_line.terms'), val('$.orderBy')]).as('orderBy'),
    )
    .execute()
  const open = lines.filter(({ state }) => state === 'to order')
  const days = open.flatMap(({ orderBy }) => (orderBy === null ? [] : [orderBy])).sort()
  return {
    lines: lines.length,
    toOrder: open.length,
    unanswered: lines.filter(({ state }) => state === 'ordered').length,
    short: lines.filter(isShort).length,
    nextOrderBy: days[0] ?? null,
    isOfOlderPlan: planId !== null && lines.some((line) => line.planId !== planId),
  }
}

function gone(kind: 'dealer' | 'variety', name: string): Problem {
  return {
    code: 'unknown-name',
    what: `The ${kind} ${name} is not there any more under that name.`,
    where: { table: kind, name },
    remedy: 'Work out the plan again, then make the orders from it.',
  }
}

function lineGone(id: number): Problem {
  return {
    code: 'unknown-name',
    what: 'That order line is not there any more.',
    where: { table: 'order', id },
    remedy: 'Look at the orders again; they may have been made anew or taken back.',
  }
}

function orderGone(id: number): Problem {
  return { ...lineGone(id), what: 'That order is not there any more.' }
}
