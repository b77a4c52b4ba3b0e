/**
 * The relaxation: fields and packs in any share. Its cost bounds every plan, and it prices each option it leaves aside.
 * A large farm's is not solved whole: a model of the cheapest options is, and its duals price all the others, a batch of
 * fields at a time; whatever would lower the cost joins the model, until nothing would. Then the cost is the relaxation's
 * own, and every option has its price, with only a part of them ever in a model.
 */
import type { PlanProblem, ProblemField } from '../../../src-shared/plan-problem.ts'
import { columnsOf, optionAt, type Build } from './build.ts'
import { buildModel, type ModelChoices } from './model.ts'
import { costOfField, fieldBound, priceAbove, wholeField, type Charged } from './field-bound.ts'
import { pricesOf } from './option-prices.ts'
import { packWeight } from './pack-weight.ts'
import { weightedCents } from './reduce.ts'
import type { SolveAnswer } from './run-model.ts'

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
const BATCH = 20_000
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
  const part = new Set(cheapest(problem, byField))
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const build = buildModel(problem, {
      ...kept,
      wholePacks: false,
      grouped: false,
      only: [...part].sort((a, b) => a - b),
    })
    const answer = await solve(build)
    // Too few options to fit: the part that was chosen proves nothing of the whole.
    if (answer.status === 'infeasible') return inOne(problem, kept, options, solve)
    if (answer.status !== 'optimal' || answer.duals === null)
      return { status: answer.status, cost: answer.cost, options, prices: [] }
    const priced = priceAll(problem, kept, byField, build, answer)
    const isDone = -priced.saved <= NO_MATTER * Math.abs(answer.cost)
    const joining = isDone ? [] : priced.joining.filter((index) => !part.has(index))
    // What could still be saved lowers the bound; where nothing new would save it, that is all there is to it.
    if (joining.length === 0) {
      const prices = options.map((index) => priced.prices[index] as number)
      return { status: 'optimal', cost: answer.cost + priced.saved, options, prices }
    }
    for (const index of joining) part.add(index)
  }
  return inOne(problem, kept, options, solve)
}

async function inOne(
  problem: PlanProblem,
  kept: Kept,
  options: number[],
  solve: (build: Build) => Promise<SolveAnswer>,
): Promise<Relaxation> {
  const build = buildModel(problem, { ...kept, wholePacks: false, grouped: false, only: options })
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

interface Priced {
  /** By index into `problem.options`; of those that a plan may use. */
  prices: Float64Array
  /** [unit of the model's cost] ≤ 0: what options outside the part could still take off its cost, at most. */
  saved: number
  /** Options that would take something off. */
  joining: number[]
}

/** Prices of all options by the duals of a part: in models of a batch of fields, whose rows are found by name. */
function priceAll(
  problem: PlanProblem,
  kept: Kept,
  byField: ReadonlyMap<string, readonly number[]>,
  part: Build,
  answer: SolveAnswer,
): Priced {
  const duals = new Map<string, number>()
  part.model.rowNames().forEach(({ key, scale }, row) => {
    const dual = (answer.duals as Float64Array)[row] as number
    if (key !== null && dual !== 0) duals.set(key, dual * scale)
  })
  const inPart = chargedBy(part, duals)
  const fields = new Map(problem.fields.map((field) => [field.id, field]))
  const prices = new Float64Array(problem.options.length).fill(Infinity)
  const joining: number[] = []
  let saved = 0
  let batch: [field: string, options: readonly number[]][] = []
  const flush = () => {
    const only = batch.flatMap(([, own]) => own)
    const probe = buildModel(problem, { ...kept, wholePacks: false, grouped: false, only })
    const charged = chargedBy(probe, duals)
    for (const [id] of batch) {
      const bound = fieldBound(probe, fields.get(id) as ProblemField, charged)
      const now = costOfField(part, id, answer.columns as Float64Array, inPart)
      saved += Math.min(0, bound.least + bound.paid - now)
      const own = columnsOf(probe.byField, id)
      for (const column of own) prices[column.option] = priceAbove(bound, column, charged)
      const better = own.filter((column) => Number.isFinite(prices[column.option]) && wholeField(column, charged) < now)
      better.sort((a, b) => wholeField(a, charged) - wholeField(b, charged))
      joining.push(...better.slice(0, JOIN).map(({ option }) => option))
    }
    batch = []
  }
  let waiting = 0
  for (const [field, own] of byField) {
    batch.push([field, own])
    waiting += own.length
    if (waiting < BATCH) continue
    flush()
    waiting = 0
  }
  if (batch.length > 0) flush()
  return { prices, saved, joining }
}

/** Costs less what the rows' duals give back, by column; a row that the part does not have counts nothing. */
function chargedBy(build: Build, duals: ReadonlyMap<string, number>): Charged {
  const model = build.model.arrays()
  const reduced = Float64Array.from(model.cost)
  build.model.rowNames().forEach(({ key, scale }, row) => {
    const dual = key === null ? undefined : duals.get(key)
    if (dual === undefined) return
    for (let k = model.starts[row] as number; k < (model.starts[row + 1] as number); k++) {
      const column = model.indices[k] as number
      reduced[column] = (reduced[column] as number) - (dual * (model.values[k] as number)) / scale
    }
  })
  return { reduced, upper: model.upper }
}
