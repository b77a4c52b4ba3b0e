/**
 * What a field could have been, and what that costs more: first a bound from the relaxation, at once; then the
 * truth, by solving again with the choice forced, or with what the plan has there ruled out.
 */
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'
import type { Plan, SolvedPlan } from '../../../src-shared/plan.ts'
import type { Result } from '../../../src-shared/problem.ts'
import { ok } from '../../../src-shared/problem.ts'
import type { FieldChoice } from '../../../src-shared/reasons.ts'
import { CENTS_PER_UNIT } from './build.ts'
import { fieldPrices } from './field-prices.ts'
import { atLeast, differenceOf } from './figure.ts'
import { buildModel } from './model.ts'
import { allRules } from './rules/all-rules.ts'
import { solveAgain, type AgainOptions } from './solve-again.ts'
import type { Solver } from './solver.ts'
import { sortedProblem } from './sort-problem.ts'

/**
 * For every field and every variety that the plan does not have there: the least it could cost more, from one
 * relaxation. True as bounds, seldom near the truth; those that look cheapest come first.
 * @param plan the plan in hand, solved
 */
export async function quickChoices(
  given: PlanProblem,
  plan: Plan,
  solver: Solver,
  signal?: AbortSignal,
): Promise<FieldChoice[]> {
  const problem = sortedProblem(given)
  const relaxation = buildModel(problem, { rules: allRules(problem), wholePacks: false, grouped: false })
  const answer = await solver.run(relaxation.model.arrays(), { gap: 0, seconds: 60, relaxed: true, signal })
  if (answer.status !== 'optimal') return []
  const choices: FieldChoice[] = []
  for (const [field, prices] of fieldPrices(relaxation, answer)) {
    const planted = varietiesOn(plan, field)
    for (const [variety, price] of prices) {
      if (planted.has(variety)) continue
      const cents = Math.max(0, (answer.cost + price) * CENTS_PER_UNIT - plan.totals.costCents)
      choices.push({ ...untold(field, variety), cost: atLeast(cents) })
    }
  }
  return choices.sort((a, b) => (a.cost.cents as number) - (b.cost.cents as number))
}

function untold(field: string, variety: string): Omit<FieldChoice, 'cost'> {
  return {
    field,
    variety,
    cashCents: null,
    lossCents: null,
    vineCents: null,
    giveUpCents: null,
    otherFields: null,
  }
}

/** Locks that a whole field in this variety leaves room for: not one of some of its acres in another. */
const gives = (field: string, variety: string) => (lock: PlanProblem['rules']['locks'][number]) =>
  lock.field !== field || lock.variety === variety || lock.acres === undefined

/** The true cost of one choice: the whole field in this variety, everything else as is then best. */
export async function forcedChoice(
  problem: PlanProblem,
  inHand: SolvedPlan & { plan: Plan },
  field: string,
  variety: string,
  options: AgainOptions,
  solver: Solver,
): Promise<Result<FieldChoice>> {
  const forced = withRules(problem, {
    locks: [...problem.rules.locks.filter(gives(field, variety)), { field, variety }],
    planted: [...(problem.rules.planted ?? []), { field }],
  })
  const again = await solveAgain(forced, inHand.plan, options, solver)
  return again.ok ? ok(choiceOf(inHand, again.value, field, variety)) : again
}

/**
 * The field's next-best choices, cheapest first: each is what is best there once the plan's own and those before it
 * are ruled out. Fewer than asked for where nothing more may be planted on the field.
 * @param howMany ≥ 1
 */
export async function nextBest(
  problem: PlanProblem,
  inHand: SolvedPlan & { plan: Plan },
  field: string,
  howMany: number,
  options: AgainOptions,
  solver: Solver,
): Promise<Result<FieldChoice[]>> {
  const choices: FieldChoice[] = []
  const ruledOut = varietiesOn(inHand.plan, field)
  let near = inHand.plan
  while (choices.length < howMany && !options.signal?.aborted) {
    if (!problem.options.some((option) => option.field === field && !ruledOut.has(option.variety))) break
    const others = withRules(problem, {
      exclusions: [...problem.rules.exclusions, ...[...ruledOut].map((variety) => ({ field, variety }))],
      planted: [...(problem.rules.planted ?? []), { field }],
    })
    const again = await solveAgain(others, near, options, solver)
    if (!again.ok) return again
    if (again.value.plan === null) break
    near = again.value.plan
    const found = [...varietiesOn(near, field)]
    choices.push(choiceOf(inHand, again.value, field, found.join(' and ')))
    for (const variety of found) ruledOut.add(variety)
  }
  return ok(choices)
}

function withRules(problem: PlanProblem, rules: Partial<PlanProblem['rules']>): PlanProblem {
  return { ...problem, rules: { ...problem.rules, ...rules } }
}

export function varietiesOn(plan: Plan, field: string): Set<string> {
  return new Set(plan.blocks.filter((block) => block.field === field).map((block) => block.variety))
}

function choiceOf(inHand: SolvedPlan & { plan: Plan }, other: SolvedPlan, field: string, variety: string): FieldChoice {
  const cost = differenceOf(inHand, other, other)
  const { plan } = other
  if (plan === null) return { ...untold(field, variety), cost }
  const more = (of: (totals: Plan['totals']) => number) => of(plan.totals) - of(inHand.plan.totals)
  return {
    field,
    variety,
    cost,
    cashCents: more(({ cashCents }) => cashCents),
    // What an expected dollar counts beyond itself is part of the expected loss: the parts add up to the cost.
    lossCents: more(
      ({ costCents, cashCents, vineCents, giveUpCents, leftOutCents, movedCents }) =>
        costCents - cashCents - vineCents - giveUpCents - leftOutCents - movedCents,
    ),
    vineCents: more(({ vineCents }) => vineCents),
    giveUpCents: more(({ giveUpCents, leftOutCents, movedCents }) => giveUpCents + leftOutCents + movedCents),
    otherFields: changedFields(inHand.plan, plan).filter((name) => name !== field),
  }
}

/** Fields that have another variety, window or programme, or other acres of one. */
export function changedFields(a: Plan, b: Plan): string[] {
  const place = (plan: Plan, field: string) =>
    plan.blocks
      .filter((block) => block.field === field)
      .map(({ variety, window, programme, acres }) => JSON.stringify([variety, window, programme, acres.toFixed(3)]))
      .sort()
      .join()
  const fields = new Set([...a.blocks, ...b.blocks].map((block) => block.field))
  return [...fields].filter((field) => place(a, field) !== place(b, field)).sort()
}
