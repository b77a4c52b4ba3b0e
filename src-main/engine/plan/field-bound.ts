/**
 * What a field adds at least to the cost, rows being priced: the least that its options ask once each is charged, or
 * paid, for what it takes from the rows. Summed over all fields, together with what the rows themselves are worth, it
 * bounds every plan, whatever the prices of the rows; and it says how much more each option of the field must cost.
 */
import type { ProblemField } from '../../../src-shared/plan-problem.ts'
import { columnsOf, isWhole, type Build, type OptionColumn } from './build.ts'

export interface FieldBound {
  /** [unit of the model's cost] for the whole field in its best option. */
  least: number
  /** [unit of the model's cost] ≤ 0: what blocks are paid for being there at all. */
  paid: number
  /** Smallest share of the field that a block may have. */
  leastShare: number
}

/** Columns and their costs less what the rows' prices give back. */
export interface Charged {
  reduced: Float64Array
  upper: Float64Array
}

/** @param build with all options of the field */
export function fieldBound(build: Build, field: ProblemField, charged: Charged): FieldBound {
  const leftOut = build.leftOut.get(field.id)
  let least = leftOut === undefined ? Infinity : (charged.reduced[leftOut] as number)
  const paid: number[] = []
  for (const column of columnsOf(build.byField, field.id)) {
    if (isForbidden(column, charged)) continue
    least = Math.min(least, wholeField(column, charged))
    const block = onBlock(column, charged)
    if (block < 0) paid.push(block)
  }
  // Of blocks that are paid for, as many as the field may have are there.
  const most = field.split?.mostVarieties ?? paid.length
  paid.sort((a, b) => a - b)
  return {
    least,
    paid: paid.slice(0, most).reduce((sum, each) => sum + each, 0),
    leastShare: leastShareOf(field),
  }
}

/** Smallest share of the field that a block may have; all of it where it is not split. */
export function leastShareOf(field: ProblemField): number {
  return isWhole(field) ? 1 : (field.split?.leastBlockAcres ?? 0) / field.acres
}

/** By how much a plan with the option must cost more than the bound; Infinity where no plan may have it. */
export function priceAbove(bound: FieldBound, column: OptionColumn, charged: Charged): number {
  if (isForbidden(column, charged)) return Infinity
  const onShare = (charged.reduced[column.share] as number) - bound.least
  const asWhole = wholeField(column, charged) - bound.least
  // Below 0 on the share, the whole field costs least with it; else the smallest block does.
  return Math.max(0, onShare < 0 ? asWhole : onShare * bound.leastShare + Math.max(0, onBlock(column, charged)))
}

/** What the field costs with nothing but this option. */
export function wholeField(column: OptionColumn, charged: Charged): number {
  return (charged.reduced[column.share] as number) + Math.max(0, onBlock(column, charged))
}

/** What a solution of the model has the field cost at these prices. */
export function costOfField(build: Build, field: string, values: Float64Array, charged: Charged): number {
  const at = (column: number) => (values[column] as number) * (charged.reduced[column] as number)
  const leftOut = build.leftOut.get(field)
  let sum = leftOut === undefined ? 0 : at(leftOut)
  for (const column of columnsOf(build.byField, field))
    sum += at(column.share) + (hasBlock(column) ? at(column.chosen) : 0)
  return sum
}

function hasBlock(column: OptionColumn): column is OptionColumn & { chosen: number } {
  return column.chosen !== null && column.chosen !== column.share
}

function onBlock(column: OptionColumn, { reduced }: Charged): number {
  return hasBlock(column) ? (reduced[column.chosen] as number) : 0
}

function isForbidden(column: OptionColumn, { upper }: Charged): boolean {
  return upper[column.share] === 0 || (hasBlock(column) && upper[column.chosen] === 0)
}
