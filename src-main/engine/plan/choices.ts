/**
 * The choices of a plan beside its ground: which dealers and price breaks to use, which varieties at all. There are few
 * of them and they make nearly all of what a relaxation falls short by, so a model that decides only these, the ground
 * in any share, is solved fast and bounds every plan closely.
 */
import { carryOver } from './carry-over.ts'
import type { Build } from './build.ts'
import type { ModelArrays } from './linear-model.ts'

/** Yes/no columns that belong to neither the ground nor the packs. */
export function choicesOf(build: Build): number[] {
  const { model } = build
  const others = new Set([...groundOf(build), ...build.packs.map(({ column }) => column)])
  return Array.from({ length: model.columns }, (_, column) => column).filter(
    (column) => model.isInteger(column) && !others.has(column),
  )
}

/** The model with the ground in any share: only choices are yes or no. */
export function choicesOnly(build: Build): ModelArrays {
  const arrays = build.model.arrays()
  for (const column of groundOf(build)) arrays.integer[column] = 0
  return arrays
}

/** Holds the choices of a model to those of a solution of another model of the same problem. */
export function holdChoices(build: Build, from: Build, columns: Float64Array): void {
  const there = carryOver(from, build, columns)
  for (const column of choicesOf(build)) build.model.fix(column, there[column] as number)
}

function groundOf(build: Build): number[] {
  return [...build.options.flatMap(({ share, chosen }) => [share, chosen ?? share]), ...build.leftOut.values()]
}
