/** The plan in hand: which variety each field has in it, and what counts as a move away from it. */
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'

/** Varieties of each field in the plan in hand; empty where there is none. */
export function varietiesInHand(problem: PlanProblem): Map<string, Set<string>> {
  const inHand = new Map<string, Set<string>>()
  for (const { field, variety } of problem.rules.stayPut?.plan ?? []) {
    inHand.set(field, (inHand.get(field) ?? new Set()).add(variety))
  }
  return inHand
}

/** True where a field that has a variety in the plan in hand gets another one. A field new to the plan cannot move. */
export function isMove(
  inHand: ReadonlyMap<string, ReadonlySet<string>>,
  at: { field: string; variety: string },
): boolean {
  const own = inHand.get(at.field)
  return own !== undefined && !own.has(at.variety)
}
