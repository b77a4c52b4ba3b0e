/**
 * The search for a plan. First the relaxation: a bound, and a price on every option that it left aside. A plan with an
 * option priced at p costs at least the relaxation plus p. So models are built of the options priced within reach only,
 * and what they prove holds for all of them. Then dealers and price breaks are chosen, the ground in any share: few
 * columns, most of the gap. With those held, fields are placed whole and packs bought; that is nearly always proven.
 * Where it is not, fields are placed with seed in any amount and the packs for that placing bought exactly; only where
 * whole packs leave the gap open are both decided together.
 * Long because every step reads and adds to the same few things that are known.
 */
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'
import { solveStages, type Plan, type Proof, type SolveProgress, type SolveStage } from '../../../src-shared/plan.ts'
import { CENTS_PER_UNIT, type Build } from './build.ts'
import { carryOver } from './carry-over.ts'
import { choicesOf, choicesOnly as onlyChoices, holdChoices } from './choices.ts'
import { buildModel, type ModelChoices } from './model.ts'
import { groupPrices, groupReach, pricesOf, reachFor, within } from './option-prices.ts'
import { gapOf } from './proof.ts'
import { readBack } from './read-back.ts'
import { usefulOptions } from './reduce.ts'
import { relax, type Relaxation } from './relaxation.ts'
import type { NamedRule } from './rules/named-rule.ts'
import {
  AIM,
  AS_IT_STANDS,
  BEFORE_ORDERING,
  CHOICE_OPTIONS,
  CHOICE_OPTIONS_PER_FIELD,
  CHOOSING,
  FIRST_OPTIONS,
  FIRST_REACH,
  GOOD_ENOUGH,
  LAST_OPTIONS,
  MOST_OPTIONS_FOR_TIES,
  NEAREST_REACH,
  ORDER_NODES,
  PLACE_OPTIONS,
  PLACING,
  PRICE_FROM_OPTIONS,
  PROVING,
  TIDYING,
  TIDY_SHARE,
  TIE_NODES,
  TRADE_NODES,
  WORTH_KEEPING,
  WORTH_TRADING,
  lastCall,
  type Step,
} from './search-settings.ts'
import { standStill } from './stand-still.ts'
import { orderTies } from './tie-break.ts'
import { chargedVisits, tidyLimits, tidyModel } from './tidy-weeks.ts'
import type { SolveAnswer } from './run-model.ts'
import type { Solver } from './solver.ts'

export interface SearchOptions {
  gap: number
  /** [s] */
  seconds: number
  /** The plan in hand of a problem much like this one: where it still fits it is the first plan, and a start. */
  near?: Plan | null
  /** Rules that may give way by so much, in their own unit, at no cost. */
  loosened?: ModelChoices['loosened']
  onProgress?: (progress: SolveProgress) => void
  signal?: AbortSignal
}

/** What is known so far, and the steps that add to it. Costs are in the solver's unit. */
export class Search {
  best: { build: Build; columns: Float64Array; cost: number } | null = null
  bound = -Infinity
  /** What the solver said when it failed last; null while it has not. */
  fault: string | null = null
  readonly stages: Proof['stages'] = []
  private readonly began = performance.now()
  private readonly problem: PlanProblem
  private readonly rules: readonly NamedRule[]
  private readonly options: SearchOptions
  /** The gap that was asked for. */
  private readonly gap: number
  private readonly solver: Solver
  private readonly hasPacks: boolean
  /** Null where the farm is so small that nothing was priced. */
  private relaxed: Relaxation | null = null

  constructor(problem: PlanProblem, rules: readonly NamedRule[], options: SearchOptions, solver: Solver) {
    this.problem = problem
    this.rules = rules
    // Ordering weeks takes its part of the gap.
    const isDated = problem.options.some(({ week }) => week !== '')
    this.options = isDated ? { ...options, gap: options.gap * BEFORE_ORDERING } : options
    this.gap = options.gap
    this.solver = solver
    this.hasPacks = problem.quotes.some((quote) => quote.packPounds !== undefined)
  }

  get seconds(): number {
    return round((performance.now() - this.began) / 1000, 3)
  }

  /** The cost below which a plan would have to lie to leave the gap open. */
  private get wanted(): number {
    if (this.best === null) return Infinity
    return this.best.cost - this.options.gap * ((1 + AIM) / 2) * Math.abs(this.best.cost)
  }

  private get isStopped(): boolean {
    return this.options.signal?.aborted ?? false
  }

  private get isLate(): boolean {
    return this.seconds >= this.options.seconds
  }

