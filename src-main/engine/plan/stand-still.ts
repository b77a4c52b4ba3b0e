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
  const acres = new Map(
    plan.blocks.flatMap((block) =>
      partsOf(block).map((part): [string, number] => [
        placeOf({ ...block, window: part.window, week: part.week }),
        part.acres,
      ]),
    ),
  )
  const only = options.filter((option) => acres.has(placeOf(optionAt(problem, option))))
  if (only.length !== acres.size) return null
  const build = buildModel(problem, { rules, wholePacks: true, only })
  // Holding a column would lift what a rule has forbidden, so that is looked at first.
  const { upper } = build.model.arrays()
  for (const { option, share, chosen } of build.options) {
    const own = optionAt(problem, option)
    const part = (acres.get(placeOf(own)) as number) / (build.acresOf.get(own.field) as number)
    if (part > (upper[share] as number) + 1e-6) return null
    build.model.fix(share, Math.min(1, part))
    if (chosen !== null && chosen !== share) build.model.fix(chosen, 1)
  }
  return build
}

function placeOf(at: Pick<ProblemOption, 'field' | 'variety' | 'window' | 'week' | 'programme' | 'poundsPerAcre'>) {
  return JSON.stringify([at.field, at.variety, at.window, at.week, at.programme, at.poundsPerAcre])
}
