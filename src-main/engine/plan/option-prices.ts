/** What the relaxation says of the options it left aside: by how much a plan that uses one must cost more. */
import { isWhole, optionAt, type Build, type OptionColumn } from './build.ts'
import type { SolveAnswer } from './solve-worker.ts'

/** Prices of a relaxation's options, in the order of its options; those it uses are at 0. */
export function pricesOf(relaxation: Build, answer: SolveAnswer): number[] {
  const values = answer.columns as Float64Array
  const reduced = answer.reduced as Float64Array
  return relaxation.options.map((column) =>
    (values[column.share] as number) > 1e-9 ? 0 : Math.max(0, priceOf(relaxation, column, reduced)),
  )
}

/**
 * The least by which a plan that uses the option must cost more: its reduced cost, times the smallest share it can take.
 * A share without a minimum has no price. Below 0 where using it would lower the relaxation's cost.
 */
export function priceOf(build: Build, { option, share, chosen }: OptionColumn, reduced: Float64Array): number {
  const { field: id } = optionAt(build.problem, option)
  const field = fieldOf(build, id)
  const onShare = reduced[share] as number
  if (field === undefined) return 0
  if (isWhole(field)) return onShare
  const onBlock = chosen === null ? 0 : (reduced[chosen] as number)
  // The row share ≤ chosen moves cost freely from the one to the other, so a saving on the share counts in full.
  if (onShare + onBlock < 0 || onShare < 0) return Math.min(onShare + onBlock, onBlock + Math.min(0, onShare))
  const least = (field.split?.leastBlockAcres ?? 0) / field.acres
  return onShare * least + Math.max(0, onBlock)
}

const fields = new WeakMap<Build, Map<string, Build['problem']['fields'][number]>>()

function fieldOf(build: Build, id: string) {
  let own = fields.get(build)
  if (own === undefined) fields.set(build, (own = new Map(build.problem.fields.map((field) => [field.id, field]))))
  return own.get(id)
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
