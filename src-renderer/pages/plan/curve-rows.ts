/** The points of a curve as rows against the plan in hand: what each costs and saves. Pure. */
import type { CurvePoint } from '../../../src-shared/curve.ts'
import type { Plan, PlanTotals } from '../../../src-shared/plan.ts'

export interface CurveRow {
  /** Its place on the curve, from 0 for least loss. */
  point: number
  paidCents: number
  lossCents: number
  /** Against the plan in hand; null without one. */
  paidMore: number | null
  lossMore: number | null
  isInHand: boolean
}

/** [cent] what the curve counts besides the expected loss: cash, vine, give-up, ground left out. */
export function paidOf(totals: PlanTotals): number {
  return totals.cashCents + totals.vineCents + totals.giveUpCents + totals.leftOutCents
}

export function curveRows(
  points: readonly Pick<CurvePoint, 'paidCents' | 'lossCents'>[],
  inHand: PlanTotals | null,
): CurveRow[] {
  return points.map(({ paidCents, lossCents }, point) => {
    const paidMore = inHand === null ? null : paidCents - paidOf(inHand)
    const lossMore = inHand === null ? null : lossCents - inHand.lossCents
    const isInHand = paidMore !== null && lossMore !== null && Math.abs(paidMore) < 1 && Math.abs(lossMore) < 1
    return { point, paidCents, lossCents, paidMore, lossMore, isInHand }
  })
}

/** Fields on which the two plans put other varieties. */
export function otherFields(a: Plan, b: Plan): string[] {
  const on = (plan: Plan, field: string) =>
    plan.blocks
      .filter((block) => block.field === field)
      .map((block) => block.variety)
      .sort()
      .join()
  return [...new Set([...a.blocks, ...b.blocks].map((block) => block.field))]
    .filter((field) => on(a, field) !== on(b, field))
    .sort()
}
