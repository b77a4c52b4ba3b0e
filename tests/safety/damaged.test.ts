/**
 * Files that a disk has spoilt: a flipped byte is found by the seal; without one, the farm opens or is refused, and is not written.
 * 300 bytes each (`npm run test:all`), of which each commit takes 90 others.
 */
import { copyFileSync, mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { limit } from '../support/limit.ts'
import { hashOf } from '../../src-main/engine/db/copy.ts'
import { sealFile } from '../../src-main/engine/db/seal.ts'
import { createFarm, openFarm } from '../../src-main/engine/farm-file.ts'
import { randomFrom } from '../plan/random.ts'
import { smallSeason } from '../support/open-file.ts'
import { seedFor, takesAll } from '../support/sampled.ts'
import { startChild } from './engine-child.ts'

const times = process.env.STANDWELL_SAFETY === 'long' ? 15 : takesAll ? 1 : 0.3

const folder = mkdtempSync(join(tmpdir(), 'standwell-damaged-'))
const whole = join(folder, 'Whole.farm')
beforeAll(() => {
  const created = createFarm(whole, smallSeason())
  if (!created.ok) throw new Error(JSON.stringify(created.problems))
  created.value.close()
  sealFile(whole)
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

test('one byte flipped in a closed farm, anywhere: found', limit(300), () => {
  const chance = randomFrom(takesAll ? 7 : seedFor('flipped'))
  const good = readFileSync(whole)
  const path = join(folder, 'Flipped.farm')
  for (let n = 0; n < 300 * times; n += 1) {
    const bytes = Buffer.from(good)
    const at = chance.whole(0, bytes.length - 1)
    bytes[at] = (bytes[at] ?? 0) ^ (1 << chance.whole(0, 7))
    writeFileSync(path, bytes)
    copyFileSync(`${whole}.sha256`, `${path}.sha256`)
    const before = hashOf(path)
    const opened = openFarm(path)
    expect(opened.ok, `byte ${at}`).toBe(false)
    if (!opened.ok) expect(opened.problems[0]?.code, `byte ${at}`).toBe('damaged')
    expect(hashOf(path), `byte ${at}`).toBe(before)
  }
})

test(
  'without a seal: bytes flipped, pages of noughts, cut short — it opens, or says that it is damaged',
  limit(300),
  () => {
    const chance = randomFrom(takesAll ? 8 : seedFor('spoilt'))
    const good = readFileSync(whole)
    const path = join(folder, 'Spoilt.farm')
    const told = new Set<string>()
    for (let n = 0; n < 300 * times; n += 1) {
      for (const ending of ['', '-wal', '-shm', '-journal', '.sha256']) rmSync(`${path}${ending}`, { force: true })
      let bytes = Buffer.from(good)
      const at = chance.whole(0, bytes.length - 1)
      const kind = chance.whole(0, 2)
      if (kind === 0) bytes[at] = (bytes[at] ?? 0) ^ 0xff
      if (kind === 1) bytes.fill(0, at - (at % 4096), at - (at % 4096) + 4096)
      if (kind === 2) bytes = bytes.subarray(0, at)
      writeFileSync(path, bytes)
      const opened = openFarm(path)
      told.add(opened.ok ? 'opens' : (opened.problems[0]?.code ?? ''))
      if (opened.ok) opened.value.close()
      else
        expect(['damaged', 'bad-file', 'future-version'], `kind ${kind}, byte ${at}`).toContain(
          opened.problems[0]?.code,
        )
    }
    expect(told).toContain('opens')
    expect(told).toContain('damaged')
  },
)

test('without a seal: letters in the text of a table are spoilt, and nothing else', () => {
  const bytes = readFileSync(whole)
  // All of them: some lie in pages that are free.
  for (let at = bytes.indexOf('length('); at >= 0; at = bytes.indexOf('length(', at)) bytes[at + 4] = 0x71
  const path = join(folder, 'Text.farm')
  writeFileSync(path, bytes)
  expect(openFarm(path)).toMatchObject({ ok: false, problems: [{ code: 'damaged' }] })
})

test(
  'a journal cut off where the power failed: what was committed before the cut is there, in its order',
  limit(300),
  async () => {
    const chance = randomFrom(9)
    const home = mkdtempSync(join(folder, 'home-'))
    const path = join(home, 'Creek.farm')
    copyFileSync(whole, path)
    const child = await startChild(home)
    await child.must('farm.open', { fileName: 'Creek.farm' })
    const edits = 40
    for (let acres = 1; acres <= edits; acres += 1) {
      const cells = [1, 2, 3].map((id) => ({ id, path: 'acres', value: acres }))
      await child.must('sheet.change', { sheet: 'field', says: `Paste ${acres}`, cells })
    }
    child.kill()
    await child.gone
    const length = readFileSync(`${path}-wal`).length
    expect(length).toBeGreaterThan(100_000)
    const cut = join(home, 'Cut.farm')
    const seen = new Set<number>()
    for (let n = 0; n < 100 * times; n += 1) {
      copyFileSync(path, cut)
      copyFileSync(`${path}-wal`, `${cut}-wal`)
      const at = n === 0 ? length : chance.whole(0, length)
      if (n % 2 === 0) truncateSync(`${cut}-wal`, at)
      else {
        const bytes = readFileSync(`${cut}-wal`)
        writeFileSync(`${cut}-wal`, bytes.fill(0, at))
      }
      const opened = openFarm(cut)
      if (!opened.ok) throw new Error(JSON.stringify(opened.problems))
      const { connection } = opened.value
      const acres = connection.prepare('SELECT acres FROM field_season ORDER BY id').pluck().all() as number[]
      const steps = connection.prepare('SELECT label FROM undo_step ORDER BY id').pluck().all() as string[]
      // A prefix of the edits, whole: the record of steps and the acres agree.
      expect(steps).toEqual(Array.from({ length: steps.length }, (_, index) => `Paste ${index + 1}`))
      if (steps.length > 0) expect(acres.slice(0, 3)).toEqual([steps.length, steps.length, steps.length])
      if (n === 0) expect(steps).toHaveLength(edits)
      seen.add(steps.length)
      opened.value.close()
      for (const ending of ['', '-wal', '-shm', '.sha256']) rmSync(`${cut}${ending}`, { force: true })
    }
    expect(seen.size).toBeGreaterThan(10)
  },
)
