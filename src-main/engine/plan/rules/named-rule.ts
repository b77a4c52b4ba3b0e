/**
 * A rule of the house as the solver sees it: a name, the sentence a person would say, the rows it adds, and a
 * test of a finished plan that knows nothing of those rows. One file a kind; `all-rules.ts` lists them.
 */
import type { Plan } from '../../../../src-shared/plan.ts'
import type { Build } from '../build.ts'

export interface NamedRule {
  /** Kind and what it is about, as `lock/Creek Bottom`. */
  id: string
  /** The sentence a person would say. */
  says: string
  /** Unit in which it can be loosened; absent where it is yes or no. */
  unit?: string
  addRows(build: Build): void
  /** What the plan does against the rule, in words; null where it is kept. */
  broken(plan: Plan): string | null
}

/** Slack that arithmetic is allowed, relative to the size of the amount. */
export function isMoreThan(amount: number, limit: number): boolean {
  return amount > limit + 1e-6 * Math.max(1, Math.abs(limit))
}
