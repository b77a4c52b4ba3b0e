/**
 * Leaves out options that cannot be part of a least-cost plan: for one field and variety, whatever another
 * option is at least as good as in weighted cost and in everything that a rule limits.
 */
import type { PlanProblem, ProblemOption } from '../../../src-shared/plan-problem.ts'
import { plantedIn } from './block-options.ts'
import { isQueued, leastLost, queuesOf } from './queue.ts'

/** [cent/acre] what the plan makes least, without seed. */
export function weightedCents(option: ProblemOption, riskWeight: number): number {
  return option.cashCents + riskWeight * option.lossCents + option.vineCents + option.giveUpCents
}

/** Indices into `problem.options` that stay, in order. */
export function usefulOptions(problem: PlanProblem): number[] {
  const { rules } = problem
  const limitedIn = (limits: readonly { in: string }[]) => new Set(limits.map((limit) => limit.in))
  const planted = limitedIn(rules.planterHours)
  const dug = limitedIn(rules.diggerHours)
  const combined = limitedIn(rules.combineHours)
  const windowsNamed = rules.locks.some((lock) => lock.window) || rules.exclusions.some((each) => each.window)
  const weeksNamed = rules.locks.some((lock) => lock.week)
  const isDugInLine = isQueued(problem)
  const queues = queuesOf(problem)
  const mostLost = new Map(problem.digging.map(({ ripe, weeks }) => [ripe, Math.max(...weeks.map(({ lost }) => lost))]))
  const lostAtBest = (option: ProblemOption) => weightedCents(option, rules.riskWeight) + leastLost(queues, option)
  const hasBudget = rules.budgetCents !== undefined
  const hasLossLimit = rules.lossLimitCents !== undefined

  /** Two options can be compared only where they draw on the same limits. */
  const place = (option: ProblemOption) =>
    JSON.stringify([
      option.field,
      option.variety,
      windowsNamed ? option.window : '',
      planted.has(plantedIn(option)) ? plantedIn(option) : '',
      weeksNamed ? option.week : '',
      isDugInLine && option.ripe !== '' ? option.ripe : '',
      dug.has(option.digWeek) ? option.digWeek : '',
      combined.has(option.combineWeek) ? option.combineWeek : '',
    ])
  const mustUse = new Set(problem.carried.flatMap((seed) => (seed.mustUse ? [seed.variety] : [])))
  const burden = (option: ProblemOption) => [
    isDugInLine ? weightedCents(option, rules.riskWeight) : lostAtBest(option),
    option.poundsPerAcre,
    // Where seed must be used, needing more of it can be what keeps a plan possible.
    mustUse.has(option.variety) ? -option.poundsPerAcre : 0,
    hasBudget ? option.cashCents : 0,
    hasLossLimit ? option.lossCents : 0,
    planted.has(plantedIn(option)) ? option.planterHours : 0,
    dug.has(option.digWeek) ? option.diggerHours : 0,
    combined.has(option.combineWeek) ? option.combineHours : 0,
    // The worth of what waits counts by a share between none and the most that a week loses: better at both ends is better between.
    isDugInLine ? option.work : 0,
    isDugInLine ? weightedCents(option, rules.riskWeight) + (mostLost.get(option.ripe) ?? 0) * option.cropCents : 0,
  ]

  const kept: number[] = []
  // Field by field: on a large farm the keys of all places together would take more memory than the options.
  const byField = Map.groupBy(problem.options.keys(), (index) => problem.options[index]?.field)
  for (const own of byField.values()) {
    const places = Map.groupBy(own, (index) => place(problem.options[index] as ProblemOption))
    for (const indices of places.values())
      kept.push(...front(indices, (index) => burden(problem.options[index] as ProblemOption)))
  }
  return kept.sort((a, b) => a - b)
}

/** Of options on the same limits those that no other is at least as good as. */
function front(indices: readonly number[], burdenOf: (index: number) => number[]): number[] {
  if (indices.length === 1) return [...indices]
  const burdens = new Map(indices.map((index) => [index, burdenOf(index)]))
  const of = (index: number) => burdens.get(index) as number[]
  const order = [...indices].sort((a, b) => compare(of(a), of(b)) || a - b)
  const kept: number[] = []
  for (const index of order) {
    const own = of(index)
    if (!kept.some((other) => of(other).every((value, i) => value <= (own[i] as number)))) kept.push(index)
  }
  return kept
}

function compare(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < a.length; i++) {
    const difference = (a[i] as number) - (b[i] as number)
    if (difference !== 0) return difference
  }
  return 0
}
