/** What the relaxation says of the options it left aside, and which of them are within reach of a plan worth having. */
import { isWhole, optionAt, type Build } from './build.ts'
import type { SolveAnswer } from './solve-worker.ts'

/**
 * For each option of the relaxation the least by which a plan that uses it must cost more than the relaxation:
 * its reduced cost, times the smallest share it can take. Used ones and shares without a minimum are at 0.
 */
export function pricesOf(relaxation: Build, answer: SolveAnswer): number[] {
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

/** Indices into `problem.options` of those priced within reach, in the relaxation's order. */
export function optionsWithin(relaxation: Build, prices: readonly number[], reach: number): number[] {
  return relaxation.options.flatMap(({ option }, index) => ((prices[index] as number) <= reach ? [option] : []))
}
