/** The plan in hand as a model: its fields held where they are, its packs to be bought anew. A start for another plan. */
import type { Plan } from '../../../src-shared/plan.ts'
import type { PlanProblem, ProblemOption } from '../../../src-shared/plan-problem.ts'
import { partsOf } from '../../../src-shared/planted-part.ts'
import { optionAt, type Build } from './build.ts'
import { buildModel } from './model.ts'
import type { NamedRule } from './rules/named-rule.ts'

/**
 * @param options indices into `problem.options` of all that a plan may use
 * @returns null where the plan has an option that is no longer there, or one that a rule now forbids
 */
export function standStill(
  problem: PlanProblem,
  rules: readonly NamedRule[],
  options: readonly number[],
  plan: Plan,
): Build | null {
  const acres = acresHeld(problem, options, plan)
  if (acres === null) return null
  const build = buildModel(problem, { rules, wholePacks: true, only: options.filter((option) => acres.has(option)) })
  // Holding a column would lift what a rule has forbidden, so that is looked at first.
  const { upper } = build.model.arrays()
  for (const { option, share, chosen } of build.options) {
    const own = optionAt(problem, option)
    const part = (acres.get(option) as number) / (build.acresOf.get(own.field) as number)
    if (part > (upper[share] as number) + 1e-6) return null
    build.model.fix(share, Math.min(1, part))
    if (chosen !== null && chosen !== share) build.model.fix(chosen, 1)
  }
  return build
}

/**
 * Option → [acre] that the plan has of it: of several seeding rates the one nearest to the block's, since rates move a little
 * when a germination or a row of the assumptions changes. Null where a block has none.
 */
function acresHeld(problem: PlanProblem, options: readonly number[], plan: Plan): Map<number, number> | null {
  const byPlace = Map.groupBy(options, (option) => placeOf(optionAt(problem, option)))
  const acres = new Map<number, number>()
  for (const block of plan.blocks) {
    const off = (option: number) => Math.abs(optionAt(problem, option).poundsPerAcre - block.poundsPerAcre)
    for (const { window, week, acres: own } of partsOf(block)) {
      const free = (byPlace.get(placeOf({ ...block, window, week })) ?? []).filter((option) => !acres.has(option))
      const [first] = free
      if (first === undefined) return null
      acres.set(
        free.reduce((nearest, option) => (off(option) < off(nearest) ? option : nearest), first),
        own,
      )
    }
  }
  return acres
}

function placeOf(at: Pick<ProblemOption, 'field' | 'variety' | 'window' | 'week' | 'programme'>) {
  return JSON.stringify([at.field, at.variety, at.window, at.week, at.programme])
}
