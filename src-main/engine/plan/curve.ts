/**
 * Cash against expected loss, by limits on the loss: for each limit the least cash. The two ends first, then limits
 * evenly between them, then, where plans jump, limits in the widest stretches that nobody has looked into: a plan
 * that loses less than its limit is the answer for every limit down to its own loss. Dominated points are dropped.
 */
import type { Curve, CurveCounts, CurvePoint } from '../../../src-shared/curve.ts'
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'
import type { Plan, SolvedPlan } from '../../../src-shared/plan.ts'
import { fail, ok, type Problem, type Result } from '../../../src-shared/problem.ts'
import { showDollars } from '../../../src-shared/show.ts'
import { checkPlan } from './check.ts'
import { repriced } from './reprice.ts'
import { allRules } from './rules/all-rules.ts'
import { solveAgain, type AgainOptions } from './solve-again.ts'
import type { Solver } from './solver.ts'

export interface CurveOptions extends AgainOptions {
  counts: CurveCounts
  /** Points wanted between the two ends, at least; fewer where there are no more plans to be had. */
  between: number
  /** The plan in hand, to start from; null for none. */
  near: Plan | null
  onPoint?: (point: CurvePoint, done: number, wanted: number) => void
}

/** Dollars paid for a dollar of expected loss at the end of least loss: beyond that no plan is looked for. */
const LOSS_FIRST = 100
/** Solves beyond the even ones, as a multiple of the points wanted. */
const MORE_SOLVES = 2

export async function drawCurve(problem: PlanProblem, options: CurveOptions, solver: Solver): Promise<Result<Curve>> {
  const drawing = new Drawing(problem, options, solver)
  const problems = await drawing.draw()
  return problems.length > 0 ? fail(...problems) : ok(drawing.curve())
}

/** A limit that was looked at, and what came of it. */
interface Known {
  limit: number
  point: CurvePoint
}

class Drawing {
  private readonly known: Known[] = []
  private isPartial = false
  /** True where a solve ended before its plan was proven. */
  private isCutShort = false
  private readonly paying: PlanProblem
  private readonly problem: PlanProblem
  private readonly options: CurveOptions
  private readonly solver: Solver

  constructor(problem: PlanProblem, options: CurveOptions, solver: Solver) {
    this.problem = problem
    this.options = options
    this.solver = solver
    this.paying = withoutLoss(problem, options.counts)
  }

  async draw(): Promise<Problem[]> {
    const { between } = this.options
    const least = await this.leastLoss()
    if (!least.ok) return least.problems
    if (least.value === null) return []
    const problems = await this.look(least.value.limit, least.value.plan)
    if (problems.length > 0 || this.isPartial) return problems
    const most = await this.look(null)
    if (most.length > 0) return most
    const [low, high] = this.ends()
    if (low === undefined || high === undefined) return []
    for (let k = between; k >= 1; k--) {
      const limit = low.point.lossCents + ((high.point.lossCents - low.point.lossCents) * k) / (between + 1)
      if (this.isAnswered(limit)) continue
      const found = await this.look(limit)
      if (found.length > 0) return found
      if (this.isPartial) return []
    }
    for (let more = 0; more < between * MORE_SOLVES && this.front().length < between + 2; more++) {
      const limit = this.widestUnknown()
      if (limit === null) break
      const found = await this.look(limit)
      if (found.length > 0) return found
      if (this.isPartial) return []
    }
    return []
  }

  curve(): Curve {
    const points = this.front()
    // One plan is cheapest and safest at once only where both ends were worked out.
    const isPartial = this.isPartial || (points.length === 1 && this.isCutShort)
    return { counts: this.options.counts, points, isPartial, says: saysOf(points, isPartial) }
  }

  /** [cent] The least loss that can be had at less than $100 a dollar; null where no plan fits or it was stopped. */
  private async leastLoss(): Promise<Result<{ limit: number; plan: Plan } | null>> {
    const losing: PlanProblem = {
      ...this.paying,
      rules: { ...this.paying.rules, riskWeight: LOSS_FIRST },
    }
    const solved = await this.solve(losing, this.options.near)
    if (!solved.ok) return solved
    const { plan, proof } = solved.value
    // A plan kept from before a fault says nothing of the least.
    if (plan === null || proof.endedBy === 'fault') {
      this.isPartial = proof.status !== 'nothing-fits'
      return ok(null)
    }
    // Rounded up to the cent of each block, so that the plan itself keeps its limit.
    return ok({ limit: plan.totals.lossCents + (this.options.wholeCents ? plan.blocks.length / 2 : 0), plan })
  }

