/**
 * The only file that touches the solver: it takes plain arrays, posts what it finds, and stops when the shared flag is
 * set. It blocks its thread, so the engine runs it in one of its own (`solve-worker.ts`).
 */
import loadHighs, { type Highs } from 'highs'
import type { ModelArrays } from './linear-model.ts'
import { OUT_OF_TIME } from './stop-flag.ts'

export interface SolveRequest {
  id: number
  model: ModelArrays
  /** Shared: asks to stop, see `stop-flag.ts`. */
  stop: Int32Array
  /** A full solution to start from, by column. */
  start?: Float64Array
  /** Stop when proven within this share; 0 for the very best. */
  gap: number
  /** [s] */
  seconds: number
  nodes?: number
  /** Most iterations of the simplex method; it ends with status `nodes` soon after. */
  iterations?: number
  /** Stop at a solution that costs no more than this. */
  target?: number
  /**
   * Stop once every solution is known to cost at least so much; where one was found that costs less, so that this can never be
   * known, at the gap beside it. The answer then counts as `optimal`: what was asked is answered.
   */
  enough?: { bound: number; orGap: number }
  /** Without most searches inside the search: where a good solution is there to start from, or comes by itself. */
  isThrifty?: boolean
  /** Ignore whole numbers. */
  relaxed?: boolean
  /** Without presolve: a little slower at first, much faster on large models of this kind. */
  presolve?: boolean
}

export type SolveMessage =
  | { id: number; kind: 'better'; cost: number; bound: number; columns: Float64Array }
  | { id: number; kind: 'progress'; cost: number; bound: number }
  | ({ id: number; kind: 'done' } & SolveAnswer)
  | { id: number; kind: 'failed'; message: string }

export interface SolveAnswer {
  status: 'optimal' | 'target' | 'infeasible' | 'unbounded' | 'time' | 'nodes' | 'interrupted' | 'failed'
  /** [unit of the model's cost] Infinity where nothing was found. */
  cost: number
  bound: number
  columns: Float64Array | null
  /** Reduced costs of a relaxation, by column. */
  reduced: Float64Array | null
  /** Duals of a relaxation, by row as scaled. */
  duals: Float64Array | null
  seconds: number
  /** Of the simplex method: what the run took, the same on any machine; absent where it was cut short. */
  iterations?: number
  /** What went wrong, where the solver failed. */
  fault?: string
}

/**
 * Searches inside the search, each a model of its own. Measured on models of this kind: they take two thirds of the time and, once
 * there is a good solution, find little that the one from the reduced costs of the root does not. The first solution of a large model
 * with whole packs comes from them.
 */
const THRIFTY = {
  mip_heuristic_run_feasibility_jump: false,
  mip_heuristic_run_rens: false,
  mip_heuristic_run_rins: false,
} as const

let highs: Promise<Highs> | null = null

/** @param status the solver's own number, told where it is none that we know */
function endOf(
  ended: SolveAnswer['status'] | undefined,
  stopFlag: number,
  status: number,
): Pick<SolveAnswer, 'status' | 'fault'> {
  if (ended === undefined) return { status: 'failed', fault: `The solver ended with model status ${status}.` }
  return { status: ended === 'interrupted' && stopFlag === OUT_OF_TIME ? 'time' : ended }
}

/** Runs one model and posts what it finds, last that it is done; a fault of the solver is posted, not thrown. */
export async function runModel(request: SolveRequest, post: (message: SolveMessage) => void): Promise<void> {
  try {
    highs ??= loadHighs()
    run(await highs, request, post)
  } catch (error) {
    post({ id: request.id, kind: 'failed', message: String(error) })
  }
}

