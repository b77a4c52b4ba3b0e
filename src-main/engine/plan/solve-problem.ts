/**
 * Problem → proven plan. Three stages: the relaxation, which gives a first bound and the prices by which unlikely
 * options are set aside; a plan among the likely ones; then the full model with that plan as its start, which
 * either confirms it or betters it. What is claimed is what the full model proved.
 */
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'
import type { Plan, Proof, SolvedPlan, SolveProgress } from '../../../src-shared/plan.ts'
import { fail, ok, type Result } from '../../../src-shared/problem.ts'
import { CENTS_PER_UNIT, optionAt, type Build } from './build.ts'
import { checkPlan } from './check.ts'
import { dataHash } from './data-hash.ts'
import { buildModel } from './model.ts'
import { gapOf, saysOf, statusOf } from './proof.ts'
import { readBack } from './read-back.ts'
import { usefulOptions } from './reduce.ts'
import { allRules } from './rules/all-rules.ts'
import type { SolveAnswer } from './solve-worker.ts'
import { Solver } from './solver.ts'
import { sortedProblem } from './sort-problem.ts'

export interface SolveOptions {
  /** Stop when proven within this share of the least cost; 0 for the very best. */
  gap: number
  /** [s] wall clock, the last net. */
  seconds: number
  /** Round each block and order to the cent. */
  wholeCents: boolean
  onProgress?: (progress: SolveProgress) => void
  signal?: AbortSignal
}

/** Fields × varieties from which setting options aside pays for its extra stage. */
const PRUNE_FROM_OPTIONS = 1500
/** Varieties kept for each field by reduced cost. */
const LIKELY_VARIETIES = 6
const STAGES = ['relaxation', 'likely options', 'proof'] as const

/**
 * @param ownSolver a worker to use and leave running; without one, a worker is started and ended
 * @returns the plan and its proof, also where nothing fits or nothing was found; problems only for a fault of ours
 */
export async function solveProblem(
  given: PlanProblem,
  options: SolveOptions,
  ownSolver?: Solver,
): Promise<Result<SolvedPlan>> {
  const solver = ownSolver ?? new Solver()
  const problem = sortedProblem(given)
  const rules = allRules(problem)
  const began = performance.now()
  const secondsLeft = () => Math.max(0.1, options.seconds - (performance.now() - began) / 1000)
  const stages: Proof['stages'] = []
  let bound = -Infinity
  let best = Infinity

  const run = async (
    stage: (typeof STAGES)[number],
    build: Build,
    extra: { gap: number; start?: Float64Array; relaxed?: boolean; presolve?: boolean },
  ) => {
    const tell = (cost: number, stageBound: number) => {
      const isBound = stage !== 'likely options'
      if (Number.isFinite(cost) && !extra.relaxed) best = Math.min(best, cost)
      if (isBound && Number.isFinite(stageBound)) bound = Math.max(bound, stageBound)
      options.onProgress?.({
        stage,
        stageNumber: STAGES.indexOf(stage) + 1,
        stages: STAGES.length,
        costCents: finite(best * CENTS_PER_UNIT),
        boundCents: finite(bound * CENTS_PER_UNIT),
        gap: gapOf(finite(best), finite(bound)),
        seconds: (performance.now() - began) / 1000,
      })
    }
    const answer = await solver.run(build.model.arrays(), {
      ...extra,
      seconds: secondsLeft(),
      signal: options.signal,
      onProgress: tell,
    })
    tell(answer.cost, answer.bound)
    stages.push({
      name: stage,
      seconds: round(answer.seconds, 3),
      costCents: finite(answer.cost * CENTS_PER_UNIT),
      boundCents: finite(answer.bound * CENTS_PER_UNIT),
    })
    return answer
  }

  try {
    const full = buildModel(problem, { rules, wholePacks: true })
    let start: Float64Array | undefined
    if (full.options.length >= PRUNE_FROM_OPTIONS) {
      const relaxation = buildModel(problem, { rules, wholePacks: false })
      const relaxed = await run('relaxation', relaxation, { gap: 0, relaxed: true })
      if (relaxed.status === 'optimal' && relaxed.reduced && !options.signal?.aborted) {
        const only = likelyOptions(relaxation, relaxed)
        const likely = buildModel(problem, { rules, wholePacks: true, only })
        const found = await run('likely options', likely, { gap: Math.max(options.gap / 2, 1e-4) })
        if (found.columns) start = carryOver(likely, full, found.columns)
      }
    }
    const answer = await run('proof', full, {
      gap: options.gap,
      start,
      // Measured: presolve doubles the time of models with whole packs and halves it without.
      presolve: !problem.quotes.some((quote) => quote.packPounds !== undefined),
    })
    if (answer.status === 'failed' && answer.columns === null && start === undefined) {
      return fail({
        code: 'engine-stopped',
        what: 'The solver stopped without an answer.',
        remedy: 'Ask for the plan again; the plan in hand is kept.',
      })
    }
    const columns = answer.columns ?? start ?? null
    const plan = columns === null ? null : readBack(full, columns, options.wholeCents)
    const problems = plan === null ? [] : checkPlan(problem, rules, plan)
    if (problems.length > 0) return fail(...problems)
    return ok({ plan, proof: proofOf(problem, options, plan, answer, bound, stages, began) })
  } finally {
    if (ownSolver === undefined) await solver.close()
  }
}

