/**
 * Puts a plan's planting weeks in order. Machines share weeks by the acre, so a least-cost plan may plant a field on and
 * off; a grower goes there once, or goes on where he left off on Saturday. So each visit is charged while weeks are chosen
 * anew, all else held: a field is planted in one week or in two that follow one another.
 */
import { groupOf } from './block-options.ts'
import { CENTS_PER_UNIT, optionAt, type Build, type OptionColumn } from './build.ts'
import { carryOver, otherColumns } from './carry-over.ts'
import type { Term } from './linear-model.ts'
import { usefulOptions } from './reduce.ts'

/** [cent] that a visit of the planter to a field is charged while weeks are put in order; no part of the plan's cost. */
const VISIT_CENTS = 4000

/** How far ordering weeks goes; a stop does not end it, for the plan is found. */
export const tidyLimits = { nodes: 500, seconds: 4, presolve: true, ignoreStop: true } as const

/**
 * A model of the weeks of a solution's groups, all else held; null where no group is planted in several.
 * @param modelOf builds a model of these options
 */
export function tidyModel(
  from: Build,
  columns: Float64Array,
  modelOf: (options: readonly number[]) => Build,
): Build | null {
  if (!isScattered(from, columns)) return null
  const { problem } = from
  const groups = new Set(
    from.options.flatMap(({ option, share }) =>
      (columns[share] as number) > 1e-7 ? [groupOf(optionAt(problem, option), option)] : [],
    ),
  )
  const build = modelOf(
    usefulOptions(problem).filter((option) => groups.has(groupOf(optionAt(problem, option), option))),
  )
  holdAllButWeeks(build, from, columns)
  addVisits(build)
  return build
}

/** True where some group of the solution is planted in several weeks. */
function isScattered(build: Build, columns: Float64Array): boolean {
  const used = build.options.filter(({ share }) => (columns[share] as number) > 1e-7)
  const groups = Map.groupBy(used, ({ option, chosen }) => chosen ?? `free ${optionAt(build.problem, option).variety}`)
  return [...groups.values()].some((own) => own.length > 1)
}

/** Holds all but the weeks to a solution of another model: purchases, choices, and what each group has of its field. */
function holdAllButWeeks(build: Build, from: Build, columns: Float64Array): void {
  const { model } = build
  const there = carryOver(from, build, columns)
  const at = (column: number) => there[column] as number
  for (const column of otherColumns(build)) model.fix(column, at(column))
  for (const [chosen, own] of Map.groupBy(build.options, (column) => column.chosen ?? column.share)) {
    const share = own.reduce((sum, column) => sum + at(column.share), 0)
    if (own.some((column) => column.share === chosen)) {
      model.fix(chosen, share)
      continue
    }
    model.fix(chosen, 1)
    const terms = own.map((column): Term => [column.share, 1])
    model.row(share, share, terms)
  }
}

/** Adds a yes/no for each week of each group of several, and its charge. */
function addVisits(build: Build): void {
  const { model, problem } = build
  const rank = new Map([...new Set(problem.options.map(({ week }) => week))].sort().map((week, at) => [week, at]))
  for (const own of Map.groupBy(build.options, ({ chosen }) => chosen).values()) {
    if (own.length < 2) continue
    const weeks = own
      .map((column) => ({ column, week: optionAt(problem, column.option).week }))
      .sort((a, b) => (a.week < b.week ? -1 : 1))
    const visits = weeks.map(({ column, week }) => ({ week, visit: addVisit(build, column) }))
    for (const one of visits)
      for (const other of visits)
        // Two weeks apart or more: never both.
        if ((rank.get(other.week) as number) > (rank.get(one.week) as number) + 1)
          model.row(-Infinity, 1, [
            [one.visit, 1],
            [other.visit, 1],
          ])
  }
}

function addVisit(build: Build, { share }: OptionColumn): number {
  const visit = build.model.choice(VISIT_CENTS / CENTS_PER_UNIT)
  build.visits.push(visit)
  build.model.row(-Infinity, 0, [
    [share, 1],
    [visit, -1],
  ])
  return visit
}

/** [unit of the model's cost] What a solution's visits were charged. */
export function chargedVisits(build: Build, columns: Float64Array): number {
  return (
    build.visits.reduce((sum, visit) => sum + Math.round(columns[visit] as number), 0) * (VISIT_CENTS / CENTS_PER_UNIT)
  )
}
