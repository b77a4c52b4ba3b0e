/** Orders of the open farm: made from the plan in hand, held against it, and planned around when dealers refuse. */
import type { Kysely } from 'kysely'
import type { Input } from '../../src-shared/api.ts'
import { replanName, standing, type OrdersNow, type OrderSheet, type PlanName } from '../../src-shared/order.ts'
import { ordersOfPlan } from '../../src-shared/orders-of-plan.ts'
import { shortagesOf } from '../../src-shared/order-shortage.ts'
import { ProblemError, type Problem } from '../../src-shared/problem.ts'
import { quoteTitle } from '../../src-shared/quote.ts'
import type { Season } from '../../src-shared/season.ts'
import type { WrittenFile } from '../../src-shared/sheet/bring-in.ts'
import { showCents, showWhole } from '../../src-shared/show.ts'
import type { WhatIf } from '../../src-shared/what-if.ts'
import type { Tables } from './db/tables.ts'
import { listDrafts, saveDraft } from './drafts.ts'
import { orderHeaders, orderRows } from './export/order-table.ts'
import { tableFile } from './export/written-file.ts'
import type { OpenFarm } from './farm-file.ts'
import { answeredSeason, onOrder, type OnOrder } from './ordered-seed.ts'
import { readOrders, writeOrders, type NewOrder } from './orders.ts'
import { gather } from './plan/gather.ts'
import { planById, planInHand, quoteIdsOf, type FoundPlan, type StoredPlan } from './plans.ts'
import { listQuotes } from './quotes.ts'

/** The season as it stands, with what the dealers answered; and what is on order in it. */
export async function seasonAtHand(
  db: Kysely<Tables>,
  seasonId: number,
): Promise<{ season: Season; ordered: OnOrder[] }> {
  const ordered = onOrder(await readOrders(db, seasonId), await titlesOf(db, seasonId))
  return { season: answeredSeason(await gather(db, seasonId), ordered), ordered }
}

async function titlesOf(db: Kysely<Tables>, seasonId: number): Promise<Map<number, string>> {
  return new Map((await listQuotes(db, seasonId)).map((quote) => [quote.id, quoteTitle(quote)]))
}

/** Writes one order for each dealer from the plan in hand; lines sent or answered stay. In the caller's transaction. */
export async function makeOrders(farm: OpenFarm, today: string): Promise<{ orders: number; lines: number }> {
  const stored = await planInHand(farm.db, farm.seasonId)
  if (stored === null) throw new ProblemError([noPlan])
  const { db, seasonId } = farm
  const orders = await wantedOf(farm, stored, await readOrders(db, seasonId))
  await writeOrders(db, seasonId, { planId: stored.id, madeOn: today, orders })
  const lines = orders.reduce((sum, order) => sum + order.lines.length, 0)
  return { orders: orders.filter((order) => order.lines.length > 0).length, lines }
}

/** What a quote is told by: its row while it is there. */
const keyOf = (quoteId: number | null, title: string) => (quoteId === null ? title : String(quoteId))

/** Lines that a plan asks for beyond those sent or answered. */
async function wantedOf({ db }: OpenFarm, stored: FoundPlan, before: readonly OrderSheet[]): Promise<NewOrder[]> {
  const ids = await quoteIdsOf(db, stored)
  const fixed = new Map<string, number>()
  for (const line of before.flatMap((order) => order.lines)) {
    if (line.state === 'to order') continue
    const key = keyOf(line.quoteId, line.quote)
    fixed.set(key, (fixed.get(key) ?? 0) + standing(line).packs)
  }
  // What the plan knew to be on order is among what is fixed now.
  for (const { quote, onOrderOf, packs } of stored.plan.purchases) {
    if (onOrderOf === undefined) continue
    const key = keyOf(ids.get(quote) ?? null, onOrderOf)
    fixed.set(key, Math.max(0, (fixed.get(key) ?? 0) - packs))
  }
  return ordersOfPlan(stored.plan, stored.input).map((order) => ({
    ...order,
    lines: order.lines.flatMap((line) => {
      const quoteId = ids.get(line.quote) ?? null
      const key = keyOf(quoteId, line.quote)
      const there = Math.min(line.packs, fixed.get(key) ?? 0)
      fixed.set(key, (fixed.get(key) ?? 0) - there)
      return line.packs > there ? [{ ...line, quoteId, packs: line.packs - there }] : []
    }),
  }))
}