  private get isProven(): boolean {
    return this.bound >= this.wanted - 1e-9 * Math.abs(this.wanted)
  }

  async run(): Promise<SolveAnswer['status']> {
    const status = await this.find()
    if (status === 'optimal') await this.settleTies()
    await this.tidyWeeks()
    return status
  }

  private async find(): Promise<SolveAnswer['status']> {
    const { problem, rules } = this
    const useful = usefulOptions(problem)
    await this.standStill()
    if (useful.length < PRICE_FROM_OPTIONS) return this.together(null, Infinity)
    const relaxed = await relax(problem, { rules, loosened: this.options.loosened }, useful, (build) =>
      this.step('relaxation', build, { gap: 0, relaxed: true }),
    )
    if (relaxed.status !== 'optimal') return relaxed.status
    this.relaxed = relaxed
    const { options } = relaxed
    const prices = groupPrices(problem, options, relaxed.prices)
    this.bound = relaxed.cost
    let reach = Math.min(
      Math.abs(relaxed.cost) * FIRST_REACH,
      groupReach(problem, options, prices, FIRST_OPTIONS * problem.fields.length),
    )
    let gap = this.options.gap * (this.hasPacks ? PLACING : AIM)
    const chosen = await this.chooseThenPlace(relaxed)
    if (chosen !== null) return chosen
    // With a plan found and its time over, building further models would only be late.
    if (this.best !== null && this.isLate) return this.isProven ? 'optimal' : 'time'
    let stage: SolveStage = 'placing fields'
    if (this.best !== null) {
      stage = 'placing fields again'
      reach = Math.max((this.wanted - relaxed.cost) * (1 + 1e-6), reach)
    }
    for (; ; stage = 'placing fields again') {
      const only = within(options, prices, reach)
      const isAll = only.length === options.length
      const build = this.build(false, only)
      const ceiling = isAll ? Infinity : relaxed.cost + reach
      const start = this.startFor(build)
      // With a plan in hand the question is whether a better one can be: answered, nothing further is looked for.
      const how = this.best === null ? { gap } : { gap: gap * PROVING, enough: { bound: this.wanted, orGap: gap } }
      const answer = await this.step(stage, build, { ...how, start, floor: this.bound, ceiling, isRough: true })
      this.learn(answer, ceiling)
      // Stopped with a plan in hand: what more packs might save is not worth the wait.
      if (this.isStopped && this.best !== null) return 'interrupted'
      if (this.best !== null && this.isProven) return 'optimal'
      if (answer.columns !== null) await this.buy(build, answer)
      if (this.hasPacks && this.best !== null && !this.isProven && !this.isLate)
        await this.trade(relaxed, build, answer)
      if (answer.status === 'infeasible' && !isAll) {
        reach = Math.max(reach * 10, Math.abs(relaxed.cost) * 1e-6)
        continue
      }
      if (answer.status !== 'optimal') return answer.status
      if (this.best !== null && this.isProven) return 'optimal'
      if (!this.hasPacks && isAll) return 'optimal'
      // The gap that placing alone would have to reach; where packs take nearly all of it, both go together.
      const room = (answer.cost - this.wanted) / Math.abs(answer.cost)
      const isRepeat = stage !== 'placing fields'
      if (this.best === null || isRepeat || room < 0.3 * this.options.gap) {
        return this.hasPacks || isRepeat ? this.together(relaxed, reach) : answer.status
      }
      reach = Math.max((this.wanted - relaxed.cost) * (1 + 1e-6), reach)
      gap = Math.min(gap, room * 0.9)
    }
  }

  /** Of all options: what costs more under these weights than another is still a plan. */
  private async standStill(): Promise<void> {
    const { near } = this.options
    const build = near ? standStill(this.problem, this.rules, [...this.problem.options.keys()], near) : null
    if (build !== null) this.keep(build, await this.step('the plan in hand', build, { gap: AS_IT_STANDS, seconds: 1 }))
  }

