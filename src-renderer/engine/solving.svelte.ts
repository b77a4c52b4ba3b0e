/** The plan being worked out. Kept outside the page, so that one can look at fields meanwhile and come back. */
import type { SolveProgress } from '../../src-shared/plan.ts'
import type { Problem } from '../../src-shared/problem.ts'
import { call, listen } from './call.ts'
import { isoDay } from './today.ts'

class Solving {
  isRunning = $state(false)
  isStopping = $state(false)
  progress = $state.raw<SolveProgress | null>(null)
  /** Why the last attempt gave nothing. */
  problems = $state.raw<readonly Problem[]>([])

  /** True while the answer to this window's own call is awaited: it alone says when the work is over. */
  #isOwn = false

  /** Hears how it goes, also of a solve that was begun before the window was reloaded. Returns how to stop hearing. */
  follow(): () => void {
    return listen((news) => {
      if (news.kind === 'work' || (news.kind === 'progress' && news.draft !== null)) {
        return // beside the plan: not about this solve
      } else if (news.kind === 'progress') {
        this.isRunning = true
        this.progress = news.progress
      } else if (
        news.kind === 'changed'
          ? !this.#isOwn && news.tables.includes('plan')
          : news.kind !== 'engine' || news.state !== 'ready'
      ) {
        this.isRunning = false
        this.isStopping = false
      }
    })
  }

  async start(): Promise<void> {
    if (this.isRunning) return
    this.isRunning = true
    this.isStopping = false
    this.progress = null
    this.problems = []
    this.#isOwn = true
    const reply = await call('plan.solve', { today: isoDay() })
    this.#isOwn = false
    this.problems = reply.ok ? [] : reply.problems
    this.isRunning = false
    this.isStopping = false
  }

  /** Asks the solver to end; what it has found by then becomes the plan. */
  async stop(): Promise<void> {
    this.isStopping = true
    await call('plan.stop', {})
  }
}

export const solving = new Solving()
