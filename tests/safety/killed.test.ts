/**
 * The engine killed with no warning: at random while it acknowledges edits, imports and plans, and at every step of what it
 * does to files. Nothing that was acknowledged is lost, nothing is half done, and the farm opens. With every commit a fifth or a sixth of
 * the whole set, which `npm run test:all` runs; `npm run test:safety` kills far more often.
 */
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import { afterAll, expect, test } from 'vitest'
import { limit } from '../support/limit.ts'
import { isUnchanged } from '../../src-main/engine/db/copy.ts'
import { undoBack, undoState } from '../../src-main/engine/db/undo.ts'
import { createFarm, openFarm, type OpenFarm } from '../../src-main/engine/farm-file.ts'
import { makeOldFarm } from '../support/old-farm.ts'
import { dumpOf, smallSeason } from '../support/open-file.ts'
import { randomFrom } from '../plan/random.ts'
import { isDrawn, seedFor, takesAll } from '../support/sampled.ts'
import { startChild, type EngineChild } from './engine-child.ts'

const isLong = process.env.STANDWELL_SAFETY === 'long'
/** @param long in the long set @param whole in the whole set: a fifth of it with every commit */
const often = (long: number, whole: number) => (isLong ? long : takesAll ? whole : Math.ceil(whole / 5))
const scratch = mkdtempSync(join(tmpdir(), 'standwell-killed-'))
afterAll(() => rmSync(scratch, { recursive: true, force: true }))
let kills = 0
afterAll(() => process.stdout.write(`kills survived: ${kills}\n`))

let homes = 0
/** A home with a farm of three fields in it. */
function newHome(): string {
  const home = join(scratch, `home-${(homes += 1)}`)
  mkdirSync(home)
  const made = join(scratch, 'made.farm')
  if (!existsSync(made)) {
    const created = createFarm(made, smallSeason())
    if (!created.ok) throw new Error(JSON.stringify(created.problems))
    created.value.close()
  }
  cpSync(made, join(home, 'Creek.farm'))
  return home
}

/** Opens what a killed engine left; every check of opening holds. */
function reopened(home: string, name = 'Creek.farm'): OpenFarm {
  const opened = openFarm(join(home, name))
  if (!opened.ok) throw new Error(JSON.stringify(opened.problems))
  return opened.value
}

const acresOf = ({ connection }: OpenFarm) =>
  connection.prepare('SELECT acres FROM field_season ORDER BY id').pluck().all() as number[]

/** The same acres for all three fields, as one paste. */
const paste = (acres: number) => ({
  sheet: 'field' as const,
  says: `Paste ${acres}`,
  cells: [1, 2, 3].map((id) => ({ id, path: 'acres', value: acres })),
})

test(
  'while edits are acknowledged: none is lost, none is half there, and undo goes on from it',
  limit(600),
  async () => {
    const chance = randomFrom(seedFor('edits')).next
    const home = newHome()
    let last = 100
    for (let n = 0; n < often(2000, 70); n += 1) {
      const child = await startChild(home)
      await child.must('farm.open', { fileName: 'Creek.farm' })
      // One that is surely there: the kill may come before the next.
      await child.must('sheet.change', paste((last += 1)))
      const end = Date.now() + chance() * 60
      let isOver = false
      let sent = last
      void pause(Math.max(0, end - Date.now())).then(() => {
        isOver = true
        child.kill()
      })
      while (!isOver || Date.now() < end) {
        sent += 1
        const reply = await child.call('sheet.change', paste(sent))
        if (reply === null) break
        expect(reply.ok).toBe(true)
        last = sent
      }
      await child.gone
      kills += 1
      const farm = reopened(home)
      const [acres, ...others] = acresOf(farm)
      expect(others).toEqual([acres, acres])
      // The one that was under way may have been committed before it could be acknowledged.
      expect([last, last + 1]).toContain(acres)
      expect(undoState(farm.connection).back).toBe(`Paste ${acres}`)
      undoBack(farm.connection)
      expect(acresOf(farm)[0]).not.toBe(acres)
      last = acresOf(farm)[0] as number
      farm.close()
    }
  },
)

test('while a file is brought in: all of its rows or none', limit(600), async () => {
  const chance = randomFrom(seedFor('imports')).next
  const rows = Array.from({ length: 400 }, (_, at) => `Field ${at},${at + 1},dryland,4000`)
  const file = {
    name: 'fields.csv',
    base64: Buffer.from(`field,acres,water,yield goal\n${rows.join('\n')}\n`).toString('base64'),
  }
  const input = { files: [file], onto: 'field' as const, onlyGood: false }
  const seen = new Set<number>()
  /** [ms] that an import takes on this machine. */
  let whole = 0
  for (let n = 0; n < often(500, 30); n += 1) {
    const home = newHome()
    const child = await startChild(home)
    await child.must('farm.open', { fileName: 'Creek.farm' })
    // Killed at once, then not before its end, which tells how long it takes here, then anywhere between.
    const begun = performance.now()
    if (n !== 1) void pause(n === 0 ? 0 : chance() * whole * 1.2).then(() => child.kill())
    const reply = await child.call('import.apply', input)
    if (n === 1) whole = performance.now() - begun
    child.kill()
    await child.gone
    kills += 1
    const farm = reopened(home)
    const count = acresOf(farm).length
    expect([3, 403]).toContain(count)
    if (reply !== null) expect(count).toBe(403)
    seen.add(count)
    farm.close()
    rmSync(home, { recursive: true })
  }
  // Both happened: the kills came before and after.
  expect([...seen].sort()).toEqual([3, 403])
})

