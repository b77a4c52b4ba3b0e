/**
 * Holds the solve worker: one at a time, started when first needed, thrown away when it does not stop in time
 * or dies. Plain arrays in, an answer or a sentence out.
 */
import { Worker } from 'node:worker_threads'
import type { ModelArrays } from './linear-model.ts'
import type { SolveAnswer, SolveMessage, SolveRequest } from './run-model.ts'
import { OUT_OF_TIME, STOPPED } from './stop-flag.ts'

/** [ms] after asking, before the worker is ended: callbacks were seen to stay silent for seconds. */
const STOP_PATIENCE_MS = 600
/** [ms] that a run may be late by its own clock, which it reads now and then. */
const LATE_MS = 150

export interface RunOptions extends Omit<SolveRequest, 'id' | 'model' | 'stop'> {
  signal?: AbortSignal
  /** Called with each better solution and now and then with the bound. */
  onProgress?: (cost: number, bound: number) => void
}

export class Solver {
  private worker: Worker | null = null
  private nextId = 1

  /** The worker may be ended at any time; the next run starts another. */
  async close(): Promise<void> {
    const worker = this.worker
    this.worker = null
    await worker?.terminate()
  }

  /**
   * Runs one model. Never rejects for a solver's reasons: an interrupted or dead run answers with the best
   * solution that was already here.
   */
  run(model: ModelArrays, options: RunOptions): Promise<SolveAnswer> {
    const { signal, onProgress, ...settings } = options
    const id = this.nextId++
    const worker = (this.worker ??= this.start())
    const stop = new Int32Array(new SharedArrayBuffer(4))
    const began = performance.now()
    let best: { cost: number; columns: Float64Array } | null = null
    let bound = -Infinity

    return new Promise((resolve) => {
      let patience: NodeJS.Timeout | undefined
      const deadline = setTimeout(() => end('time'), settings.seconds * 1000 + LATE_MS)
      const finish = (answer: SolveAnswer) => {
        clearTimeout(patience)
        clearTimeout(deadline)
        signal?.removeEventListener('abort', onAbort)
        worker.off('message', onMessage)
        worker.off('error', onDeath)
        worker.off('exit', onDeath)
        worker.unref()
        resolve(answer)
      }
      const cutShort = (status: SolveAnswer['status'], fault?: string): SolveAnswer => ({
        status,
        ...(fault === undefined ? {} : { fault }),
        cost: best?.cost ?? Infinity,
        bound,
        columns: best?.columns ?? null,
        reduced: null,
        duals: null,
        seconds: (performance.now() - began) / 1000,
      })
      /** Asks the run to end, and ends its thread where it does not hear. */
      const end = (why: 'interrupted' | 'time') => {
        if (patience !== undefined) return
        Atomics.store(stop, 0, why === 'time' ? OUT_OF_TIME : STOPPED)
        patience = setTimeout(() => {
          this.forget(worker)
          void worker.terminate()
          finish(cutShort(why))
        }, STOP_PATIENCE_MS)
      }
      const onAbort = () => end('interrupted')
      const onDeath = (why: unknown) => {
        this.forget(worker)
        finish(cutShort('failed', typeof why === 'number' ? `The solver ended with code ${why}.` : String(why)))
      }
      const onMessage = (message: SolveMessage) => {
        if (message.id !== id) return
        if (message.kind === 'better') {
          best = { cost: message.cost, columns: message.columns }
          bound = Math.max(bound, message.bound)
          onProgress?.(message.cost, message.bound)
        } else if (message.kind === 'progress') {
          bound = Math.max(bound, message.bound)
          onProgress?.(message.cost, message.bound)
        } else if (message.kind === 'failed') {
          finish(cutShort('failed', message.message))
        } else {
          const { id: _, kind: __, ...answer } = message
          finish(answer)
        }
      }
      worker.ref()
      worker.on('message', onMessage)
      worker.on('error', onDeath)
      worker.on('exit', onDeath)
      signal?.addEventListener('abort', onAbort)
      if (signal?.aborted) onAbort()
      worker.postMessage({ ...settings, id, model, stop } satisfies SolveRequest)
    })
  }

  /** So that the next run starts another, where that has not been done yet. */
  private forget(worker: Worker): void {
    if (this.worker === worker) this.worker = null
  }

  private start(): Worker {
    // The source runs as it is under vitest; the build lays the worker beside the engine.
    const file = import.meta.url.endsWith('.ts') ? './solve-worker.ts' : './solve-worker.js'
    return new Worker(new URL(file, import.meta.url))
  }
}
