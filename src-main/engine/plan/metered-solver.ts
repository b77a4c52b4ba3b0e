/**
 * A solver whose runs are limited by what they do instead of by how long they take, so that a slow machine finds out as much as a
 * quick one.
 */
import type { ModelArrays } from './linear-model.ts'
import type { SolveAnswer } from './run-model.ts'
import { Solver, type RunOptions } from './solver.ts'

/** What a run takes before its first iteration, reading the model in and presolve, told in iterations. */
const BEGINNING = 50

export class MeteredSolver extends Solver {
  /**
   * [iteration × √entry of the model] done so far. Measured: one takes about a microsecond, on farms of 12 fields as of 300.
   */
  work = 0
  /** True where a run was ended by the clock. */
  isClocked = false
  private readonly inner: Solver
  private readonly most: number
  private until = Infinity

  /** @param most work for all runs together */
  constructor(inner: Solver, most: number) {
    super()
    this.inner = inner
    this.most = most
  }

  /** The runs from here on may do so much, and no more than is left of all. */
  allow(work: number): void {
    this.until = this.work + work
  }

  get isSpent(): boolean {
    return this.work >= this.most
  }

  override async run(model: ModelArrays, options: RunOptions): Promise<SolveAnswer> {
    const weight = Math.sqrt(model.values.length + 1)
    const left = (Math.min(this.until, this.most) - this.work) / weight
    if (left <= 0) return notRun
    const answer = await this.inner.run(model, { ...options, iterations: Math.max(1, Math.floor(left)) })
    this.work += weight * (BEGINNING + (answer.iterations ?? 0))
    if (answer.status === 'time') this.isClocked = true
    return answer
  }
}

const notRun: SolveAnswer = {
  status: 'nodes',
  cost: Infinity,
  bound: -Infinity,
  columns: null,
  reduced: null,
  duals: null,
  seconds: 0,
}