  /**
   * Dealers and breaks first, then fields and packs for them.
   * @returns how the search ended, or null where it must go on
   */
  private async chooseThenPlace(relaxed: Relaxation): Promise<SolveAnswer['status'] | null> {
    const { problem, options } = this
    const reach = reachFor(relaxed.prices, CHOICE_OPTIONS + CHOICE_OPTIONS_PER_FIELD * problem.fields.length)
    const build = this.build(false, within(relaxed.options, relaxed.prices, reach), false)
    if (choicesOf(build).length === 0) return null
    const chosen = await this.choose(relaxed, build, reach, options.gap * CHOOSING)
    if (this.best !== null && this.isProven) return 'optimal'
    if (chosen.columns === null) return null
    const placed = await this.placeFor(build, chosen)
    if (placed === 'interrupted' || placed === 'failed') return placed
    if (this.best === null) return null
    if (!this.isProven && !this.isLate && chosen.bound > this.wanted) {
      // Choices alone keep every plan above what would be better than this one: so proven with all that is in reach.
      const further = this.wanted - relaxed.cost
      const wider = this.build(false, within(relaxed.options, relaxed.prices, further), false)
      const room = (chosen.cost - this.wanted) / Math.abs(chosen.cost)
      const start = carryOver(build, wider, chosen.columns)
      const again = await this.choose(relaxed, wider, further, room * 0.9, start)
      if (again.status === 'interrupted' || again.status === 'failed' || again.status === 'time') return again.status
    }
    return this.isProven ? 'optimal' : null
  }

  /** Which dealers, breaks and varieties a plan had best use, the ground in any share. */
  private async choose(
    relaxed: Relaxation,
    build: Build,
    reach: number,
    gap: number,
    start?: Float64Array,
  ): Promise<SolveAnswer> {
    const ceiling = build.options.length === relaxed.options.length ? Infinity : relaxed.cost + reach
    const how = { gap, start, choicesOnly: true, isRough: true, isThrifty: true, floor: this.bound, ceiling }
    const answer = await this.step('choosing dealers and breaks', build, how)
    this.learn(answer, ceiling)
    return answer
  }

  /** Fields and packs whole, for dealers, breaks and varieties as they were chosen. */
  private async placeFor(chosenIn: Build, chosen: SolveAnswer): Promise<SolveAnswer['status']> {
    holdChoices(chosenIn, chosenIn, chosen.columns as Float64Array)
    const priced = await this.step('relaxation', chosenIn, { gap: 0, relaxed: true, ignoreStop: this.isStopped })
    if (priced.status !== 'optimal') return priced.status
    const options = chosenIn.options.map(({ option }) => option)
    const prices = groupPrices(this.problem, options, pricesOf(chosenIn, priced))
    // Where time ran out on a choice before it had a bound, the relaxation's still stands.
    const bound = Math.max(chosen.bound, this.bound)
    const place = async (count: number, how: Partial<Step>): Promise<SolveAnswer> => {
      const build = this.build(true, within(options, prices, groupReach(this.problem, options, prices, count)))
      holdChoices(build, chosenIn, chosen.columns as Float64Array)
      const answer = await this.step('placing fields', build, {
        gap: this.options.gap * CHOOSING,
        target: bound + this.options.gap * GOOD_ENOUGH * Math.abs(bound),
        floor: this.bound,
        // Held choices and fields with one option left: presolve takes most of the model away.
        presolve: true,
        isThrifty: true,
        ...how,
      })
      this.keep(build, answer)
      if (answer.columns !== null && !this.isStopped) await this.buy(build, answer)
      return answer
    }
    const fields = this.problem.fields.length
    const placed = await place(fields + PLACE_OPTIONS, this.isStopped ? lastCall : {})
    // Stopped before there was a plan worth having: a small model gives one soon.
    const worth = chosen.cost + WORTH_KEEPING * Math.abs(chosen.cost)
    if (this.isStopped && (this.best?.cost ?? Infinity) > worth) await place(fields + LAST_OPTIONS, lastCall)
    return this.isStopped ? 'interrupted' : placed.status
  }

  /**
   * Fields and whole packs in one model, of all options that a better plan could use.
   * @param relaxed null where the farm is so small that nothing was priced
   * @param firstReach how far to look where no plan is known yet
   */
  private async together(relaxed: Relaxation | null, firstReach: number): Promise<SolveAnswer['status']> {
    const floor = relaxed?.cost ?? -Infinity
    for (let reach = firstReach; ; reach *= 10) {
      // With a plan in hand: just so far that no option left aside could belong to a better one.
      if (this.best !== null && Number.isFinite(floor)) reach = Math.max(0, this.wanted - floor) * (1 + 1e-6)
      const { build, ceiling } = this.modelWithin(relaxed, reach)
      const answer = await this.step('fields and packs together', build, {
        gap: this.options.gap * AIM,
        start: this.startFor(build),
        floor: Number.isFinite(floor) ? floor : undefined,
        ceiling,
      })
      this.learn(answer, ceiling)
      this.keep(build, answer)
      const isDone = this.best !== null && this.isProven
      if (ceiling === Infinity || isDone || (answer.status !== 'optimal' && answer.status !== 'infeasible'))
        return answer.status
    }
  }

