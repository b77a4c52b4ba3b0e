/**
 * Work beside the plan in hand: its curve, its other years, its reasons, a draft's plan. One at a time, as in the
 * engine. Kept outside the page, so that one can look at fields meanwhile and come back to what was found.
 */
import type { News } from '../../src-shared/api.ts'
import type { Curve, CurvePoint } from '../../src-shared/curve.ts'
import type { HardYear } from '../../src-shared/hard-year.ts'
import type { SolveProgress } from '../../src-shared/plan.ts'
import type { Problem } from '../../src-shared/problem.ts'
import type { Reason } from '../../src-shared/reasons.ts'
import { call, listen } from './call.ts'
import { isoDay } from './today.ts'

export type Work =
  | { kind: 'curve' }
  | { kind: 'years' }
  /** Null: of the rules and the varieties left out. */
  | { kind: 'reasons'; field: string | null }
  | { kind: 'draft'; id: number; name: string }

export type ToldPoint = Pick<CurvePoint, 'lossLimitCents' | 'paidCents' | 'lossCents'>

/** [s] that the plan for the hard year may take: told to the engine and to whoever waits. */
export const hardYearSeconds = 30
/** Points between the ends of the curve: enough for its bend, few enough to wait for. */
const pointsBetween = 7

class Beside {
  work = $state.raw<Work | null>(null)
  isStopping = $state(false)
  /** What had the focus when the work was asked for. */
  startedBy: HTMLElement | null = null
  step = $state(0)
  /** Null where it is not known. */
  steps = $state<number | null>(null)
  /** When the work began, or the last one did. */
  began = $state(0)
  /** Of a draft being solved. */
  progress = $state.raw<SolveProgress | null>(null)
  /** Why the last work gave nothing, and which it was. */
  problems = $state.raw<readonly Problem[]>([])
  /** Points of a curve that is being drawn, as they are told. */
  told = $state.raw<readonly ToldPoint[]>([])
  /** The curve drawn last. */
  curve = $state.raw<Curve | null>(null)
  drawnAt = $state.raw('')
  /** The years looked at last, and the plan that they are about. */
  years = $state.raw<{ planId: number; found: HardYear } | null>(null)
  /** What was found of the reasons since they were asked for, and the plan that they are about. */
  found = $state.raw<{ planId: number; reasons: readonly Reason[] } | null>(null)

  #file: string | null = null

  /** Hears what is found on the way. */
  follow(): () => void {
    return listen((news) => this.#hear(news))
  }

  #hear(news: News) {
    if (news.kind === 'progress') {
      if (this.work?.kind === 'draft' && news.draft === this.work.id) this.progress = news.progress
    } else if (news.kind === 'work') {
      this.step = news.step
      this.steps = news.steps
      if (news.found.of === 'reasons') {
        if (this.found) this.found = { ...this.found, reasons: [...this.found.reasons, news.found.reason] }
      } else this.told = [...this.told, news.found.point]
    }
  }

  /** What was found is of one farm. @param file name of its file; null while none is open */
  forFarm(file: string | null): void {
    if (file === this.#file) return
    this.#file = file
    this.curve = null
    this.years = null
    this.told = []
    this.found = null
    this.problems = []
  }

  async #run(work: Work, ask: () => Promise<readonly Problem[]>): Promise<boolean> {
    if (this.work) return false
    this.startedBy = document.activeElement instanceof HTMLElement ? document.activeElement : null
    this.work = work
    this.isStopping = false
    this.step = 0
    this.steps = null
    this.progress = null
    this.began = Date.now()
    this.problems = []
    this.problems = await ask()
    this.work = null
    return this.problems.length === 0
  }

  drawCurve(): Promise<boolean> {
    if (!this.work) {
      this.told = []
      this.curve = null
    }
    return this.#run({ kind: 'curve' }, async () => {
      const reply = await call('plan.curve', { counts: 'cost', between: pointsBetween, today: isoDay() })
      if (reply.ok) this.curve = reply.value
      this.drawnAt = new Date().toISOString()
      return reply.ok ? [] : reply.problems
    })
  }

  lookAtYears(planId: number): Promise<boolean> {
    return this.#run({ kind: 'years' }, async () => {
      const reply = await call('plan.hardYear', { seconds: hardYearSeconds })
      if (reply.ok) this.years = { planId, found: reply.value }
      return reply.ok ? [] : reply.problems
    })
  }

  refine(field: string | null, planId: number): Promise<boolean> {
    if (!this.work) this.found = { planId, reasons: [] }
    return this.#run({ kind: 'reasons', field }, async () => {
      const reply = await call('plan.refine', {
        ...(field === null ? { of: 'rules' as const } : { field }),
        seconds: 10,
      })
      return reply.ok ? [] : reply.problems
    })
  }

  solveDraft(id: number, name: string): Promise<boolean> {
    return this.#run({ kind: 'draft', id, name }, async () => {
      const reply = await call('draft.solve', { id, today: isoDay() })
      return reply.ok ? [] : reply.problems
    })
  }

  /** Ends it; what was found by then is kept. Also ends what another window or an earlier page began. */
  async stop(): Promise<void> {
    this.isStopping = true
    await call('plan.stopWork', {})
    if (!this.work) this.isStopping = false
    if (!this.work) this.problems = []
  }
}

export const beside = new Beside()
