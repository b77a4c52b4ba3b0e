/** The real solver, with a fault at one of its runs: it dies, stops, runs out of time, or comes back with half of its answer. */
import type { ModelArrays } from '../../src-main/engine/plan/linear-model.ts'
import type { SolveAnswer } from '../../src-main/engine/plan/run-model.ts'
import { Solver, type RunOptions } from '../../src-main/engine/plan/solver.ts'

export interface Fault {
  /** Number of the run, from 1. */
  at: number
  /** True for every run from there on. */
  onwards?: boolean
  status: SolveAnswer['status']
  /** The answer's own solution is kept, as where time ran out on a good plan; otherwise nothing was found. */
  keeps?: boolean
  /** What it answers instead: a fault of the model or of the solver that has to be caught afterwards. */
  lies?: (answer: SolveAnswer) => SolveAnswer
  /** Pressed as the run begins: somebody asks to stop. */
  stop?: AbortController
}

export class FaultySolver extends Solver {
  /** Runs so far. */
  runs = 0
  private readonly fault: Fault | null
  private readonly real: Solver

  constructor(real: Solver, fault: Fault | null) {
    super()
    this.real = real
    this.fault = fault
  }

  override async run(model: ModelArrays, options: RunOptions): Promise<SolveAnswer> {
    this.runs++
    const { fault } = this
    if (fault === null || this.runs < fault.at || (this.runs > fault.at && !fault.onwards)) {
      return this.real.run(model, options)
    }
    const { status } = fault
    fault.stop?.abort()
    const nothing = { cost: Infinity, bound: -Infinity, columns: null, reduced: null, duals: null, seconds: 0 }
    if (fault.lies !== undefined) return fault.lies(await this.real.run(model, options))
    if (!fault.keeps) return { ...nothing, status }
    const { cost, columns, seconds } = await this.real.run(model, options)
    return { ...nothing, cost, columns, seconds, status }
  }
}
