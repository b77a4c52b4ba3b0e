/** Memory over a long sitting: reading the pages again and again takes no more than reading them a few times. */
import { expect, onTestFinished, test } from 'vitest'
import { startTestEngine } from '../support/engine.ts'

const pages = [
  'field.list',
  'variety.list',
  'quote.list',
  'orders.list',
  'planting.list',
  'load.list',
  'harvest.list',
  'trace.list',
  'plan.latest',
  'lesson.list',
  'review.now',
] as const

test('takes no more memory for sixty rounds through the pages than for ten', async () => {
  const host = startTestEngine()
  onTestFinished(() => host.close())
  await host.must('farm.openDemo', { today: '2026-12-01', harvested: true })
  const rounds = async (count: number) => {
    for (let n = 0; n < count; n += 1) for (const name of pages) await host.must(name, {})
    return process.memoryUsage().rss / 1e6
  }
  const first = await rounds(10)
  // [MB] With a new statement for each query it was 118 more.
  expect((await rounds(60)) - first).toBeLessThan(75)
})
