/**
 * Any sequence of edits, undo, backups, going back, renames, kills, full disks and what other programs do to the file: the farm
 * opens and holds every acknowledged change, or says where it kept them. The seed changes with every commit, and is told.
 */
import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { limit } from '../support/limit.ts'
import { takesAll } from '../support/sampled.ts'
import { randomFrom } from '../plan/random.ts'
import { smallDisk, type SmallDisk } from '../support/small-disk.ts'
import { check, counts, finish, makeStrangeJournal, newModel, step } from './farm-model.ts'

const isLong = process.env.STANDWELL_SAFETY === 'long'
const scratch = mkdtempSync(join(tmpdir(), 'standwell-sequence-'))
let disk: SmallDisk | null = null
let actions = 0

beforeAll(async () => {
  disk = smallDisk(48 * 1024 * 1024)
  await makeStrangeJournal(join(scratch, 'strange'))
})
afterAll(() => {
  disk?.remove()
  rmSync(scratch, { recursive: true, force: true })
  const each = [...counts].map(([name, count]) => `${name} ${count}`).join(', ')
  process.stdout.write(`actions at random: ${actions} (${each})\n`)
})

/** Of the commit, so that the same commit is tried the same way; 1 where there is none. */
function seedOfCommit(): number {
  try {
    return Number.parseInt(execFileSync('git', ['rev-parse', '--short=7', 'HEAD'], { encoding: 'utf8' }), 16)
  } catch {
    return 1
  }
}

async function run(seed: number, length: number): Promise<void> {
  const home = join(disk?.folder ?? scratch, `home-${seed}`)
  const model = await newModel(home, disk, randomFrom(seed))
  try {
    for (let n = 0; n < length; n += 1) {
      await step(model)
      actions += 1
    }
    await finish(model)
  } catch (error) {
    throw new Error(`Seed ${seed}, after: ${model.done.slice(-25).join(', ')}`, { cause: error })
  } finally {
    model.child.kill()
    await model.child.gone
    disk?.clear()
    rmSync(home, { recursive: true, force: true })
  }
}

// Seeds that failed once stay named.
test.each<number>([61411466])('seed %i, which failed once', limit(120), (seed) => run(seed, 50))

test('after any sequence the farm holds every acknowledged change', limit(180), async () => {
  const [runs, first] = isLong ? [100, 1] : [takesAll ? 8 : 4, seedOfCommit()]
  for (let n = 0; n < runs; n += 1) await run(first + n, 50)
  expect(actions).toBeGreaterThanOrEqual(runs * 50)
})

test('the model sees a field that is lost', async () => {
  const model = await newModel(join(scratch, 'lost'), null, randomFrom(1))
  model.fields.add('never entered')
  await expect(check(model)).rejects.toThrow(/never entered/)
  await model.child.leave()
})
