/** What the relaxation says of the options it left aside: by how much a plan that uses one must cost more. */
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

/** Options, by index into the problem, that a plan costing no more than `reach` above the relaxation may use. */
export function optionsWithin(relaxation: Build, prices: readonly number[], reach: number): number[] {
  return within(
    relaxation.options.map(({ option }) => option),
    prices,
    reach,
  )
}

/** The same for options listed by index. */
export function within(options: readonly number[], prices: readonly number[], reach: number): number[] {
  return options.filter((_, at) => (prices[at] as number) <= reach)
}

/** The reach within which there are about so many options, those of no price at all always included. */
export function reachFor(prices: readonly number[], count: number): number {
  const sorted = Float64Array.from(prices).sort()
  return count < sorted.length ? (sorted[count] as number) : Infinity
}
