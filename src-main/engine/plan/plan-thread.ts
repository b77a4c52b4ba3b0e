/** Solves a season in a thread of its own, so that building large models holds nobody up. One thread a solve. */
import { Worker } from 'node:worker_threads'
import type { SolvedPlan, SolveProgress } from '../../../src-shared/plan.ts'
import { fail, type Result } from '../../../src-shared/problem.ts'
import type { OfferedSeason } from './price.ts'
import type { PlanOptions } from './solve-plan.ts'

export interface PlanRequest {
  season: OfferedSeason
  gap: number
  /** [s] */
  seconds: number
}

export type PlanMessage =
  | { kind: 'progress'; progress: SolveProgress }
  | { kind: 'fault'; what: string }
  | { kind: 'done'; solved: Result<SolvedPlan> }
  | { kind: 'broken'; error: unknown }

/** As `solvePlan`. A bug in it is thrown here as it was there; a thread that dies is told as a problem. */
export async function solveInThread(
  season: OfferedSeason,
  { gap, seconds, signal, onProgress, onFault }: PlanOptions,
): Promise<Result<SolvedPlan>> {
  // The source runs as it is under vitest; the build lays the worker beside the engine.
  const file = import.meta.url.endsWith('.ts') ? './plan-worker.ts' : './plan-worker.js'
  const worker = new Worker(new URL(file, import.meta.url))
  const onAbort = () => worker.postMessage('stop')
  try {
    return await new Promise<Result<SolvedPlan>>((resolve, reject) => {
      const died = (why: unknown) => {
        onFault?.(String(why))
        resolve(fail(threadDied))
      }
      worker.on('message', (message: PlanMessage) => {
        if (message.kind === 'progress') onProgress?.(message.progress)
        else if (message.kind === 'fault') onFault?.(message.what)
        else if (message.kind === 'done') resolve(message.solved)
        else reject(message.error as Error)
      })
      worker.on('error', died)
      worker.on('exit', (code) => died(`The plan's thread ended with code ${code}.`))
      worker.postMessage({ season, gap, seconds } satisfies PlanRequest)
      signal?.addEventListener('abort', onAbort)
      if (signal?.aborted) onAbort()
    })
  } finally {
    signal?.removeEventListener('abort', onAbort)
    worker.removeAllListeners('exit')
    await worker.terminate()
  }
}

const threadDied = {
  code: 'engine-stopped' as const,
  what: 'The solver stopped without an answer.',
  remedy: 'Solve again. Your plan stays as it is.',
}
