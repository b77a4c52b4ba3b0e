/** How a difference between two solved plans may be told: never finer than the two proofs allow. */
import type { CostFigure } from '../../../src-shared/reasons.ts'
import type { Proof, SolvedPlan } from '../../../src-shared/plan.ts'
import { showDollars } from '../../../src-shared/show.ts'

export const noDifference = 'no measurable difference'

/** [cent] by which a plan could still be improved as far as anyone has proven. */
export function openCents(proof: Pick<Proof, 'costCents' | 'boundCents'>): number {
  const { costCents, boundCents } = proof
  return costCents === null || boundCents === null ? Infinity : Math.max(0, costCents - boundCents)
}

/**
 * What the dearer of two solved plans costs more.
 * @param cheaper @param dearer one of them is the plan in hand
 * @param other the one that was solved to be compared with it
 */
export function differenceOf(cheaper: SolvedPlan, dearer: SolvedPlan, other: SolvedPlan): CostFigure {
  const [low, high] = [cheaper.proof, dearer.proof]
  if (low.status === 'nothing-fits' || high.status === 'nothing-fits') {
    return { kind: 'impossible', cents: null, uncertainCents: 0, says: 'not possible: no plan keeps every rule' }
  }
  if (low.costCents === null || high.costCents === null) {
    return { kind: 'unknown', cents: null, uncertainCents: null, says: 'not known: no plan was found in time' }
  }
  const uncertainCents = openCents(low) + openCents(high)
  const cents = high.costCents - low.costCents
  // Half a cent: the arithmetic's own.
  if (cents <= uncertainCents + 0.5) {
    // A comparison that broke off says nothing of how far its plan could still go.
    const { endedBy } = other.proof
    if (endedBy === 'fault' || endedBy === 'time') {
      const why = endedBy === 'fault' ? 'the solver failed on the way' : 'time ran out on the way'
      return { kind: 'unknown', cents: null, uncertainCents: null, says: `not known: ${why}` }
    }
    return { kind: 'no-difference', cents: Math.max(0, cents), uncertainCents, says: noDifference }
  }
  return { kind: 'refined', cents, uncertainCents, says: showDollars(cents) }
}

/** The least that it could be, from a quick bound. @param cents ≥ 0 */
export function atLeast(cents: number): CostFigure {
  const says = cents < 50 ? 'not yet worked out' : `at least ${showDollars(cents)}`
  return { kind: 'at-least', cents, uncertainCents: null, says }
}