function run(solver: Highs, request: SolveRequest, post: (message: SolveMessage) => void): void {
  const { model: data, id } = request
  const began = performance.now()
  const model = solver.createModel({
    numCols: data.columns,
    numRows: data.rows,
    colCost: data.cost,
    colLower: data.lower,
    colUpper: data.upper,
    rowLower: data.rowLower,
    rowUpper: data.rowUpper,
    matrix: {
      format: 'csr',
      numRows: data.rows,
      numCols: data.columns,
      starts: data.starts,
      indices: data.indices,
      values: data.values,
    },
    ...(request.relaxed ? {} : { integrality: data.integer }),
  })
  try {
    model.options.set({
      log_to_console: false,
      random_seed: 1,
      ...(request.isThrifty ? THRIFTY : {}),
      mip_rel_gap: request.gap,
      mip_abs_gap: 1e-6,
      time_limit: request.seconds,
      presolve: request.presolve === false ? 'off' : 'on',
      ...(request.nodes === undefined ? {} : { mip_max_nodes: request.nodes }),
      ...(request.target === undefined ? {} : { objective_target: request.target }),
    })
    if (request.start) model.setSolution({ colValue: request.start })
    const { callbackType, modelStatus } = solver.constants
    let isEnough = false
    const hasEnough = (cost: number, bound: number) => {
      const { enough } = request
      if (enough === undefined) return false
      const isBelow = cost < enough.bound && cost - bound <= enough.orGap * Math.abs(cost)
      return (isEnough ||= bound >= enough.bound || isBelow)
    }
    let lastPost = 0
    const stopFlag = () => Atomics.load(request.stop, 0)
    const isStopped = () => stopFlag() !== 0
    let isSpent = false
    /** The same on any machine, unlike a clock. */
    const isOver = (iterations: number) => (isSpent ||= iterations > (request.iterations ?? Infinity))
    const endedEarly = () => (isStopped() ? undefined : isEnough ? 'optimal' : isSpent ? 'nodes' : undefined)
    model.run({
      [callbackType.mipImprovingSolution](event) {
        const { objective_function_value: cost, mip_dual_bound: bound, mip_solution: columns } = event.data
        if (cost !== undefined && columns) post({ id, kind: 'better', cost, bound: bound ?? -Infinity, columns })
      },
      [callbackType.mipLogging](event) {
        if (performance.now() - lastPost < 100) return
        lastPost = performance.now()
        post({
          id,
          kind: 'progress',
          cost: event.data.mip_primal_bound ?? Infinity,
          bound: event.data.mip_dual_bound ?? -Infinity,
        })
      },
      [callbackType.mipInterrupt](event) {
        const { mip_primal_bound: cost = Infinity, mip_dual_bound: bound = -Infinity } = event.data
        const iterations = Number(event.data.mip_total_lp_iterations ?? 0)
        if (isStopped() || hasEnough(cost, bound) || isOver(iterations)) event.interrupt()
      },
      [callbackType.simplexInterrupt](event) {
        if (isStopped() || (request.relaxed && isOver(Number(event.data.simplex_iteration_count ?? 0))))
          event.interrupt()
      },
    })
    const status = model.getModelStatus()
    const isMip = !request.relaxed && data.integer.some((flag) => flag === 1)
    const solution = model.getSolution()
    const hasSolution = Number(model.info.get('primal_solution_status')) === 2
    const cost = hasSolution ? model.getObjectiveValue() : Infinity
    const names: Record<number, SolveAnswer['status']> = {
      [modelStatus.optimal]: 'optimal',
      [modelStatus.empty]: 'optimal',
      [modelStatus.objectiveTarget]: 'target',
      [modelStatus.infeasible]: 'infeasible',
      [modelStatus.unboundedOrInfeasible]: 'infeasible',
      [modelStatus.unbounded]: 'unbounded',
      [modelStatus.timeLimit]: 'time',
      [modelStatus.solutionLimit]: 'nodes',
      [modelStatus.interrupted]: 'interrupted',
    }
    post({
      id,
      kind: 'done',
      ...endOf(endedEarly() ?? names[status], stopFlag(), status),
      cost,
      bound: isMip ? Number(model.info.get('mip_dual_bound')) : cost,
      columns: hasSolution ? solution.colValue : null,
      reduced: request.relaxed && hasSolution ? solution.colDual : null,
      duals: request.relaxed && hasSolution ? solution.rowDual : null,
      iterations: Math.max(0, Number(model.info.get('simplex_iteration_count'))),
      seconds: (performance.now() - began) / 1000,
    })
  } finally {
    model.dispose()
  }
}