function proofOf(
  problem: PlanProblem,
  options: SolveOptions,
  plan: Plan | null,
  answer: SolveAnswer,
  bound: number,
  stages: Proof['stages'],
  began: number,
): Proof {
  const costCents = plan?.totals.costCents ?? null
  const boundCents = finite(Math.max(bound, answer.bound) * CENTS_PER_UNIT)
  const gap = gapOf(costCents, boundCents)
  const endings: Record<SolveAnswer['status'], Proof['endedBy']> = {
    optimal: options.gap > 0 && gap !== null && gap > 1e-9 ? 'gap' : 'proof',
    infeasible: 'nothing-fits',
    unbounded: 'nothing-fits',
    time: 'time',
    nodes: 'nodes',
    interrupted: 'you',
    failed: 'time',
  }
  const endedBy = endings[answer.status]
  const status = statusOf(endedBy, plan !== null, gap, options.gap)
  return {
    status,
    says: saysOf(status, gap, costCents, boundCents),
    endedBy,
    costCents,
    boundCents,
    gap,
    wantedGap: options.gap,
    stages,
    seconds: round((performance.now() - began) / 1000, 3),
    solver: 'HiGHS',
    dataHash: dataHash(problem),
  }
}

/** Options of the varieties with the smallest reduced cost on each field; whatever the relaxation used stays. */
function likelyOptions(relaxation: Build, answer: SolveAnswer): number[] {
  const { problem } = relaxation
  const reduced = answer.reduced as Float64Array
  const values = answer.columns as Float64Array
  const kept: number[] = []
  for (const own of relaxation.byField.values()) {
    const best = new Map<string, number>()
    for (const { option, share } of own) {
      const { variety } = optionAt(problem, option)
      const cost = (values[share] as number) > 1e-7 ? -1 : (reduced[share] as number)
      best.set(variety, Math.min(best.get(variety) ?? Infinity, cost))
    }
    const likely = [...best].sort((a, b) => a[1] - b[1]).slice(0, LIKELY_VARIETIES)
    const names = new Set([...likely, ...[...best].filter(([, cost]) => cost < 0)].map(([variety]) => variety))
    kept.push(...own.filter(({ option }) => names.has(optionAt(problem, option).variety)).map(({ option }) => option))
  }
  const locked = new Set(problem.rules.locks.map((lock) => lock.field))
  const more = usefulOptions(problem).filter((index) => locked.has(optionAt(problem, index).field))
  return [...new Set([...kept, ...more])].sort((a, b) => a - b)
}

/** A solution of the smaller model in the columns of the full one: options by what they are, the rest in order. */
function carryOver(small: Build, full: Build, columns: Float64Array): Float64Array {
  const start = new Float64Array(full.model.columns)
  const at = (column: number) => columns[column] as number
  const place = new Map(full.options.map((each) => [each.option, each]))
  for (const each of small.options) {
    const there = place.get(each.option)
    if (there === undefined) continue
    start[there.share] = at(each.share)
    if (there.chosen !== null && each.chosen !== null) start[there.chosen] = at(each.chosen)
  }
  const others = otherColumns(full)
  otherColumns(small).forEach((column, index) => {
    start[others[index] as number] = at(column)
  })
  return start
}

/** Columns that belong to no option: the same in number and order in every model of one problem. */
function otherColumns(build: Build): number[] {
  const own = new Set(build.options.flatMap(({ share, chosen }) => [share, chosen]))
  return Array.from({ length: build.model.columns }, (_, column) => column).filter((column) => !own.has(column))
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null
}

function round(value: number, places: number): number {
  return Number(value.toFixed(places))
}