  /** The least cash within a limit; null for no limit. */
  private async look(limit: number | null, near = this.startFor(limit)): Promise<Problem[]> {
    const rules = { ...this.paying.rules, lossLimitCents: limit ?? this.paying.rules.lossLimitCents }
    const solved = await this.solve({ ...this.paying, rules }, near)
    if (!solved.ok) return solved.problems
    const { plan, proof } = solved.value
    if (proof.endedBy === 'you' || proof.endedBy === 'fault' || plan === null) {
      this.isPartial = proof.status !== 'nothing-fits'
      return []
    }
    const own = repriced(this.problem, plan, this.options.wholeCents)
    const faults = checkPlan(this.problem, allRules(this.problem), own)
    if (faults.length > 0) return faults
    const point: CurvePoint = {
      lossLimitCents: limit,
      paidCents: plan.totals.costCents,
      lossCents: own.totals.lossCents,
      plan: own,
      proof,
    }
    this.known.push({ limit: limit ?? Infinity, point })
    this.known.sort((a, b) => a.limit - b.limit)
    this.options.onPoint?.(point, this.known.length, this.options.between + 2)
    return []
  }

  private async solve(problem: PlanProblem, near: Plan | null): Promise<Result<SolvedPlan>> {
    const solved = await solveAgain(problem, near, this.options, this.solver)
    if (solved.ok && solved.value.proof.status === 'within') this.isCutShort = true
    return solved
  }

  /** The plan of the next tighter limit keeps this one too, so it is the best start there is. */
  private startFor(limit: number | null): Plan | null {
    const tighter = this.known.findLast((each) => each.limit <= (limit ?? Infinity))
    return tighter?.point.plan ?? this.options.near
  }

  private ends(): [Known | undefined, Known | undefined] {
    return [this.known.at(0), this.known.at(-1)]
  }

  /** True where a looser limit already gave a plan that keeps this one. */
  private isAnswered(limit: number): boolean {
    return this.known.some((each) => each.limit >= limit && each.point.lossCents <= limit)
  }

  /** Middle of the widest stretch of limits that no plan answers; null where all are answered. */
  private widestUnknown(): number | null {
    let widest: { from: number; width: number } | null = null
    for (let k = 1; k < this.known.length; k++) {
      const [lower, upper] = [this.known[k - 1] as Known, this.known[k] as Known]
      const width = upper.point.lossCents - lower.limit
      if (width > 1 && (widest === null || width > widest.width)) widest = { from: lower.limit, width }
    }
    return widest === null ? null : widest.from + widest.width / 2
  }

  /** Points that no other beats, least loss first. Of two alike the first stays. */
  private front(): CurvePoint[] {
    const order = this.known
      .map(({ point }) => point)
      .sort((a, b) => a.lossCents - b.lossCents || a.paidCents - b.paidCents)
    const front: CurvePoint[] = []
    for (const point of order) {
      const last = front.at(-1)
      if (last === undefined || point.paidCents < last.paidCents - 0.5) front.push(point)
    }
    return front
  }
}

/** The same problem with nothing counted but what is paid. */
function withoutLoss(problem: PlanProblem, counts: CurveCounts): PlanProblem {
  const options =
    counts === 'cost'
      ? problem.options
      : problem.options.map((option) => ({ ...option, vineCents: 0, giveUpCents: 0, cropCents: 0 }))
  return { ...problem, options, rules: { ...problem.rules, riskWeight: 0 } }
}

function saysOf(points: readonly CurvePoint[], isPartial: boolean): string {
  const [safest, cheapest] = [points.at(0), points.at(-1)]
  if (safest === undefined || cheapest === undefined) {
    return isPartial ? 'No point of the curve was found yet.' : 'No plan keeps every rule, so there is no curve.'
  }
  if (safest === cheapest && isPartial) return 'One point of the curve was found.'
  if (safest === cheapest) return 'The cheapest plan is also the safest: nothing is bought by paying more.'
  return `Paying ${showDollars(safest.paidCents - cheapest.paidCents)} more takes ${showDollars(cheapest.lossCents - safest.lossCents)} off the expected loss; ${points.length} plans lie between the ends and at them.`
}
