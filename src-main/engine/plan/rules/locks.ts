/** "Keep this variety on this field." and "Never that." */
import { lockId, sayLock } from '../../../../src-shared/lock.ts'
import type { PlanProblem } from '../../../../src-shared/plan-problem.ts'
import { showAcres } from '../../../../src-shared/show.ts'
import { partsOf } from '../../../../src-shared/planted-part.ts'
import { columnsOf, optionAt } from '../build.ts'
import { isMoreThan, type NamedRule } from './named-rule.ts'

export function lockRules(problem: PlanProblem): NamedRule[] {
  return problem.rules.locks.map((lock) => {
    const isKept = (at: { variety: string; window: string; week?: string }) =>
      at.variety === lock.variety &&
      (lock.window === undefined || at.window === lock.window) &&
      (lock.week === undefined || at.week === lock.week)
    const ground = problem.fields.find(({ id }) => id === lock.field)?.acres ?? 0
    const isWhole = lock.acres === undefined || !isMoreThan(ground, lock.acres)
    return {
      id: lockId(lock),
      says: sayLock(lock),
      addRows({ model, byField }) {
        const columns = columnsOf(byField, lock.field)
        if (isWhole) {
          for (const { option, share } of columns) if (!isKept(optionAt(problem, option))) model.forbid(share)
        } else {
          const kept = columns.filter(({ option }) => isKept(optionAt(problem, option)))
          // Room for the arithmetic of a plan that has just these acres there.
          const least = (lock.acres ?? 0) / ground - 1e-6
          model.limit(
            least,
            Infinity,
            kept.map(({ share }) => [share, 1] as const),
          )
        }
      },
      broken(plan) {
        const own = plan.blocks.filter(({ field }) => field === lock.field)
        const isHeld =
          ({ variety }: { variety: string }) =>
          (part: { window: string }) =>
            isKept({ ...part, variety })
        if (isWhole) {
          const stray = own.find((block) => !partsOf(block).every(isHeld(block)))
          return stray ? `${lock.field} is kept for ${lock.variety} but the plan has ${stray.variety} there.` : null
        }
        const acres = own
          .flatMap((block) => partsOf(block).filter(isHeld(block)))
          .reduce((sum, part) => sum + part.acres, 0)
        return isMoreThan((lock.acres ?? 0) - 2e-6 * ground, acres)
          ? `${sayLock(lock)} The plan has ${showAcres(acres)} there.`
          : null
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
