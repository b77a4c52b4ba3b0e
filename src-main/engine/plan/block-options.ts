/** Finds the options that a block of a plan was made from, and which options a field takes together. */
import type { PlanBlock, PlantedPart } from '../../../src-shared/plan.ts'
import { lostCents, partsOf } from '../../../src-shared/planted-part.ts'
import type { PlanProblem, ProblemOption } from '../../../src-shared/plan-problem.ts'

interface Named {
  field: string
  variety: string
  window: string
  week?: string
  programme: readonly string[]
}

/** By field: half a million options are sorted out once a problem, and forgotten with it. */
const indices = new WeakMap<PlanProblem, Map<string, ProblemOption[]>>()

/** The week, or where a problem has no weeks the window, whose planter hours an option uses. */
export function plantedIn({ week, window }: Pick<ProblemOption, 'week' | 'window'>): string {
  return week === '' ? window : week
}

/**
 * Options of one group differ in nothing but the week: a field is put to a group whole, and the weeks share it as the
 * machines can. Without weeks each option is its own.
 */
export function groupOf(option: ProblemOption, index: number): string {
  const { field, variety, programme, poundsPerAcre, week } = option
  return week === '' ? String(index) : JSON.stringify([field, variety, programme, poundsPerAcre])
}

/** None where the plan was made of another season; more than one where a field may be sown at several drops. */
function named(
  problem: PlanProblem,
  { field, variety, window, week = '', programme }: Named,
): readonly ProblemOption[] {
  let byField = indices.get(problem)
  if (byField === undefined) indices.set(problem, (byField = Map.groupBy(problem.options, (option) => option.field)))
  return (byField.get(field) ?? []).filter(
    (option) =>
      option.variety === variety &&
      option.window === window &&
      option.week === week &&
      option.programme.length === programme.length &&
      option.programme.every((name, at) => name === programme[at]),
  )
}

/** An option and what a block has of it. */
export interface OptionPart {
  option: ProblemOption
  part: PlantedPart
}

/**
 * The options that a block was made from, week by week: of those alike in name and rate the nearest in money, and of those
 * that cost the same the one with the fewest machine hours, as the plan would choose. Null where there is none.
 */
export function optionsOfBlock(problem: PlanProblem, block: PlanBlock): OptionPart[] | null {
  const parts = partsOf(block)
  const found: OptionPart[] = []
  for (const part of parts) {
    const { field, variety, programme, poundsPerAcre } = block
    const alike = named(problem, { field, variety, window: part.window, week: part.week, programme }).filter(
      (option) => option.poundsPerAcre === poundsPerAcre,
    )
    const option = alike.length > 1 && parts.length === 1 ? nearest(alike, block) : alike[0]
    if (option === undefined) return null
    found.push({ option, part })
  }
  return found
}

function nearest(options: readonly ProblemOption[], block: PlanBlock): ProblemOption | undefined {
  const { acres, cashCents, lossCents, vineCents } = block
  const giveUpCents = block.giveUpCents - lostCents(block)
  const off = (option: ProblemOption) =>
    Math.abs(option.cashCents * acres - cashCents) +
    Math.abs(option.lossCents * acres - lossCents) +
    Math.abs(option.vineCents * acres - vineCents) +
    Math.abs(option.giveUpCents * acres - giveUpCents)
  const hours = (option: ProblemOption) => option.planterHours + option.diggerHours + option.combineHours
  return options
    .map((option) => ({ option, off: off(option), hours: hours(option) }))
    .sort((a, b) => a.off - b.off || a.hours - b.hours)[0]?.option
}
