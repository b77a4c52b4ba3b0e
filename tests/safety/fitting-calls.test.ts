/**
 * Every call of the contract with arguments that fit: made from its schema with the farm's own ids and names, on a winter farm and on
 * one with a whole year in it. No call is a bug of ours, none that is refused changes a row, undo and redo bring every row back, and
 * the file stays whole. Each call is accepted at least once, or the test says which was not.
 */
import { copyFileSync } from 'node:fs'
import { basename, join } from 'node:path'
import * as v from 'valibot'
import { afterAll, expect, test } from 'vitest'
import { demoSeason } from '../../src-main/demo/demo-season.ts'
import { demoYear } from '../../src-main/demo/demo-year.ts'
import { writeDemoYear } from '../../src-main/engine/demo-record.ts'
import { findDamage } from '../../src-main/engine/db/connect.ts'
import { createFarm } from '../../src-main/engine/farm-file.ts'
import { api, type CallName } from '../../src-shared/api.ts'
import { randomFrom } from '../plan/random.ts'
import { startTestEngine, type TestEngine } from '../support/engine.ts'
import { limit } from '../support/limit.ts'
import { dumpOf } from '../support/open-file.ts'
import { argumentFor, type Pool } from './call-arguments.ts'
import { poolOf } from './call-pool.ts'

const isLong = process.env.STANDWELL_SAFETY === 'long'
/** Work is counted, not seconds. */
const batches = isLong ? 200 : 3
const callsABatch = 60

const names = Object.keys(api) as CallName[]
const entryOf = (name: CallName) => api[name] as { kind: string; input: v.GenericSchema; undo?: unknown }

/** On both farms together. */
const accepted = new Map<CallName, number>()
let made = 0
afterAll(() =>
  process.stdout.write(`fitting calls: ${made}, accepted ${[...accepted.values()].reduce((a, b) => a + b, 0)}\n`),
)

/** What must be there before, for calls that follow upon others. */
const before: Partial<Record<CallName, (host: TestEngine, pool: Pool, id: number | undefined) => Promise<unknown>>> = {
  'plan.adoptPoint': (host) => host.server.call('plan.curve', { gap: 0.05, seconds: 2 }),
  'draft.adopt': (host, _pool, id) => host.server.call('draft.solve', { id, gap: 0.05, seconds: 2 }),
  'tag.photo': addPhoto,
  'tag.removePhoto': addPhoto,
  'delivery.remove': addDelivery,
  'lot.remove': addLot,
  'farm.copyRest': beginCopy,
}

/** One that was not planted, which alone can be taken away. */
async function addLot(host: TestEngine, pool: Pool) {
  await addDelivery(host, pool)
  const lot = { lotNumber: 'Not planted', varietyId: pool.ids['variety']?.[0], deliveryId: pool.ids['delivery']?.[0] }
  const rest = { carriedSeedId: null, orderLineId: null, state: 'received', packs: null, packPounds: null, pounds: 100 }
  const none = { returnedPounds: 0, leftPounds: null, seedsPerPound: null, note: null }
  const reply = await host.server.call('lot.save', { lot: { ...lot, ...rest, ...none }, isConfirmed: true })
  if (reply.ok) pool.given['lot.remove/id'] = [reply.value]
}

/** A copy that is larger than one call carries. */
async function beginCopy(host: TestEngine, pool: Pool) {
  const { connection } = host.engine.farm!
  connection.exec(`INSERT INTO photo_content (sha256, bytes) VALUES (hex(zeroblob(32)), randomblob(9000000))`)
  const reply = await host.server.call('farm.copyOut', {})
  connection.exec('DELETE FROM photo_content WHERE sha256 = hex(zeroblob(32))')
  if (reply.ok) pool.given['farm.copyRest/from'] = [(reply.value as { rest: unknown }).rest]
}

/** One without a lot, which alone can be deleted. */
async function addDelivery(host: TestEngine, pool: Pool) {
  for (const dealerId of pool.ids['dealer'] ?? []) {
    const delivery = { dealerId, arrivedOn: '2027-04-10', ticket: null, scalePounds: null, note: null }
    const reply = await host.server.call('delivery.save', { delivery, today: '2027-11-20' })
    if (reply.ok) pool.ids['delivery'] = [reply.value as number]
    if (reply.ok) return
  }
}

async function addPhoto(host: TestEngine, pool: Pool) {
  const [lotId] = pool.ids['lot'] ?? []
  const reply = await host.server.call('tag.addPhoto', { lotId, file: pool.given['tag.addPhoto/file']?.[0] })
  if (reply.ok) pool.ids['tag'] = [reply.value as number]
}

const farmName = 'Creek.farm'

