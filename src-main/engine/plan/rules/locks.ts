/** "Keep this variety on this field." and "Never that." */
import type { PlanProblem } from '../../../../src-shared/plan-problem.ts'
import { showDate } from '../../../../src-shared/show.ts'
import { partsOf } from '../../../../src-shared/planted-part.ts'
import { columnsOf, optionAt } from '../build.ts'
import type { NamedRule } from './named-rule.ts'

export function lockRules(problem: PlanProblem): NamedRule[] {
  return problem.rules.locks.map((lock) => {
    const isKept = (at: { variety: string; window: string; week?: string }) =>
      at.variety === lock.variety &&
      (lock.window === undefined || at.window === lock.window) &&
      (lock.week === undefined || at.week === lock.week)
    return {
      id: `lock/${lock.field}/${lock.variety}`,
      says: `${lock.field} is kept for ${lock.variety}${lock.window === undefined ? '' : ` in the ${lock.window} window`}${lock.week === undefined ? '' : ` in the week of ${showDate(lock.week)}`}.`,
      addRows({ model, byField }) {
        for (const { option, share } of columnsOf(byField, lock.field)) {
          if (!isKept(optionAt(problem, option))) model.forbid(share)
        }
      },
      broken(plan) {
        const stray = plan.blocks.find(
          (block) =>
            block.field === lock.field && !partsOf(block).every((part) => isKept({ ...part, variety: block.variety })),
        )
        return stray ? `${lock.field} is kept for ${lock.variety} but the plan has ${stray.variety} there.` : null
      },
    }
  })
}

export function exclusionRules(problem: PlanProblem): NamedRule[] {
  return problem.rules.exclusions.map((never) => {
    const isMeant = (at: { field: string; variety: string; window: string }) =>
      (never.field === undefined || never.field === at.field) &&
      (never.variety === undefined || never.variety === at.variety) &&
      (never.window === undefined || never.window === at.window)
    const what = never.variety ?? 'Nothing'
    const where = never.field === undefined ? '' : ` on ${never.field}`
    const when = never.window === undefined ? '' : ` in the ${never.window} window`
    return {
      id: `exclusion/${never.field ?? ''}/${never.variety ?? ''}/${never.window ?? ''}`,
      says:
        never.variety === undefined ? `${what} is planted${where}${when}.` : `${what} is not planted${where}${when}.`,
      addRows({ model, options }) {
        for (const { option, share } of options) if (isMeant(optionAt(problem, option))) model.forbid(share)
      },
      broken(plan) {
        const stray = plan.blocks.find((block) => partsOf(block).some(({ window }) => isMeant({ ...block, window })))
        return stray ? `${stray.variety} on ${stray.field} (${stray.window}) was ruled out.` : null
      },
    }
  })
}
