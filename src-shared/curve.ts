/** The curve of money paid against money risked: what a safer plan costs, each point a plan that can be adopted. */
import type { Plan, Proof } from './plan.ts'

/**
 * What is made least at each limit on the expected loss: `cash` is seed and measures only; `cost` also counts the
 * vine and what a lower-yielding choice forgoes. Ground left out and fields moved count in both, at the house's price.
 */
export const curveCounts = ['cash', 'cost'] as const
export type CurveCounts = (typeof curveCounts)[number]

export interface CurvePoint {
  /** [cent] The limit on the expected loss that this plan was made for; null at the end of least cash. */
  lossLimitCents: number | null
  /** [cent] what was made least: see `CurveCounts`. */
  paidCents: number
  /** [cent] */
  lossCents: number
  plan: Plan
  /** Of the least `paidCents` within the limit. */
  proof: Proof
}

export interface Curve {
  counts: CurveCounts
  /** Least expected loss first; each pays less and risks more than the one before. */
  points: CurvePoint[]
  /** True where it was stopped or ran out of time before all points were made. */
  isPartial: boolean
  says: string
}
