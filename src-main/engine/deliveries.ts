/** All SQL about deliveries: loads as they came, and what a dealer says of the rest of a line. */
import type { Kysely } from 'kysely'
import type { GivenDelivery, Promised } from '../../src-shared/delivery.ts'
import { ProblemError } from '../../src-shared/problem.ts'
import { gone, inFuture } from '../../src-shared/record-problem.ts'
import type { Tables } from './db/tables.ts'

/** Loads of the season, newest first, with their dealer. */
export async function readDeliveries(db: Kysely<Tables>, seasonId: number) {
  return db
    .selectFrom('delivery')
    .innerJoin('dealer', 'dealer.id', 'delivery.dealerId')
    .where('delivery.seasonId', '=', seasonId)
    .select(['delivery.id', 'delivery.dealerId', 'dealer.name as dealer', 'delivery.arrivedOn', 'delivery.ticket'])
    .select(['delivery.scalePounds', 'delivery.note'])
    .orderBy('delivery.arrivedOn', 'desc')
    .orderBy('delivery.id', 'desc')
    .execute()
}

/** A new load, or with an id a change to one. In the caller's transaction. @returns its id */
export async function saveDelivery(
  db: Kysely<Tables>,
  seasonId: number,
  id: number | undefined,
  delivery: GivenDelivery,
  today: string,
): Promise<number> {
  if (delivery.arrivedOn > today)
    throw new ProblemError([inFuture('The delivery', delivery.arrivedOn, { table: 'delivery', column: 'arrivedOn' })])
  const dealer = await db
    .selectFrom('dealer')
    .where('id', '=', delivery.dealerId)
    .where('seasonId', '=', seasonId)
    .select('id')
    .executeTakeFirst()
  if (dealer === undefined) throw new ProblemError([gone('That dealer', { table: 'delivery' })])
  if (id === undefined) {
    const row = await db
      .insertInto('delivery')
      .values({ seasonId, ...delivery })
      .returning('id')
      .executeTakeFirstOrThrow()
    return row.id
  }
  const { numUpdatedRows } = await db
    .updateTable('delivery')
    .set(delivery)
    .where('id', '=', id)
    .where('seasonId', '=', seasonId)
    .executeTakeFirst()
  if (numUpdatedRows === 0n) throw new ProblemError([gone('That delivery', { table: 'delivery' })])
  // A load of another dealer after all: its lots are that dealer's too.
  await db.updateTable('lot').set({ dealerId: delivery.dealerId }).where('deliveryId', '=', id).execute()
  return id
}

/** Takes a load away that has no lots; with lots it stays, since they say where seed came from. */
export async function removeDelivery(db: Kysely<Tables>, seasonId: number, id: number): Promise<void> {
  const lots = await db.selectFrom('lot').where('deliveryId', '=', id).select('lotNumber').execute()
  if (lots.length > 0) {
    throw new ProblemError([
      {
        code: 'bad-value',
        what: `The delivery has ${lots.length === 1 ? 'a lot' : `${lots.length} lots`}: ${lots.map(({ lotNumber }) => lotNumber).join(', ')}.`,
        where: { table: 'delivery', id },
        remedy: 'Take its lots away first; one that was planted is kept for good.',
      },
    ])
  }
  const { numDeletedRows } = await db
    .deleteFrom('delivery')
    .where('id', '=', id)
    .where('seasonId', '=', seasonId)
    .executeTakeFirst()
  if (numDeletedRows === 0n) throw new ProblemError([gone('That delivery', { table: 'delivery' })])
}

/** What dealers say of the rest of lines, by line. */
export async function readPromises(db: Kysely<Tables>, seasonId: number): Promise<Map<number, Promised>> {
  const rows = await db
    .selectFrom('line_promise')
    .innerJoin('order_line', 'order_line.id', 'line_promise.orderLineId')
    .innerJoin('purchase_order', 'purchase_order.id', 'order_line.purchaseOrderId')
    .where('purchase_order.seasonId', '=', seasonId)
    .select(['line_promise.orderLineId', 'line_promise.says', 'line_promise.expectedOn', 'line_promise.note'])
    .execute()
  return new Map(rows.map(({ orderLineId, ...promise }) => [orderLineId, promise]))
}

/** Writes it down, or with null takes it away. */
export async function setPromise(
  db: Kysely<Tables>,
  seasonId: number,
  orderLineId: number,
  promise: Promised | null,
): Promise<void> {
  const line = await db
    .selectFrom('order_line')
    .innerJoin('purchase_order', 'purchase_order.id', 'order_line.purchaseOrderId')
    .where('purchase_order.seasonId', '=', seasonId)
    .where('order_line.id', '=', orderLineId)
    .select('order_line.id')
    .executeTakeFirst()
  if (line === undefined) throw new ProblemError([gone('That order line', { table: 'delivery' })])
  await db.deleteFrom('line_promise').where('orderLineId', '=', orderLineId).execute()
  if (promise !== null)
    await db
      .insertInto('line_promise')
      .values({ orderLineId, ...promise })
      .execute()
}
