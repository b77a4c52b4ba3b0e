/** A small farm whose quotes compete, planned and ordered: what the tests of orders start from. */
import { join } from 'node:path'
import { onTestFinished } from 'vitest'
import { createFarm } from '../../src-main/engine/farm-file.ts'
import { sumsOf, type OrdersNow } from '../../src-shared/order.ts'
import type { Season } from '../../src-shared/season.ts'
import { startTestEngine, type TestEngine } from './engine.ts'
import { dumpOf, smallSeason } from './open-file.ts'

export const today = '2027-01-20'
export const quick = { gap: 0, seconds: 20 }

/** The small farm without a lock and with every rule that could be in the way off. */
export function freeSeason(change: (season: Season) => Season = (same) => same): Season {
  return change({ ...smallSeason(), rules: [{ rule: 'reserve', amount: 0.03, isOn: true }], locks: [], exclusions: [] })
}

export function farmOf(own: Season = freeSeason()): TestEngine {
  const host = startTestEngine()
  onTestFinished(() => host.close())
  const made = createFarm(join(host.engine.home, 'Small.farm'), own)
  if (!made.ok) throw new Error(JSON.stringify(made.problems))
  host.engine.farm = made.value
  return host
}

/** A farm with its plan and its orders made. */
export async function orderedFarm(own: Season = freeSeason()) {
  const host = farmOf(own)
  const plan = await host.must('plan.solve', quick)
  await host.must('orders.make', { today })
  return { ...host, plan, dump: () => dumpOf(host.engine.farm!.connection) }
}

export const linesOf = (now: OrdersNow) => now.orders.flatMap((order) => order.lines)
export const totalOf = (now: OrdersNow) => now.orders.reduce((sum, order) => sum + sumsOf(order).cents, 0)
