/**
 * Files that would take a reader hours or all memory. Each is refused in words within the time and the memory that a reader has,
 * and the engine answers other calls meanwhile.
 */
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { createFarm } from '../../src-main/engine/farm-file.ts'
import { startTestEngine, type TestEngine } from '../support/engine.ts'
import { dumpOf, smallSeason } from '../support/open-file.ts'
import { swollen } from './swollen-files.ts'

let host: TestEngine
beforeAll(() => {
  host = startTestEngine()
  const created = createFarm(join(host.engine.home, 'Creek.farm'), smallSeason())
  if (!created.ok) throw new Error(JSON.stringify(created.problems))
  host.engine.farm = created.value
})
afterAll(() => host.close())

test.each(swollen)('refuses %s and answers meanwhile', async (_what, kind, name, make) => {
  const before = JSON.stringify(dumpOf(host.engine.farm!.connection))
  const file = { name, base64: make().toString('base64') }
  const reading =
    kind === 'table' ? host.call('import.look', { files: [file], onto: 'field' }) : host.call('boundary.look', { file })
  /** [ms] of this thread's processor time for one answer. */
  let most = 0
  let isRead = false
  void reading.finally(() => (isRead = true))
  while (!isRead) {
    const before = process.threadCpuUsage()
    await host.must('field.list', {})
    const { user, system } = process.threadCpuUsage(before)
    most = Math.max(most, (user + system) / 1000)
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
  const reply = await reading
  expect(reply.ok ? reply.value : reply.problems).toMatchObject([{ code: 'bad-file', where: { file: name } }])
  // A list of three fields takes a few; a reader in the engine's own thread adds all that it does.
  expect(most).toBeLessThan(1000)
  expect(host.bugs).toEqual([])
  expect(JSON.stringify(dumpOf(host.engine.farm!.connection))).toBe(before)
})
