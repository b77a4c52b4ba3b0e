/** The thread in which a season is priced, its models are built and its plan is checked: the engine answers meanwhile. */
import { parentPort } from 'node:worker_threads'
import type { PlanMessage, PlanRequest } from './plan-thread.ts'
import { solvePlan } from './solve-plan.ts'

const stop = new AbortController()
const post = (message: PlanMessage) => parentPort?.postMessage(message)

parentPort?.on('message', (request: PlanRequest | 'stop') => {
  if (request === 'stop') stop.abort()
  else void solve(request)
})

async function solve({ season, gap, seconds }: PlanRequest): Promise<void> {
  try {
    const solved = await solvePlan(season, {
      gap,
      seconds,
      signal: stop.signal,
      onProgress: (progress) => post({ kind: 'progress', progress }),
      onFault: (what) => post({ kind: 'fault', what }),
    })
    post({ kind: 'done', solved })
  } catch (error) {
    post({ kind: 'broken', error })
  }
}