  /**
   * Fields and whole packs in one model, of the options within reach.
   * @returns beside it what its bound can prove of all plans at most: Infinity where no option was left aside
   */
  private modelWithin(relaxed: Relaxation | null, reach: number): { build: Build; ceiling: number } {
    if (relaxed === null || !Number.isFinite(reach)) return { build: this.build(true), ceiling: Infinity }
    const only = within(relaxed.options, this.groupPricesOf(relaxed), reach)
    const isAll = only.length === relaxed.options.length
    return { build: this.build(true, only), ceiling: isAll ? Infinity : relaxed.cost + reach }
  }

  /** The cheapest whole packs for a placing of fields. */
  private async buy(placed: Build, answer: SolveAnswer): Promise<void> {
    if (!this.hasPacks) return this.keep(placed, answer)
    const columns = answer.columns as Float64Array
    const build = this.build(
      true,
      placed.options.map(({ option }) => option),
    )
    const ground = [...build.options.flatMap(({ share, chosen }) => [share, chosen]), ...build.leftOut.values()]
    for (const column of ground) if (column !== null) build.model.fix(column, columns[column] as number)
    // Rounded up, packs nearly always do; from there the cheapest are sought.
    const start = Float64Array.from(columns)
    for (const { column } of build.packs) start[column] = Math.ceil((start[column] as number) - 1e-6)
    const bought = await this.step('buying packs', build, {
      gap: Math.min(1e-5, this.options.gap * 0.1),
      start,
      floor: this.bound,
      ...(this.isStopped || this.isLate ? lastCall : {}),
    })
    this.keep(build, bought)
  }

  /**
   * Whole packs can cost a placing much more than they must: fields may then change places with the few nearest
   * options, packs being whole. No bound comes of it, only a better plan.
   */
  private async trade(relaxed: Relaxation, placed: Build, answer: SolveAnswer): Promise<void> {
    const columns = answer.columns
    if (columns === null || this.best === null) return
    if (this.best.cost - answer.cost < WORTH_TRADING * this.options.gap * Math.abs(this.best.cost)) return
    const used = placed.options.flatMap(({ option, share }) => ((columns[share] as number) > 1e-7 ? [option] : []))
    const near = within(relaxed.options, this.groupPricesOf(relaxed), Math.abs(relaxed.cost) * NEAREST_REACH)
    const build = this.build(
      true,
      [...new Set([...used, ...near])].sort((a, b) => a - b),
    )
    const traded = await this.step('trading places', build, {
      gap: this.options.gap * 0.5,
      nodes: TRADE_NODES,
      start: this.startFor(build),
      floor: this.bound,
    })
    this.keep(build, traded)
  }

  /**
   * Among plans that cost no more than the one found, the first in the documented order (`tie-break.ts`), so that the
   * answer does not hang on how the solver happened to go. Where the order is not settled within its nodes, the plan
   * found stays.
   */
  private async settleTies(): Promise<void> {
    if (this.best === null || this.best.build.options.length > MOST_OPTIONS_FOR_TIES) return
    const build = this.build(
      true,
      this.best.build.options.map(({ option }) => option),
    )
    orderTies(build, this.best.cost)
    const start = this.startFor(build)
    const answer = await this.step('settling ties', build, { gap: 0, start, nodes: TIE_NODES, floor: this.bound })
    if (answer.status !== 'optimal' || answer.columns === null) return
    this.best = { build, columns: answer.columns, cost: this.best.cost }
  }

  /** Fields planted on and off are put in order where that costs next to nothing. Who asks for the very best gets it. */
  private async tidyWeeks(): Promise<void> {
    const { best, gap } = this
    if (best === null || gap === 0) return
    const build = tidyModel(best.build, best.columns, (only) => this.build(true, only))
    if (build === null) return
    const answer = await this.step('ordering weeks', build, { ...tidyLimits, gap: gap * TIDYING, floor: this.bound })
    if (answer.columns === null) return
    const cost = answer.cost - chargedVisits(build, answer.columns)
    if (cost > best.cost * (1 + TIDY_SHARE)) return
    // Lines of the queue count a little less than the plan that is read from them.
    const real = readBack(build, answer.columns, false).totals.costCents / CENTS_PER_UNIT
    const needed = real - gap * ((1 + AIM) / 2) * Math.abs(real)
    if (this.bound < needed) await this.raise(needed)
    if (this.bound >= needed) this.best = { build, columns: answer.columns, cost }
  }