test(
  'while a plan is worked out: what was entered beside it is there, and the plan is whole or not there',
  limit(600),
  async () => {
    const chance = randomFrom(seedFor('plans')).next
    for (let n = 0; n < often(300, 20); n += 1) {
      const home = newHome()
      const child = await startChild(home)
      await child.must('farm.open', { fileName: 'Creek.farm' })
      void child.call('plan.solve', { seconds: 5 })
      await child.must('sheet.change', paste(50 + n))
      void pause(chance() * 700).then(() => child.kill())
      await child.gone
      kills += 1
      const farm = reopened(home)
      expect(acresOf(farm)).toEqual([50 + n, 50 + n, 50 + n])
      const plans = farm.connection.prepare('SELECT id, plan FROM plan').all() as { id: number; plan: string | null }[]
      for (const { id, plan } of plans) {
        const bought = plan === null ? [] : (JSON.parse(plan) as { purchases: unknown[] }).purchases
        expect(farm.connection.prepare('SELECT count(*) FROM plan_purchase WHERE planId = ?').pluck().get(id)).toBe(
          bought.length,
        )
      }
      farm.close()
      rmSync(home, { recursive: true })
    }
  },
)

/** Everything that a farm holds, by the file it lies in; null where there is none of the name. */
function heldIn(home: string, name: string): string | null {
  if (!existsSync(join(home, name))) return null
  const farm = reopened(home, name)
  const held = JSON.stringify(dumpOf(farm.connection))
  farm.close()
  return held
}

interface Deed {
  name: string
  before?: (home: string) => void
  work: (child: EngineChild, home: string) => Promise<unknown>
  /** What must be under one of these names afterwards. */
  names?: string[]
}

const deeds: Deed[] = [
  {
    name: 'backing up and going back',
    async work(child) {
      await child.call('farm.open', { fileName: 'Creek.farm' })
      const made = await child.call('backup.make', {})
      await child.call('sheet.change', paste(77))
      if (made?.ok) await child.call('backup.restore', { backup: made.value.fileName })
    },
  },
  {
    name: 'renaming and closing',
    async work(child) {
      await child.call('farm.open', { fileName: 'Creek.farm' })
      await child.call('sheet.change', paste(78))
      await child.call('farm.rename', { name: 'Long Creek' })
      await child.call('farm.close', {})
    },
    names: ['Creek.farm', 'Long Creek.farm'],
  },
  {
    name: 'bringing in and copying out',
    async work(child, home) {
      const base64 = readFileSync(join(home, 'Creek.farm')).toString('base64')
      await child.call('farm.bringIn', { file: { name: 'Elsewhere.farm', base64 } })
      await child.call('farm.copyOut', {})
    },
  },
  {
    name: 'opening a file of an earlier version',
    before: makeOldFarm,
    work: (child) => child.call('farm.open', { fileName: 'Old.farm' }),
  },
]

test.each(deeds)('at every step of $name', limit(600), async ({ name: deed, before, work, names = ['Creek.farm'] }) => {
  const begun = newHome()
  const atFirst = heldIn(begun, 'Creek.farm')
  for (let at = 1; ; at += 1) {
    if (!isDrawn(deed, at, 6)) continue
    const home = newHome()
    before?.(home)
    const child = await startChild(home, at)
    const work_ = work(child, home)
    await Promise.race([work_, child.gone])
    const survived = await Promise.race([child.gone.then(() => false), pause(20).then(() => true)])
    if (!survived) kills += 1
    child.kill()
    await child.gone
    const there = names.flatMap((name) => heldIn(home, name) ?? [])
    expect(there).toHaveLength(1)
    // As it was; or with the change that was acknowledged, as one step.
    if (there[0] !== atFirst) expect(there[0]).toMatch(/"acres":7[78]/)
    for (const folder of readdirSync(home).filter((name) => name.endsWith(' backups'))) {
      const inside = readdirSync(join(home, folder))
      for (const name of inside.filter((each) => each.endsWith('.farm'))) {
        expect(isUnchanged(join(home, folder, name))).toBe(true)
      }
    }
    for (const name of readdirSync(home).filter((each) => each.endsWith('.farm'))) heldIn(home, name)
    rmSync(home, { recursive: true })
    if (survived) {
      expect(at).toBeGreaterThan(5)
      break
    }
  }
})
