/** A small farm whose quotes compete, planned and ordered: what the tests of orders start from. */
import { copyFileSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { onTestFinished } from 'vitest'
import { createFarm, openFarm } from '../../src-main/engine/farm-file.ts'
import { sumsOf, type OrdersNow } from '../../src-shared/order.ts'
import type { Season } from '../../src-shared/season.ts'
import type { Output } from '../../src-shared/api.ts'
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

interface Prepared {
  path: string
  plan: Output<'plan.solve'>
}

/** Farms that were planned and ordered once, by their season: a test opens a copy, since planning takes most of its time. */
const prepared = new Map<string, Promise<Prepared>>()
const folder = mkdtempSync(join(tmpdir(), 'standwell-prepared-'))
process.on('exit', () => rmSync(folder, { recursive: true, force: true }))

async function prepare(own: Season, path: string): Promise<Prepared> {
  const host = startTestEngine()
  const made = createFarm(path, own)
  if (!made.ok) throw new Error(JSON.stringify(made.problems))
  host.engine.farm = made.value
  const plan = await host.must('plan.solve', quick)
  await host.must('orders.make', { today })
  await host.close()
  return { path, plan }
}

/** A farm with its plan and its orders made. */
export async function orderedFarm(own: Season = freeSeason()) {
  const key = JSON.stringify(own)
  const ready = prepared.get(key) ?? prepare(own, join(folder, `${prepared.size}.farm`))
  prepared.set(key, ready)
  const { path, plan } = await ready
  const host = startTestEngine()
  onTestFinished(() => host.close())
  const copy = join(host.engine.home, 'Small.farm')
  copyFileSync(path, copy)
  const opened = openFarm(copy)
  if (!opened.ok) throw new Error(JSON.stringify(opened.problems))
  host.engine.farm = opened.value
  return { ...host, plan: structuredClone(plan), dump: () => dumpOf(host.engine.farm!.connection) }
}

export const linesOf = (now: OrdersNow) => now.orders.flatMap((order) => order.lines)
export const totalOf = (now: OrdersNow) => now.orders.reduce((sum, order) => sum + sumsOf(order).cents, 0)
