/** What may be concluded from how a solve ended, in one sentence that never claims more than was proven. */
import type { Plan, PlanStatus, Proof } from '../../../src-shared/plan.ts'
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'
import { CENTS_PER_UNIT } from './build.ts'
import { dataHash } from './data-hash.ts'
import type { SolveAnswer } from './run-model.ts'

/** Below this a gap is the arithmetic's, not the plan's. */
const NO_GAP = 1e-9

/** (cost − bound) / |cost|; 0 where both are 0, null where either is missing. */
export function gapOf(cost: number | null, bound: number | null): number | null {
  if (cost === null || bound === null || !Number.isFinite(cost) || !Number.isFinite(bound)) return null
  if (cost - bound <= 0) return 0
  return (cost - bound) / Math.max(Math.abs(cost), 1e-9)
}

/** What a search has shown when it ended. @param gap @param wantedGap [share] of the cost */
export function statusOf(
  endedBy: Proof['endedBy'],
  hasPlan: boolean,
  gap: number | null,
  wantedGap: number,
  isExact = false,
): PlanStatus {
  if (endedBy === 'nothing-fits') return 'nothing-fits'
  if (!hasPlan) return 'nothing-found'
  if (isExact || (gap !== null && gap <= Math.max(wantedGap, NO_GAP))) return 'proven'
  return endedBy === 'you' ? 'stopped' : 'within'
}

/** The same in a sentence with its figures. */
export function saysOf(
  status: PlanStatus,
  gap: number | null,
  costCents: number | null,
  boundCents: number | null,
  isExact = false,
): string {
  const better =
    costCents === null || boundCents === null || !Number.isFinite(boundCents)
      ? 'How much cheaper a plan could be is not known'
      : `No plan can be more than ${dollars(Math.max(0, costCents - boundCents))} cheaper`
  switch (status) {
    case 'proven':
      return isExact || (gap !== null && gap <= NO_GAP)
        ? 'Proven least cost.'
        : `Proven least cost to within ${percent(gap)}. ${better}.`
    case 'within':
      return `Within ${percent(gap)} of least cost. ${better}.`
    case 'stopped':
      return `Stopped at your request, within ${percent(gap)} of least cost. ${better}.`
    case 'nothing-found':
      return 'No plan was found yet; none was ruled out either.'
    case 'nothing-fits':
      return 'No plan keeps every rule.'
  }
}

/** What a search knows when it ends. */
export interface Searched {
  /** What the solver said when it failed; null where it did not. */
  fault: string | null
  /** [unit of the model's cost] */
  bound: number
  stages: Proof['stages']
  /** [s] */
  seconds: number
}

/** The proof of a plan, or of there being none, from how the search ended and the bound it reached. */
export function proofOf(
  problem: PlanProblem,
  wantedGap: number,
  plan: Plan | null,
  ended: SolveAnswer['status'],
  search: Searched,
  wholeCents = false,
): Proof {
  const costCents = plan?.totals.costCents ?? null
  const boundCents = Number.isFinite(search.bound) ? search.bound * CENTS_PER_UNIT : null
  const gap = gapOf(costCents, boundCents)
  const isExact =
    wholeCents && plan !== null && boundCents !== null && plan.totals.costCents - boundCents <= rounding(plan)
  const endings: Record<SolveAnswer['status'], Proof['endedBy']> = {
    optimal: wantedGap > 0 && !isExact && gap !== null && gap > 1e-9 ? 'gap' : 'proof',
    target: 'gap',
    infeasible: 'nothing-fits',
    // Every column has limits, so this is the solver's mistake and proves nothing.
    unbounded: 'fault',
    time: 'time',
    nodes: 'nodes',
    interrupted: 'you',
    failed: 'fault',
  }
  const endedBy = endings[ended]
  const status = statusOf(endedBy, plan !== null, gap, wantedGap, isExact)
  return {
    status,
    says: `${saysOf(status, gap, costCents, boundCents, isExact)}${search.fault === null ? '' : faultSays}`,
    endedBy,
    costCents,
    boundCents: status === 'nothing-fits' ? null : boundCents,
    gap,
    ...(isExact ? { isExact: true as const } : {}),
    ...(search.fault === null ? {} : { fault: search.fault }),
    wantedGap,
    stages: search.stages,
    seconds: search.seconds,
    solver: 'HiGHS',
    dataHash: dataHash(problem),
  }
}

/** [cent] that rounding each part of a plan to the cent can add to its cost. */
function rounding({ blocks, orders }: Plan): number {
  return 0.5 * (4 * blocks.length + 2 * orders.length + 2) + 1e-3
}

const faultSays = ' The solver failed before it was done; this is the best it had found.'

function percent(gap: number | null): string {
  if (gap === null) return 'an unknown share'
  const value = gap * 100
  return `${value < 0.01 ? value.toPrecision(1) : value.toFixed(2)} %`
}

function dollars(cents: number): string {
  return (cents / 100).toLocaleString('en-US', { style: 'currency', currency: 'USD', maximumFractionDigits: 0 })
}
