/**
 * Problem → proven plan. First the relaxation: a bound, and a price on every option that it left aside. A plan with
 * an option priced at p costs at least the relaxation plus p. So the whole-pack model is built of the options priced
 * within reach only, and what it proves holds for all of them; where the plan found leaves more within reach, the
 * reach is widened and the model solved again from that plan.
 */
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'
import type { Plan, Proof, SolvedPlan, SolveProgress } from '../../../src-shared/plan.ts'
import { fail, ok, type Result } from '../../../src-shared/problem.ts'
import { CENTS_PER_UNIT, isWhole, optionAt, type Build } from './build.ts'
import { checkPlan } from './check.ts'
import { dataHash } from './data-hash.ts'
import { buildModel } from './model.ts'
import { gapOf, saysOf, statusOf } from './proof.ts'
import { readBack } from './read-back.ts'
import { allRules } from './rules/all-rules.ts'
import type { NamedRule } from './rules/named-rule.ts'
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

/** Options from which setting some aside pays for the relaxation. */
const PRICE_FROM_OPTIONS = 120
/** First reach, as a share of the relaxation's cost: small enough to find a good plan fast. */
const FIRST_REACH = 0.0003
/** The solver aims a little below the gap asked for: rounding to the cent must not push the plan over it. */
const AIM = 0.97
const STAGES = ['relaxation', 'likely options', 'all options in reach'] as const
type Stage = (typeof STAGES)[number]

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
  try {
    const problem = sortedProblem(given)
    const rules = allRules(problem)
    const search = new Search(problem, rules, options, solver)
    const ended = await search.run()
    if (ended === 'failed') {
      return fail({
        code: 'engine-stopped',
        what: 'The solver stopped without an answer.',
        remedy: 'Ask for the plan again; the plan in hand is kept.',
      })
    }
    const plan = search.best === null ? null : readBack(search.best.build, search.best.columns, options.wholeCents)
    const problems = plan === null ? [] : checkPlan(problem, rules, plan)
    if (problems.length > 0) return fail(...problems)
    return ok({ plan, proof: proofOf(problem, options, plan, ended, search) })
  } finally {
    if (ownSolver === undefined) await solver.close()
  }
}

/** One search for a plan: what is known so far, and the steps that add to it. Costs are in the solver's unit. */
class Search {
  best: { build: Build; columns: Float64Array; cost: number } | null = null
  bound = -Infinity
  readonly stages: Proof['stages'] = []
  private readonly began = performance.now()
  private readonly problem: PlanProblem
  private readonly rules: readonly NamedRule[]
  private readonly options: SolveOptions
  private readonly solver: Solver

  constructor(problem: PlanProblem, rules: readonly NamedRule[], options: SolveOptions, solver: Solver) {
    this.problem = problem
    this.rules = rules
    this.options = options
    this.solver = solver
  }

  get seconds(): number {
    return round((performance.now() - this.began) / 1000, 3)
  }

  async run(): Promise<SolveAnswer['status']> {
    const { problem, rules, options } = this
    const relaxation = buildModel(problem, { rules, wholePacks: false })
    if (relaxation.options.length < PRICE_FROM_OPTIONS) {
      const build = buildModel(problem, { rules, wholePacks: true })
      const answer = await this.solve('all options in reach', build, -Infinity)
      this.bound = Math.max(this.bound, answer.bound)
      return answer.status
    }
    const relaxed = await this.step('relaxation', relaxation, { gap: 0, relaxed: true })
    if (relaxed.status !== 'optimal' || relaxed.reduced === null) return relaxed.status
    this.bound = relaxed.cost
    const prices = pricesOf(relaxation, relaxed)
    let reach = Math.abs(relaxed.cost) * FIRST_REACH
    for (let pass = 0; ; pass++) {
      const only = relaxation.options.flatMap(({ option }, index) =>
        (prices[index] as number) <= reach ? [option] : [],
      )
      const isAll = only.length === relaxation.options.length
      const build = buildModel(problem, { rules, wholePacks: true, only })
      const answer = await this.solve(pass === 0 ? 'likely options' : 'all options in reach', build, relaxed.cost)
      // A plan with an option out of reach costs at least this much; one without is bounded by the model.
      const outOfReach = isAll ? Infinity : relaxed.cost + reach
      const proven = answer.status === 'infeasible' ? Infinity : answer.bound
      this.bound = Math.max(this.bound, Math.min(proven, outOfReach))
      if (isAll || answer.status === 'failed') return answer.status
      if (answer.status === 'infeasible') {
        reach *= 10
        continue
      }
      if (answer.status !== 'optimal' || this.best === null) return answer.status
      const wanted = this.best.cost - options.gap * (1 + AIM) * 0.5 * Math.abs(this.best.cost)
      if (this.bound >= wanted - 1e-9 * Math.abs(wanted)) return 'optimal'
      // Widened just so far that no option left aside could belong to a plan worth having.
      reach = Math.max((wanted - relaxed.cost) * (1 + 1e-6), reach * 1.01)
    }
  }

