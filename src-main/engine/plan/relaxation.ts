/**
 * The relaxation: fields and packs in any share. Its cost bounds every plan, and it prices each option it leaves aside.
 * A large farm's is not solved whole: a model of the cheapest options is, and its duals price all the others, a batch of
 * fields at a time; whatever would lower the cost joins the model, until nothing would. Then the cost is the relaxation's
 * own, and every option has its price, with only a part of them ever in a model.
 */
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'
import { optionAt, type Build } from './build.ts'
import { buildModel, type ModelChoices } from './model.ts'
import { priceOf, pricesOf } from './option-prices.ts'
import { packWeight } from './purchase-price.ts'
import { weightedCents } from './reduce.ts'
import type { SolveAnswer } from './solve-worker.ts'

export interface Relaxation {
  status: SolveAnswer['status']
  /** [unit of the model's cost] */
  cost: number
  /** Indices into `problem.options` of all that a plan may use. */
  options: number[]
  /** By how much a plan with the option must cost more; same order. Empty where the relaxation was not solved. */
  prices: number[]
}

/** The rules in force, and what may give way of them. */
type Kept = Pick<ModelChoices, 'rules' | 'loosened'>

/** Options from which the relaxation is solved in parts. */
const WHOLE_UP_TO = 60_000
/** Options priced at a time. */
const BATCH = 40_000
/** Options of one field that may join in one round. */
const JOIN = 3
/** Savings that could still be made, as a share of the cost, that the bound is lowered by instead of going on. */
const NO_MATTER = 1e-6
const MOST_ROUNDS = 40

/** @param options indices into `problem.options` of all that a plan may use: see `usefulOptions` */
export async function relax(
  problem: PlanProblem,
  kept: Kept,
  options: number[],
  solve: (build: Build) => Promise<SolveAnswer>,
  wholeUpTo = WHOLE_UP_TO,
): Promise<Relaxation> {
  if (options.length <= wholeUpTo) return inOne(problem, kept, options, solve)
  const byField = Map.groupBy(options, (index) => optionAt(problem, index).field)
  let part = cheapest(problem, byField)
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const build = buildModel(problem, { ...kept, wholePacks: false, only: part })
    const answer = await solve(build)
    // Too few options to fit: the part that was chosen proves nothing of the whole.
    if (answer.status === 'infeasible') return inOne(problem, kept, options, solve)
    if (answer.status !== 'optimal' || answer.duals === null)
      return { status: answer.status, cost: answer.cost, options, prices: [] }
    const priced = priceAll(problem, kept, byField, build, answer)
    // A field has one share to give, so all that could still be saved is each field's best saving, once.
    const savings = new Map(
      [...byField].map(([field, own]) => [field, Math.min(0, ...own.map((index) => priced.get(index) ?? 0))]),
    )
    const saved = [...savings.values()].reduce((sum, saving) => sum + saving, 0)
    if (-saved <= NO_MATTER * Math.abs(answer.cost)) {
      const prices = options.map(
        (index) => (priced.get(index) ?? 0) - (savings.get(optionAt(problem, index).field) ?? 0),
      )
      return { status: 'optimal', cost: answer.cost + saved, options, prices }
    }
    const joining = joiners(byField, priced)
    part = [...new Set([...part, ...joining])].sort((a, b) => a - b)
  }
  return inOne(problem, kept, options, solve)
}

async function inOne(
  problem: PlanProblem,
  kept: Kept,
  options: number[],
  solve: (build: Build) => Promise<SolveAnswer>,
): Promise<Relaxation> {
  const build = buildModel(problem, { ...kept, wholePacks: false, only: options })
  const answer = await solve(build)
  const isSolved = answer.status === 'optimal' && answer.reduced !== null
  const order = build.options.map(({ option }) => option)
  return { status: answer.status, cost: answer.cost, options: order, prices: isSolved ? pricesOf(build, answer) : [] }
}

/**
 * The cheapest option of each variety on each field, seed counted at the lowest price there is. One of each, so that
 * every row which ties a field to a variety is in the part and has its dual.
 */
function cheapest(problem: PlanProblem, byField: ReadonlyMap<string, readonly number[]>): number[] {
  const perPound = new Map<string, number>()
  for (const quote of problem.quotes) {
    const prices = [quote.packPriceCents, ...quote.breaks.map((each) => each.packPriceCents)]
    const lowest = Math.min(...prices) / packWeight(quote)
    perPound.set(quote.variety, Math.min(perPound.get(quote.variety) ?? Infinity, lowest))
  }
  const locked = new Set(problem.rules.locks.map((lock) => `${lock.field}/${lock.variety}`))
  const part: number[] = []
  for (const own of byField.values()) {
    const best = new Map<string, { index: number; cents: number }>()
    for (const index of own) {
      const option = optionAt(problem, index)
      if (locked.has(`${option.field}/${option.variety}`)) part.push(index)
      const seed = option.poundsPerAcre * (perPound.get(option.variety) ?? 0)
      const cents = weightedCents(option, problem.rules.riskWeight) + seed
      if (cents < (best.get(option.variety)?.cents ?? Infinity)) best.set(option.variety, { index, cents })
    }
    part.push(...[...best.values()].map(({ index }) => index))
  }
  return [...new Set(part)].sort((a, b) => a - b)
}

/** Prices of all options by the duals of a part: in models of a batch of fields, whose rows are found by name. */
function priceAll(
  problem: PlanProblem,
  kept: Kept,
  byField: ReadonlyMap<string, readonly number[]>,
  part: Build,
  answer: SolveAnswer,
): Map<number, number> {
  const duals = new Map<string, number>()
  part.model.rowNames().forEach(({ key, scale }, row) => {
    const dual = (answer.duals as Float64Array)[row] as number
    if (key !== null && dual !== 0) duals.set(key, dual * scale)
  })
  const prices = new Map<number, number>()
  let batch: number[] = []
  const flush = () => {
    const probe = buildModel(problem, { ...kept, wholePacks: false, only: batch })
    const reduced = reducedCosts(probe, duals)
    for (const column of probe.options) prices.set(column.option, priceOf(probe, column, reduced))
    batch = []
  }
  for (const own of byField.values()) {
    batch.push(...own)
    if (batch.length >= BATCH) flush()
  }
  if (batch.length > 0) flush()
  return prices
}

/** Cost less what the rows' duals give back, by column; a row that the part does not have counts nothing. */
function reducedCosts(probe: Build, duals: ReadonlyMap<string, number>): Float64Array {
  const model = probe.model.arrays()
  const reduced = Float64Array.from(model.cost)
  probe.model.rowNames().forEach(({ key, scale }, row) => {
    const dual = key === null ? undefined : duals.get(key)
    if (dual === undefined) return
    for (let k = model.starts[row] as number; k < (model.starts[row + 1] as number); k++) {
      const column = model.indices[k] as number
      reduced[column] = (reduced[column] as number) - (dual * (model.values[k] as number)) / scale
    }
  })
  return reduced
}

/** The options of each field that would lower the cost most. */
function joiners(byField: ReadonlyMap<string, readonly number[]>, prices: ReadonlyMap<number, number>): number[] {
  return [...byField.values()].flatMap((own) =>
    own
      .filter((index) => (prices.get(index) ?? 0) < 0)
      .sort((a, b) => (prices.get(a) as number) - (prices.get(b) as number))
      .slice(0, JOIN),
  )
}
