/**
 * Solves a problem that is close to one already solved: a choice forced, a rule taken away, a price moved, a limit
 * set. First a plan near the plan in hand (its own varieties, and what the relaxation likes), quick to find; then,
 * from that plan, everything the relaxation prices within its reach, so that what is proven holds for all options.
 */
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'
import type { Plan, PlanBlock, Proof, SolvedPlan } from '../../../src-shared/plan.ts'
import { fail, ok, type Problem, type Result } from '../../../src-shared/problem.ts'
import { CENTS_PER_UNIT, optionAt, type Build } from './build.ts'
import { checkPlan } from './check.ts'
import { carryOver } from './carry-over.ts'
import { buildModel } from './model.ts'
import { optionsWithin, pricesOf } from './option-prices.ts'
import { proofOf } from './proof.ts'
import { readBack } from './read-back.ts'
import { allRules } from './rules/all-rules.ts'
import type { NamedRule } from './rules/named-rule.ts'
import type { SolveAnswer } from './solve-worker.ts'
import type { Solver } from './solver.ts'
import { sortedProblem } from './sort-problem.ts'

export interface ResolveOptions {
  /** Stop when proven within this share of the least cost; 0 for the very best. */
  gap: number
  /** [s] wall clock. */
  seconds: number
  wholeCents: boolean
  /** The plan in hand; null starts from the relaxation alone. */
  near: Plan | null
  signal?: AbortSignal
}

/** The solver aims a little below the gap asked for: rounding to the cent must not push the plan over it. */
const AIM = 0.97
/** The first, narrow model only has to give a good start. */
const START_GAP = 0.002
const START_SECONDS = 3

/** @returns the plan and its proof, also where nothing fits; problems only for a fault of ours */
export async function resolveNear(
  given: PlanProblem,
  options: ResolveOptions,
  solver: Solver,
): Promise<Result<SolvedPlan>> {
  const problem = sortedProblem(given)
  const rules = allRules(problem)
  const search = new NearSearch(problem, rules, options, solver)
  const ended = await search.run()
  if (ended === 'failed') {
    return fail({
      code: 'engine-stopped',
      what: 'The solver stopped without an answer.',
      remedy: 'Ask again; the plan in hand is kept.',
    })
  }
  const { best } = search
  const plan = best === null ? null : readBack(best.build, best.columns, options.wholeCents)
  const faults = plan === null ? [] : checkPlan(problem, rules, plan)
  if (plan !== null && isBelowBound(plan, search.bound * CENTS_PER_UNIT)) faults.push(belowBound)
  return faults.length > 0 ? fail(...faults) : ok({ plan, proof: proofOf(problem, options.gap, plan, ended, search) })
}

/** A plan cheaper than what was proven to be the least by more than rounding: then the proof is worth nothing. */
function isBelowBound(plan: Plan, boundCents: number): boolean {
  const rounding = plan.blocks.length + plan.purchases.length + 1
  return plan.totals.costCents < boundCents - rounding - 1e-4 * Math.abs(boundCents)
}

const belowBound: Problem = {
  code: 'bug',
  what: 'The solver proved a bound that its own plan undercuts.',
  remedy: 'Please report this with the season file; the figure is not shown.',
}

class NearSearch {
  best: { build: Build; columns: Float64Array; cost: number } | null = null
  bound = -Infinity
  readonly stages: Proof['stages'] = []
  private readonly began = performance.now()
  private readonly problem: PlanProblem
  private readonly rules: readonly NamedRule[]
  private readonly options: ResolveOptions
  private readonly solver: Solver

  constructor(problem: PlanProblem, rules: readonly NamedRule[], options: ResolveOptions, solver: Solver) {
    this.problem = problem
    this.rules = rules
    this.options = options
    this.solver = solver
  }

  get seconds(): number {
    return Number(((performance.now() - this.began) / 1000).toFixed(3))
  }