  /** A whole-pack model, from the best plan so far; keeps a better one. */
  private async solve(stage: Stage, build: Build, floor: number): Promise<SolveAnswer> {
    const start = this.best === null ? undefined : carryOver(this.best.build, build, this.best.columns)
    // Measured: presolve doubles the time of large models with whole packs and halves it without.
    const presolve = !this.problem.quotes.some((quote) => quote.packPounds !== undefined)
    const answer = await this.step(stage, build, { gap: this.options.gap * AIM, start, presolve, floor })
    if (answer.columns !== null && (this.best === null || answer.cost <= this.best.cost)) {
      this.best = { build, columns: answer.columns, cost: answer.cost }
    }
    return answer
  }

  private async step(
    stage: Stage,
    build: Build,
    how: { gap: number; start?: Float64Array; relaxed?: boolean; presolve?: boolean; floor?: number },
  ): Promise<SolveAnswer> {
    const { floor = -Infinity, ...settings } = how
    const tell = (cost: number, bound: number) =>
      this.tell(stage, how.relaxed ? Infinity : cost, Math.max(bound, floor))
    const answer = await this.solver.run(build.model.arrays(), {
      ...settings,
      seconds: Math.max(0.1, this.options.seconds - this.seconds),
      signal: this.options.signal,
      onProgress: tell,
    })
    tell(answer.cost, answer.bound)
    this.stages.push({
      name: stage,
      seconds: round(answer.seconds, 3),
      costCents: finite(answer.cost * CENTS_PER_UNIT),
      boundCents: finite(answer.bound * CENTS_PER_UNIT),
    })
    return answer
  }

  /** The bound told while a partial model runs is the proven one only: never more than is known of all options. */
  private tell(stage: Stage, cost: number, stageBound: number): void {
    const best = Math.min(cost, this.best?.cost ?? Infinity)
    const bound =
      stage === 'likely options'
        ? this.bound
        : Math.max(this.bound, Number.isFinite(stageBound) ? Math.min(stageBound, best) : -Infinity)
    this.options.onProgress?.({
      stage,
      stageNumber: STAGES.indexOf(stage) + 1,
      stages: STAGES.length,
      costCents: finite(best * CENTS_PER_UNIT),
      boundCents: finite(bound * CENTS_PER_UNIT),
      gap: gapOf(finite(best), finite(bound)),
      seconds: this.seconds,
    })
  }
}

/**
 * For each option of the relaxation the least by which a plan that uses it must cost more than the relaxation:
 * its reduced cost, times the smallest share it can take. Used ones and shares without a minimum are at 0.
 */
function pricesOf(relaxation: Build, answer: SolveAnswer): number[] {
  const { problem } = relaxation
  const values = answer.columns as Float64Array
  const reduced = answer.reduced as Float64Array
  const fields = new Map(problem.fields.map((field) => [field.id, field]))
  return relaxation.options.map(({ option, share, chosen }) => {
    const field = fields.get(optionAt(problem, option).field)
    if (field === undefined || (values[share] as number) > 1e-9) return 0
    if (isWhole(field)) return Math.max(0, reduced[share] as number)
    const least = (field.split?.leastBlockAcres ?? 0) / field.acres
    const onBlock = chosen === null ? 0 : Math.max(0, reduced[chosen] as number)
    return Math.max(0, reduced[share] as number) * least + onBlock
  })
}

function proofOf(
  problem: PlanProblem,
  options: SolveOptions,
  plan: Plan | null,
  ended: SolveAnswer['status'],
  search: Search,
): Proof {
  const costCents = plan?.totals.costCents ?? null
  const boundCents = finite(search.bound * CENTS_PER_UNIT)
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
  const endedBy = endings[ended]
  const status = statusOf(endedBy, plan !== null, gap, options.gap)
  return {
    status,
    says: saysOf(status, gap, costCents, boundCents),
    endedBy,
    costCents,
    boundCents: status === 'nothing-fits' ? null : boundCents,
    gap,
    wantedGap: options.gap,
    stages: search.stages,
    seconds: search.seconds,
    solver: 'HiGHS',
    dataHash: dataHash(problem),
  }
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
