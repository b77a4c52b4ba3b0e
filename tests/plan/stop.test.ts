/** Stopping: the best plan so far is kept and its gap told; with nothing found, that is said. */
import { expect, it } from 'vitest'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import type { SolveProgress } from '../../src-shared/plan.ts'
import { syntheticFarm } from '../speed/synthetic-farm.ts'

it('keeps the best plan when stopped after the first was found', { timeout: 300_000 }, async () => {
  const stop = new AbortController()
  const heard: SolveProgress[] = []
  const solved = await solveProblem(syntheticFarm('M', 1), {
    gap: 0,
    seconds: 60,
    wholeCents: true,
    signal: stop.signal,
    onProgress(progress) {
      heard.push(progress)
      if (progress.costCents !== null) stop.abort()
    },
  })
  if (!solved.ok) throw new Error(JSON.stringify(solved.problems))
  const { plan, proof } = solved.value
  expect(plan).not.toBeNull()
  expect(proof.status).toBe('stopped')
  expect(proof.endedBy).toBe('you')
  expect(proof.gap).toBeGreaterThan(0)
  expect(proof.gap).toBeLessThan(0.5)
  expect(proof.says).toMatch(/^Stopped at your request, within/)
  // What is told as bound never passes what is told as cost.
  for (const { costCents, boundCents } of heard) {
    if (costCents !== null && boundCents !== null) expect(boundCents).toBeLessThanOrEqual(costCents + 1)
  }
})

it('says so when stopped before anything was found', async () => {
  const solved = await solveProblem(syntheticFarm('M', 2), {
    gap: 0,
    seconds: 60,
    wholeCents: true,
    signal: AbortSignal.abort(),
  })
  if (!solved.ok) throw new Error(JSON.stringify(solved.problems))
  expect(solved.value.plan).toBeNull()
  expect(solved.value.proof.status).toBe('nothing-found')
})
