/** What the relaxation says of the options it left aside: by how much a plan that uses one must cost more. */
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'
import { groupOf } from './block-options.ts'
import { optionAt, type Build } from './build.ts'
import { leastShareOf, priceAbove } from './field-bound.ts'
import type { SolveAnswer } from './run-model.ts'

/** Prices of a relaxation's options, in the order of its options; those it uses are at 0. */
export function pricesOf(relaxation: Build, answer: SolveAnswer): number[] {
  const values = answer.columns as Float64Array
  const charged = { reduced: answer.reduced as Float64Array, upper: relaxation.model.arrays().upper }
  // The relaxation's own cost is the bound: nothing is to be taken off for what a field asks at least.
  const bounds = new Map(
    relaxation.problem.fields.map((field) => [field.id, { least: 0, paid: 0, leastShare: leastShareOf(field) }]),
  )
  return relaxation.options.map((column) => {
    const bound = bounds.get(optionAt(relaxation.problem, column.option).field)
    return bound === undefined || (values[column.share] as number) > 1e-9 ? 0 : priceAbove(bound, column, charged)
  })
}

/**
 * The same by group: a group is chosen whole, its weeks sharing the field, so each of its options comes at the price of the
 * cheapest. What a plan with any of them must cost more.
 */
export function groupPrices(problem: PlanProblem, options: readonly number[], prices: readonly number[]): number[] {
  const least = new Map<string, number>()
  const groups = options.map((option) => groupOf(optionAt(problem, option), option))
  groups.forEach((group, at) => least.set(group, Math.min(least.get(group) ?? Infinity, prices[at] as number)))
  return groups.map((group) => least.get(group) as number)
}

/** The reach within which there are about so many groups. @param prices by group, in the order of the options */
export function groupReach(
  problem: PlanProblem,
  options: readonly number[],
  prices: readonly number[],
  count: number,
): number {
  const each = new Map(options.map((option, at) => [groupOf(optionAt(problem, option), option), prices[at] as number]))
  return reachFor([...each.values()], count)
}

/** Options, by index into the problem, that a plan costing no more than `reach` above the relaxation may use. */
export function within(options: readonly number[], prices: readonly number[], reach: number): number[] {
  return options.filter((_, at) => (prices[at] as number) <= reach)
}

/** The reach within which there are about so many options, those of no price at all always included. */
export function reachFor(prices: readonly number[], count: number): number {
  const sorted = Float64Array.from(prices).sort()
  return count < sorted.length ? (sorted[count] as number) : Infinity
}