  async run(): Promise<SolveAnswer['status']> {
    const { problem, rules } = this
    const relaxation = buildModel(problem, { rules, wholePacks: false })
    const relaxed = await this.step('relaxation', relaxation, { gap: 0, relaxed: true, seconds: this.options.seconds })
    if (relaxed.status !== 'optimal') return relaxed.status
    this.bound = relaxed.cost
    const prices = pricesOf(relaxation, relaxed)
    const near = this.nearOptions(relaxation, relaxed, prices)
    await this.standStill(relaxation)
    if (this.best !== null && this.options.signal?.aborted) return 'interrupted'
    let hasStart = false
    for (let reach = 0; !hasStart && near.size < prices.length; reach = widened(reach, relaxed.cost)) {
      for (const option of optionsWithin(relaxation, prices, reach)) near.add(option)
      const first = this.build([...near].sort((a, b) => a - b))
      const answer = await this.step('near the plan in hand', first, {
        gap: START_GAP,
        seconds: Math.min(START_SECONDS, this.secondsLeft),
        start: this.startFor(first),
      })
      this.keep(first, answer)
      if (answer.status === 'interrupted' || answer.status === 'failed') return answer.status
      hasStart = answer.status !== 'infeasible'
    }
    // An option priced beyond what the start costs more than the relaxation belongs to no better plan.
    const reach = this.best === null ? Infinity : (this.best.cost - relaxed.cost) * (1 + 1e-9) + 1e-6
    const only = optionsWithin(relaxation, prices, reach)
    const build = this.build(only)
    const answer = await this.step('all options in reach', build, {
      gap: this.options.gap * AIM,
      seconds: this.secondsLeft,
      start: this.startFor(build),
    })
    this.keep(build, answer)
    if (answer.status !== 'infeasible') this.bound = Math.max(this.bound, answer.bound)
    // A start that the solver could not take up is still a plan.
    return answer.status === 'infeasible' && this.best !== null ? 'time' : answer.status
  }

  /** Options of the varieties that the plan in hand has where it has them, and those the relaxation uses. */
  private nearOptions(relaxation: Build, relaxed: SolveAnswer, prices: readonly number[]): Set<number> {
    const inHand = new Set(this.options.near?.blocks.map((block) => JSON.stringify([block.field, block.variety])))
    const near = new Set<number>()
    relaxation.options.forEach(({ option, share }, index) => {
      const { field, variety } = optionAt(this.problem, option)
      const isUsed = (relaxed.columns?.[share] ?? 0) > 1e-9 || (inHand.size === 0 && prices[index] === 0)
      if (isUsed || inHand.has(JSON.stringify([field, variety]))) near.add(option)
    })
    return near
  }

  /** The plan in hand itself, its fields where they are and its packs bought anew, where the rules still allow it. */
  private async standStill(relaxation: Build): Promise<void> {
    const { near } = this.options
    if (near === null) return
    const acres = new Map(near.blocks.map((block) => [blockKey(block), block.acres]))
    const only = relaxation.options.flatMap(({ option }) =>
      acres.has(blockKey(optionAt(this.problem, option))) ? [option] : [],
    )
    if (only.length !== acres.size) return
    const build = this.build(only)
    // Holding a column would lift what a rule has forbidden, so that is looked at first.
    const { upper } = build.model.arrays()
    for (const { option, share, chosen } of build.options) {
      const own = optionAt(this.problem, option)
      const part = (acres.get(blockKey(own)) as number) / (build.acresOf.get(own.field) as number)
      if (part > (upper[share] as number) + 1e-6) return
      build.model.fix(share, Math.min(1, part))
      if (chosen !== null && chosen !== share) build.model.fix(chosen, 1)
    }
    this.keep(build, await this.step('the plan in hand', build, { gap: START_GAP, seconds: 1 }))
  }

  private build(only: readonly number[]): Build {
    return buildModel(this.problem, { rules: this.rules, wholePacks: true, only })
  }

  private get secondsLeft(): number {
    return Math.max(0.1, this.options.seconds - this.seconds)
  }

  private startFor(build: Build): Float64Array | undefined {
    return this.best === null ? undefined : carryOver(this.best.build, build, this.best.columns)
  }

  private keep(build: Build, answer: SolveAnswer): void {
    if (answer.columns !== null && (this.best === null || answer.cost <= this.best.cost)) {
      this.best = { build, columns: answer.columns, cost: answer.cost }
    }
  }

  private async step(
    name: string,
    build: Build,
    how: { gap: number; seconds: number; start?: Float64Array; relaxed?: boolean },
  ): Promise<SolveAnswer> {
    // Measured: without presolve models with whole packs are quicker, others slower.
    const presolve = how.relaxed === true || !this.problem.quotes.some((quote) => quote.packPounds !== undefined)
    const answer = await this.solver.run(build.model.arrays(), { ...how, presolve, signal: this.options.signal })
    this.stages.push({
      name,
      seconds: Number(answer.seconds.toFixed(3)),
      costCents: finite(answer.cost * CENTS_PER_UNIT),
      boundCents: finite(answer.bound * CENTS_PER_UNIT),
    })
    return answer
  }
}

function blockKey({
  field,
  variety,
  window,
  programme,
}: Pick<PlanBlock, 'field' | 'variety' | 'window' | 'programme'>) {
  return JSON.stringify([field, variety, window, programme])
}

/** [unit of the model's cost] The next reach for a first plan: a small share of the cost, then ten times as far. */
function widened(reach: number, cost: number): number {
  return reach === 0 ? Math.max(1, Math.abs(cost) * 0.0003) : reach * 10
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null
}