  /** Proves, if it can soon, that no plan costs less than so much. */
  private async raise(needed: number): Promise<void> {
    const { relaxed } = this
    if (this.isStopped || this.isLate) return
    const reach = relaxed === null ? Infinity : (needed - relaxed.cost) * (1 + 1e-6)
    const { build, ceiling } = this.modelWithin(relaxed, reach)
    const answer = await this.step('fields and packs together', build, {
      gap: this.gap * TIDYING,
      enough: { bound: needed, orGap: this.gap },
      nodes: ORDER_NODES,
      start: this.startFor(build),
      floor: this.bound,
      ceiling,
    })
    this.learn(answer, ceiling)
    this.keep(build, answer)
  }

  /** @param grouped false where the ground goes in any share, so that nothing is a yes or no */
  private build(wholePacks: boolean, only?: readonly number[], grouped = true): Build {
    return buildModel(this.problem, { rules: this.rules, wholePacks, only, grouped, loosened: this.options.loosened })
  }

  private groupPricesOf({ options, prices }: Relaxation): number[] {
    return groupPrices(this.problem, options, prices)
  }

  private startFor(build: Build): Float64Array | undefined {
    return this.best === null ? undefined : carryOver(this.best.build, build, this.best.columns)
  }

  private keep(build: Build, answer: SolveAnswer): void {
    if (answer.columns === null || (this.best !== null && answer.cost > this.best.cost)) return
    this.best = { build, columns: answer.columns, cost: answer.cost }
  }

  /** @param outOfReach what a plan costs at least that uses an option the model does not have */
  private learn(answer: SolveAnswer, outOfReach: number): void {
    const proven = answer.status === 'infeasible' ? Infinity : answer.bound
    const bound = Math.min(proven, outOfReach)
    if (Number.isFinite(bound)) this.bound = Math.max(this.bound, bound)
  }

  private async step(stage: SolveStage, build: Build, how: Step): Promise<SolveAnswer> {
    const {
      floor = -Infinity,
      ceiling = floor,
      seconds,
      ignoreStop,
      isRough: isNoPlan,
      choicesOnly,
      presolve,
      isThrifty,
      ...settings
    } = how
    const tell = (cost: number, bound: number) => {
      // Seed in any amount is no plan yet: told as about what a plan will cost, until there is one.
      const isRough = isNoPlan === true && this.best === null
      const known = this.best?.cost ?? Infinity
      if (stage === 'settling ties' || stage === 'ordering weeks') return
      const best = how.relaxed || (isNoPlan && !isRough) ? known : Math.min(cost, known)
      // A model of some options bounds no more than what is known of all.
      this.tell(stage, best, Math.max(floor, Math.min(bound, ceiling)), isRough)
    }
    const ran = await this.solver.run(choicesOnly ? onlyChoices(build) : build.model.arrays(), {
      ...settings,
      // Measured: presolve doubles the time of large models with whole packs and halves it without.
      presolve: presolve ?? !this.hasPacks,
      isThrifty: isThrifty ?? this.best !== null,
      seconds: seconds ?? Math.max(0.1, this.options.seconds - this.seconds),
      signal: ignoreStop ? undefined : this.options.signal,
      onProgress: tell,
    })
    // Every column has limits: a model called unbounded is a mistake of the solver, and says nothing of the farm.
    const answer: SolveAnswer = ran.status === 'unbounded' ? { ...ran, status: 'failed', fault: ran.status } : ran
    if (answer.status === 'failed') this.fault = answer.fault ?? 'The solver gave no reason.'
    tell(answer.cost, answer.bound)
    // A settling of ties has no cost of its own, and visits are charged beside the plan's.
    const hasOwnCost = stage !== 'settling ties' && stage !== 'ordering weeks'
    this.stages.push({
      name: stage,
      seconds: round(answer.seconds, 3),
      costCents: hasOwnCost ? finite(answer.cost * CENTS_PER_UNIT) : null,
      boundCents: hasOwnCost ? finite(answer.bound * CENTS_PER_UNIT) : null,
    })
    return answer
  }

  private tell(stage: SolveStage, cost: number, bound: number, isRough: boolean): void {
    const known = Math.max(this.bound, Math.min(bound, cost))
    this.options.onProgress?.({
      stage,
      stageNumber: solveStages.indexOf(stage) + 1,
      stages: solveStages.length,
      costCents: finite(cost * CENTS_PER_UNIT),
      isRough,
      boundCents: finite(known * CENTS_PER_UNIT),
      gap: gapOf(finite(cost), finite(known)),
      seconds: this.seconds,
    })
  }
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null
}

function round(value: number, places: number): number {
  return Number(value.toFixed(places))
}