async function startFarm(kind: 'winter' | 'year'): Promise<TestEngine> {
  const host = startTestEngine()
  const path = join(host.engine.home, farmName)
  const year = demoYear(2027)
  const created = createFarm(path, kind === 'winter' ? demoSeason() : year.season)
  if (!created.ok) throw new Error(JSON.stringify(created.problems))
  host.engine.farm = created.value
  if (kind === 'year') await writeDemoYear(created.value, year)
  else await host.must('plan.solve', { gap: 0.05, seconds: 5 })
  await host.must('backup.make', {})
  await host.must('farm.close', {})
  copyFileSync(path, join(host.engine.home, 'Other.farm'))
  await host.must('farm.open', { fileName: farmName })
  return host
}

/** Some calls open another file or season; the work goes on where it was. */
async function backToFarm(host: TestEngine, name = farmName) {
  if (!host.engine.farm?.path.endsWith(name) || host.engine.farm.copyOf !== null) {
    await host.call('plan.stop', {})
    await host.must('farm.open', { fileName: name })
  }
  const open = (await host.must('season.list', {})).find(({ isOpen }) => isOpen)
  if (host.engine.farm?.isReadOnly && open) await host.must('season.open', { id: open.id })
}

test.each(['winter', 'year'] as const)('on a %s farm', limit(600), async (kind) => {
  const host = await startFarm(kind)
  const chance = randomFrom(kind === 'winter' ? 25 : 26)
  async function tryOnce(name: CallName, pool: Pool) {
    const { kind: callKind, input, undo } = entryOf(name)
    let given = argumentFor(name, input, pool, chance)
    const first = before[name]
    if (first && !accepted.has(name)) {
      await first(host, pool, (given as { id?: number }).id)
      // With what has come of it, and the same id where that was asked for.
      if (first !== before['plan.adoptPoint'] && first !== before['draft.adopt'])
        given = argumentFor(name, input, pool, chance)
    }
    for (let again = 0; again < 20 && !v.is(input, given); again += 1) given = argumentFor(name, input, pool, chance)
    const says = `${name} ${JSON.stringify(given).slice(0, 600)}`
    if (host.engine.farm?.isReadOnly !== false && callKind === 'change') await backToFarm(host)
    const { connection, path } = host.engine.farm!
    const rows = callKind === 'change' ? dumpOf(connection) : null
    const reply = await host.server.call(name, given)
    made += 1
    expect(host.bugs, says).toEqual([])
    // What follows asks for the farm by the name that it had.
    if (reply.ok && name === 'farm.rename') await host.must('farm.rename', { name: basename(path, '.farm') })
    if (reply.ok) accepted.set(name, (accepted.get(name) ?? 0) + 1)
    else
      expect(
        reply.problems.map(({ code }) => code),
        says,
      ).not.toContain('bug')
    if (rows !== null) {
      const after = dumpOf(connection)
      if (!reply.ok) expect(after, says).toEqual(rows)
      else if (undo !== undefined && JSON.stringify(after) !== JSON.stringify(rows)) {
        await host.must('undo.back', {})
        expect(dumpOf(connection), `${says}, undone`).toEqual(rows)
        await host.must('undo.forward', {})
        expect(dumpOf(connection), `${says}, redone`).toEqual(after)
      }
    }
    if (!host.engine.farm) await backToFarm(host)
  }

  for (let batch = 0; batch < batches; batch += 1) {
    await backToFarm(host)
    const pool = await poolOf(host, kind === 'winter' ? 2026 : 2027)
    for (let n = 0; n < callsABatch; n += 1) {
      // What was never accepted is tried most.
      const rare = names.filter((name) => !accepted.has(name))
      const name = rare.length > 0 && chance.chance(0.7) ? chance.pick(rare) : chance.pick(names)
      const isSeldom = entryOf(name).kind === 'task' && accepted.has(name)
      if (!isSeldom || chance.chance(isLong ? 0.1 : 0.02)) await tryOnce(name, pool)
    }
    await backToFarm(host)
    const { connection, path } = host.engine.farm!
    expect(findDamage(connection, path)).toEqual([])
    for (const name of names.filter((each) => entryOf(each).kind === 'read')) {
      const given = argumentFor(name, entryOf(name).input, pool, chance)
      const reply = await host.server.call(name, given)
      if (reply.ok) accepted.set(name, (accepted.get(name) ?? 0) + 1)
      expect(host.bugs, `${name} ${JSON.stringify(given).slice(0, 600)}`).toEqual([])
    }
  }
  // The rest, on a copy that nothing was done to: some follow only upon others.
  for (let n = 0; kind === 'year' && n < 80 && names.some((name) => !accepted.has(name)); n += 1) {
    await backToFarm(host, 'Other.farm')
    const pool = await poolOf(host, 2027)
    for (const name of names.filter((each) => !accepted.has(each))) await tryOnce(name, pool)
  }
  await host.close()
})

test('every call was accepted at least once', () => {
  expect(names.filter((name) => !accepted.has(name))).toEqual([])
})
