/** A solve runs aside: the engine answers while a large farm is priced and its models are built, and can be stopped. */
import { expect, onTestFinished, test } from 'vitest'
import { solveInThread } from '../../src-main/engine/plan/plan-thread.ts'
import { solvePlan } from '../../src-main/engine/plan/solve-plan.ts'
import { demoFarm } from '../shared/demo-farm.ts'

/** The demo's fields so many times over: pricing alone is a long piece of work. */
function manyFields(times: number) {
  const season = demoFarm()
  const fields = Array.from({ length: times }, (_, at) =>
    season.fields.map((field) => ({ ...field, name: `${field.name} ${at}` })),
  ).flat()
  const quotes = season.quotes.map(({ availablePacks: _, ...quote }) => quote)
  const dealers = season.dealers.map(({ mostPounds: _, ...dealer }) => dealer)
  return { ...season, fields, quotes, dealers, locks: [], exclusions: [], rules: [], machines: [] }
}

test('the same plan comes from the thread as without it', { timeout: 300_000 }, async () => {
  const season = { ...demoFarm(), fields: demoFarm().fields.slice(0, 3), locks: [], exclusions: [], rules: [] }
  const options = { gap: 0.001, seconds: 30 }
  const [aside, here] = [await solveInThread(season, options), await solvePlan(season, options)]
  if (!aside.ok || !here.ok) throw new Error(JSON.stringify([aside, here]))
  expect(aside.value.plan).toEqual(here.value.plan)
  expect(aside.value.proof.costCents).toBe(here.value.proof.costCents)
})

test(
  'the engine turns many times while a farm of 280 fields is priced, and the solve can be stopped',
  { timeout: 300_000 },
  async () => {
    const stop = new AbortController()
    let turns = 0
    const timer = setInterval(() => (turns += 1), 5)
    onTestFinished(() => clearInterval(timer))
    let heard = 0
    const solving = solveInThread(manyFields(20), {
      gap: 0.001,
      seconds: 60,
      signal: stop.signal,
      onProgress: () => {
        heard += 1
        stop.abort()
      },
    })
    const solved = await solving
    expect(heard).toBeGreaterThan(0)
    expect(turns).toBeGreaterThan(20)
    if (solved.ok) expect(['stopped', 'nothing-found']).toContain(solved.value.proof.status)
  },
)
