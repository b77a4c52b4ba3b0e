/**
 * Holds the thread that reads strangers' files: one file at a time, within a time and a memory limit, stopped when asked. The
 * engine answers other calls meanwhile.
 */
import { createHash } from 'node:crypto'
import { Worker } from 'node:worker_threads'
import { fail, type Problem, type Result } from '../../../src-shared/problem.ts'
import type { ReadAnswers, ReadRequest } from './read-request.ts'

export interface ReaderLimits {
  /** [ms] of wall clock for one file. */
  milliseconds: number
  /** [MB] of the thread's heap. */
  megabytes: number
}

/** A table of 2 million cells takes some 5 s and 200 MB on a slow machine. */
const usual: ReaderLimits = { milliseconds: 30_000, megabytes: 512 }

/** [ms] The thread is ended when nothing was read for so long, and what was read last is let go. */
const idleTime = 60_000

/** [byte] of files that are kept as they were read. */
const mostKept = 20 * 1024 * 1024
const mostFiles = 24

type Answer = Result<ReadAnswers[keyof ReadAnswers]>

export class FileReader {
  private readonly limits: ReaderLimits
  private worker: Worker | null = null
  private nextId = 1
  private stopNow: ((why: Problem) => void) | null = null
  private queue: Promise<unknown> = Promise.resolve()
  private asked = 0
  private stoppedBefore = 0
  private idle: NodeJS.Timeout | undefined
  /** Looked at, looked at again and taken are calls with the same bytes; the newest last. */
  private readonly kept = new Map<string, { answer: Answer; size: number }>()

  constructor(limits: ReaderLimits = usual) {
    this.limits = limits
  }

  /** What is in a file, or why it cannot be read. Never rejects. */
  read<Kind extends ReadRequest['kind']>(
    request: Extract<ReadRequest, { kind: Kind }>,
  ): Promise<Result<ReadAnswers[Kind]>> {
    const turn = ++this.asked
    const answer = this.queue.then(async () => {
      if (turn <= this.stoppedBefore) return fail(stopped(request.name))
      try {
        const key = keyOf(request)
        const before = this.kept.get(key)
        if (before) return before.answer
        // Let go first: two large files need not be held at once.
        this.makeRoom(request.bytes.length)
        const fresh = await this.readNow(request)
        if (fresh.ok) this.kept.set(key, { answer: fresh, size: request.bytes.length })
        return fresh
      } finally {
        this.waitIdle()
      }
    })
    this.queue = answer
    return answer as Promise<Result<ReadAnswers[Kind]>>
  }

  /** Ends the reading at work and those that wait for it. */
  stop(): void {
    this.stoppedBefore = this.asked
    this.stopNow?.(stoppedProblem)
  }

  /** Ends the thread and lets go of what was read. */
  async close(): Promise<void> {
    this.stop()
    clearTimeout(this.idle)
    this.kept.clear()
    const worker = this.worker
    this.worker = null
    await worker?.terminate()
  }

  /** Lets go of the oldest until what is kept and what comes are no more than one large file. */
  private makeRoom(size: number): void {
    let sum = size
    for (const { size: own } of this.kept.values()) sum += own
    for (const [key, { size: own }] of this.kept) {
      if (sum <= mostKept && this.kept.size < mostFiles) break
      this.kept.delete(key)
      sum -= own
    }
  }

  private waitIdle(): void {
    clearTimeout(this.idle)
    this.idle = setTimeout(() => void this.close(), idleTime).unref()
  }

  private readNow(request: ReadRequest): Promise<Answer> {
    clearTimeout(this.idle)
    const id = this.nextId++
    const worker = (this.worker ??= this.start())
    return new Promise((resolve) => {
      const finish = (answer: Answer) => {
        clearTimeout(deadline)
        this.stopNow = null
        worker.off('message', onMessage)
        worker.off('error', onDeath)
        worker.off('exit', onDeath)
        worker.unref()
        resolve(answer)
      }
      const giveUp = (why: Problem) => {
        if (this.worker === worker) this.worker = null
        // A thread that is being ended may still say so; nobody listens then.
        worker.on('error', () => undefined)
        finish(fail({ ...why, where: { file: request.name } }))
        void worker.terminate()
      }
      const onMessage = (message: { id: number; result: Answer }) => {
        if (message.id === id) finish(message.result)
      }
      const onDeath = (error: unknown) =>
        giveUp((error as { code?: unknown } | null)?.code === 'ERR_WORKER_OUT_OF_MEMORY' ? tooLarge : unreadable)
      const deadline = setTimeout(() => giveUp(tooLong), this.limits.milliseconds)
      this.stopNow = giveUp
      worker.ref()
      worker.on('message', onMessage)
      worker.on('error', onDeath)
      worker.on('exit', onDeath)
      worker.postMessage({ id, request })
    })
  }

  private start(): Worker {
    // The source runs as it is under vitest; the build lays the thread's code beside the engine.
    const file = import.meta.url.endsWith('.ts') ? './read-worker.ts' : './read-worker.js'
    return new Worker(new URL(file, import.meta.url), {
      resourceLimits: { maxOldGenerationSizeMb: this.limits.megabytes, maxYoungGenerationSizeMb: 64 },
    })
  }
}

function keyOf({ kind, name, bytes }: ReadRequest): string {
  return JSON.stringify([kind, name, createHash('sha256').update(bytes).digest('hex')])
}

const tooLong: Problem = {
  code: 'bad-file',
  what: 'The file takes too long to read.',
  remedy: 'Save only the table or the boundaries that you need as a new file. Then import that one.',
}

const tooLarge: Problem = {
  code: 'bad-file',
  what: 'The file needs more memory than a table of a farm.',
  remedy: 'Save only the table or the boundaries that you need as a new file. Then import that one.',
}

const unreadable: Problem = {
  code: 'bad-file',
  what: 'The file stops the reader. It is damaged or in another format.',
  remedy: 'Open it where it was made and save it again. Then import that file.',
}

const stoppedProblem: Problem = {
  code: 'bad-file',
  what: 'You canceled the import.',
  remedy: 'Nothing was changed. Choose a file to start again.',
}

const stopped = (file: string): Problem => ({ ...stoppedProblem, where: { file } })
