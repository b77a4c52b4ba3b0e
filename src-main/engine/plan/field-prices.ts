/**
 * What the relaxation says of putting a whole field into a variety: the plan then costs at least the relaxation
 * plus the least reduced cost among the variety's options there. A bound, often far below the truth.
 */
import { columnsOf, isWhole, optionAt, type Build } from './build.ts'
import type { SolveAnswer } from './run-model.ts'

/** Least extra cost over the relaxation of each variety on each field [unit of the model's cost], ≥ 0. */
export type FieldPrices = Map<string, Map<string, number>>

/** @param answer of the relaxation that `relaxation` built: with columns and reduced costs */
export function fieldPrices(relaxation: Build, answer: SolveAnswer): FieldPrices {
  const { problem } = relaxation
  const { columns, reduced } = answer
  if (columns === null || reduced === null) throw new Error('A relaxation without prices was asked for them.')
  const prices: FieldPrices = new Map()
  for (const field of problem.fields) {
    const own = new Map<string, number>()
    for (const { option, share, chosen } of columnsOf(relaxation.byField, field.id)) {
      const { variety } = optionAt(problem, option)
      const isUsed = (columns[share] as number) > 1e-9
      const onChoice = isWhole(field) || chosen === null ? 0 : Math.max(0, reduced[chosen] as number)
      const price = isUsed ? 0 : Math.max(0, reduced[share] as number) + onChoice
      own.set(variety, Math.min(own.get(variety) ?? Infinity, price))
    }
    prices.set(field.id, own)
  }
  return prices
}