/** Every order with the plan it came from, how the plan in hand differs, and what the dealers' answers leave short. */
export async function ordersNow(farm: OpenFarm): Promise<OrdersNow> {
  const { db, seasonId } = farm
  const orders = await readOrders(db, seasonId)
  const stored = await planInHand(farm.db, farm.seasonId)
  const madeFromId = orders[0]?.planId ?? null
  const source =
    madeFromId === null ? null : madeFromId === stored?.id ? stored : await planById(db, seasonId, madeFromId)
  const isSame = stored === null || madeFromId === stored.id
  return {
    orders,
    madeFrom: source === null ? null : await planName(db, source),
    inHand: stored === null ? null : await planName(db, stored),
    differences: orders.length === 0 || isSame ? [] : differencesOf(orders, await wantedOf(farm, stored, orders)),
    shortages: source?.plan ? shortagesOf(source.plan, orders) : [],
  }
}

async function planName(db: Kysely<Tables>, { id, madeAt }: StoredPlan): Promise<PlanName> {
  const row = await db.selectFrom('plan').where('id', '=', id).select('fromDraft').executeTakeFirst()
  return { id, madeAt, draft: row?.fromDraft ?? null }
}

/** What would become of the lines still to order if the orders were made again. */
function differencesOf(orders: readonly OrderSheet[], wanted: readonly NewOrder[]): string[] {
  const open = orders.flatMap(({ lines }) => lines.filter(({ state }) => state === 'to order'))
  const asked = wanted.flatMap(({ lines }) => lines)
  const key = (line: { quoteId: number | null; quote: string }) => keyOf(line.quoteId, line.quote)
  const was = new Map(open.map((line) => [key(line), line]))
  const is = new Map(asked.map((line) => [key(line), line]))
  return [...new Set([...was.keys(), ...is.keys()])].flatMap((each) => {
    const [old, now] = [was.get(each), is.get(each)]
    if (old === undefined)
      return now === undefined ? [] : [`${now.quote}: ${showWhole(now.packs)} packs more to order.`]
    if (now === undefined)
      return [`${old.quote}: the plan asks for none of the ${showWhole(old.packs)} packs to order.`]
    if (old.packs !== now.packs)
      return [`${old.quote}: ${showWhole(old.packs)} packs to order, the plan asks for ${showWhole(now.packs)}.`]
    if (old.packPriceCents !== now.packPriceCents)
      return [`${old.quote}: ${showCents(old.packPriceCents)} a pack, the plan has ${showCents(now.packPriceCents)}.`]
    return []
  })
}

/**
 * A draft in which dealers deliver what they agreed to and no more. What else the draft says is kept.
 * In the caller's transaction. @returns its id
 */
export async function draftReplan({ db, seasonId }: OpenFarm): Promise<number> {
  const titles = await titlesOf(db, seasonId)
  const ordered = onOrder(await readOrders(db, seasonId), titles)
  const there = new Set(titles.values())
  const cut = new Set(ordered.filter(({ isCut, quote }) => isCut && there.has(quote)).map(({ quote }) => quote))
  if (cut.size === 0) throw new ProblemError([nothingRefused])
  const whatIfs = [...cut].sort().map((title): WhatIf => {
    const packs = ordered.reduce((sum, { quote, packs: own }) => (quote === title ? sum + own : sum), 0)
    return { kind: 'packs', quote: title, availablePacks: packs }
  })
  const draft = (await listDrafts(db, seasonId)).find(({ name }) => name === replanName)
  const settings = draft?.settings ?? { rulesOff: [], whatIfs: [] }
  const kept = settings.whatIfs.filter((whatIf) => whatIf.kind !== 'packs' || !cut.has(whatIf.quote))
  return saveDraft(db, seasonId, draft?.id, replanName, { ...settings, whatIfs: [...kept, ...whatIfs] })
}

/** One dealer's order, or all, as a table. */
export async function orderFile({ db, seasonId }: OpenFarm, { id, as }: Input<'orders.file'>): Promise<WrittenFile> {
  const orders = (await readOrders(db, seasonId)).filter((order) => id === null || order.id === id)
  const [first] = orders
  if (first === undefined) throw new ProblemError([noOrders])
  const title = id === null ? 'Orders' : `Order ${first.dealer}`
  const rows = orders.flatMap((order) => orderRows(order))
  return tableFile(title, as, orderHeaders, rows)
}

const noPlan: Problem = {
  code: 'missing',
  what: 'There is no plan to make orders from.',
  remedy: 'Work out the plan first.',
}

const noOrders: Problem = {
  code: 'missing',
  what: 'There are no orders yet.',
  remedy: 'Make the orders from the plan first.',
}

const nothingRefused: Problem = {
  code: 'missing',
  what: 'No dealer has refused or cut a line whose quote is still there.',
  remedy: 'Mark the line that cannot be had first.',
}
