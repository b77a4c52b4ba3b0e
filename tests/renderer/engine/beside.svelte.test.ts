/** Work beside the plan: one at a time, each piece of news to whom it belongs, nothing of one farm shown for another. */
import { beforeEach, expect, test } from 'vitest'
import type { News, Transport } from '../../../src-shared/api.ts'
import type { SolveProgress } from '../../../src-shared/plan.ts'
import { beside } from '../../../src-renderer/engine/beside.svelte.ts'
import { useTransport } from '../../../src-renderer/engine/call.ts'
import { solving } from '../../../src-renderer/engine/solving.svelte.ts'

let asked: { name: string; input: unknown; answer(reply: unknown): Promise<void> }[] = []
const hearers = new Set<(news: News) => void>()
const tell = (news: News) => hearers.forEach((hear) => hear(news))

beforeEach(() => {
  asked = []
  hearers.clear()
  useTransport({
    call: (name: string, input: unknown) =>
      new Promise((resolve) => {
        asked.push({
          name,
          input,
          async answer(reply) {
            resolve(reply as never)
            await new Promise((done) => setTimeout(done))
          },
        })
      }),
    listen(hear: (news: News) => void) {
      hearers.add(hear)
      return () => hearers.delete(hear)
    },
  } as unknown as Transport)
  beside.forFarm(null)
  beside.forFarm('A.farm')
  beside.follow()
  solving.follow()
})

const progress = { stage: 'relaxation', costCents: 5, gap: 0.1 } as SolveProgress
const point = (lossCents: number) => ({ lossLimitCents: lossCents, paidCents: 9, lossCents })

test('the progress of a draft is its own, that of the plan the plan’s', async () => {
  const work = beside.solveDraft(4, 'Dear')
  tell({ kind: 'progress', progress, draft: 4 })
  expect(beside.progress).toBe(progress)
  expect(solving.isRunning).toBe(false)
  const other = { ...progress, costCents: 6 }
  tell({ kind: 'progress', progress: other, draft: 5 })
  tell({ kind: 'progress', progress: other, draft: null })
  expect(beside.progress).toBe(progress)
  expect(solving).toMatchObject({ isRunning: true, progress: other })
  tell({ kind: 'changed', tables: ['plan'] })
  expect(solving.isRunning).toBe(false)
  await asked[0]?.answer({ ok: true, value: 1 })
  expect(await work).toBe(true)
  expect(beside.work).toBeNull()
})

test('a draft that is kept does not end the plan that this window is waiting for', async () => {
  const work = solving.start()
  tell({ kind: 'changed', tables: ['plan', 'draft'] })
  expect(solving.isRunning).toBe(true)
  await asked[0]?.answer({ ok: true, value: {} })
  await work
  expect(solving.isRunning).toBe(false)
})

test('one at a time; points are told as they come, and the whole curve takes their place', async () => {
  const drawing = beside.drawCurve()
  expect(asked[0]).toMatchObject({ name: 'plan.curve', input: { counts: 'cost' } })
  expect(await beside.refine('Creek', 3)).toBe(false)
  expect(asked).toHaveLength(1)
  tell({ kind: 'work', found: { of: 'curve', point: point(1) }, step: 1, steps: 9 })
  tell({ kind: 'work', found: { of: 'curve', point: point(2) }, step: 2, steps: 9 })
  expect(beside).toMatchObject({ step: 2, steps: 9, told: [point(1), point(2)], curve: null })
  const curve = { counts: 'cost', points: [], isPartial: true, says: 'Some.' }
  await asked[0]?.answer({ ok: true, value: curve })
  await drawing
  expect(beside.curve).toEqual(curve)
  // Another farm's page does not show it; the same farm's does.
  beside.forFarm('A.farm')
  expect(beside.curve).toEqual(curve)
  beside.forFarm('B.farm')
  expect(beside).toMatchObject({ curve: null, told: [] })
})

test('a reason that is found is about the plan that it was asked of', async () => {
  const reason = { kind: 'field' as const, choices: [] }
  const news: News = { kind: 'work', found: { of: 'reasons', reason }, step: 1, steps: 2 }
  // Of another page's asking: whose plan is not known.
  tell(news)
  expect(beside.found).toBeNull()
  const work = beside.refine('Creek', 3)
  tell(news)
  expect(beside.found).toEqual({ planId: 3, reasons: [reason] })
  expect(await beside.refine('Mill', 4)).toBe(false)
  expect(beside.found?.planId).toBe(3)
  await asked[0]?.answer({ ok: true, value: {} })
  await work
  beside.forFarm('B.farm')
  expect(beside.found).toBeNull()
})

test('stopping asks the engine, and the work is over when it answers', async () => {
  const work = beside.refine(null, 3)
  void beside.stop()
  expect(asked.map(({ name }) => name)).toEqual(['plan.refine', 'plan.stopWork'])
  expect(beside).toMatchObject({ isStopping: true, work: { kind: 'reasons', field: null } })
  await asked[1]?.answer({ ok: true, value: true })
  expect(beside.work).not.toBeNull()
  await asked[0]?.answer({ ok: true, value: {} })
  await work
  expect(beside.work).toBeNull()
})

test('what is refused says why; another page’s work can be stopped, and its refusal then goes', async () => {
  const work = beside.lookAtYears(3)
  await asked[0]?.answer({ ok: false, problems: [{ code: 'busy', what: 'Busy.', remedy: 'Wait.' }] })
  expect(await work).toBe(false)
  expect(beside.problems).toHaveLength(1)
  const stop = beside.stop()
  await asked[1]?.answer({ ok: true, value: true })
  await stop
  expect(beside).toMatchObject({ problems: [], isStopping: false, years: null })
})
