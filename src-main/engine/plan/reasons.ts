/**
 * The reasons of a plan: a quick picture at once, then each figure worked out again in the background, one by one,
 * in the order in which a manager asks: fields first, then the varieties left out, then the rules.
 */
import type { Excluded } from '../../../src-shared/agronomy/option.ts'
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'
import type { Plan, SolvedPlan } from '../../../src-shared/plan.ts'
import type { Result } from '../../../src-shared/problem.ts'
import { ok } from '../../../src-shared/problem.ts'
import type { ExcludedChoice, Reason, Reasons } from '../../../src-shared/reasons.ts'
import { entryPrice, varietiesLeftOut } from './entry-price.ts'
import { nextBest, quickChoices } from './next-best.ts'
import { ruleCosts } from './rule-cost.ts'
import type { AgainOptions } from './solve-again.ts'
import type { Solver } from './solver.ts'

export interface RefineOptions extends AgainOptions {
  /** Next-best choices of each field. */
  choicesPerField: number
}

/** What can be said at once: bounds from one relaxation, and why each excluded choice is excluded. */
export async function quickReasons(
  problem: PlanProblem,
  excluded: readonly Excluded[],
  plan: Plan,
  solver: Solver,
  signal?: AbortSignal,
): Promise<Reasons> {
  return {
    choices: await quickChoices(problem, plan, solver, signal),
    excluded: excludedChoices(problem, excluded),
    entryPrices: [],
    ruleCosts: [],
    isRefined: false,
  }
}

/** Exclusions by field and variety: the windows that are closed to it, with every reason once. */
function excludedChoices(problem: PlanProblem, excluded: readonly Excluded[]): ExcludedChoice[] {
  const pairKey = (at: { field: string; variety: string }) => JSON.stringify([at.field, at.variety])
  const open = new Set(problem.options.map(pairKey))
  return [...Map.groupBy(excluded, pairKey)].flatMap(([key, own]) =>
    own.slice(0, 1).map(({ field, variety }) => ({
      field,
      variety,
      windows: own.map((each) => each.window),
      isEverywhere: !open.has(key),
      reasons: [...new Set(own.flatMap((each) => each.reasons))],
    })),
  )
}

/** Yields each finding as it is made; ends early, with what was found, when stopped. */
export async function* refine(
  problem: PlanProblem,
  inHand: SolvedPlan & { plan: Plan },
  options: RefineOptions,
  solver: Solver,
): AsyncGenerator<Result<Reason>> {
  const isStopped = () => options.signal?.aborted === true
  for (const field of problem.fields) {
    const found = await nextBest(problem, inHand, field.id, options.choicesPerField, options, solver)
    if (isStopped()) return
    yield found.ok ? ok({ kind: 'field', choices: found.value }) : found
  }
  yield* refineRules(problem, inHand, options, solver)
}

/** Entry prices and what the solver's own rules cost, without the fields. */
export async function* refineRules(
  problem: PlanProblem,
  inHand: SolvedPlan & { plan: Plan },
  options: AgainOptions,
  solver: Solver,
): AsyncGenerator<Result<Reason>> {
  const isStopped = () => options.signal?.aborted === true
  for (const variety of varietiesLeftOut(problem, inHand.plan)) {
    const found = await entryPrice(problem, inHand, variety, options, solver)
    if (isStopped()) return
    yield found.ok ? ok({ kind: 'entry-price', entryPrice: found.value }) : found
  }
  for await (const found of ruleCosts(problem, inHand, options, solver)) {
    if (isStopped()) return
    yield found.ok ? ok({ kind: 'rule', ruleCost: found.value }) : found
  }
}

/** A finding put in the place of what was known before. */
export function withReason(reasons: Reasons, reason: Reason): Reasons {
  switch (reason.kind) {
    case 'field': {
      const key = (at: { field: string; variety: string }) => JSON.stringify([at.field, at.variety])
      const found = new Set(reason.choices.map(key))
      return {
        ...reasons,
        choices: [...reason.choices, ...reasons.choices.filter((choice) => !found.has(key(choice)))],
      }
    }
    case 'entry-price':
      return {
        ...reasons,
        entryPrices: [
          ...reasons.entryPrices.filter((each) => each.variety !== reason.entryPrice.variety),
          reason.entryPrice,
        ],
      }
    case 'rule':
      return {
        ...reasons,
        ruleCosts: [...reasons.ruleCosts.filter((each) => each.rule !== reason.ruleCost.rule), reason.ruleCost],
      }
  }
}
