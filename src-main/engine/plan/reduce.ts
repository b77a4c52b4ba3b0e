/**
 * Leaves out options that cannot be part of a least-cost plan: for one field and variety, every program and rate that another
 * is at least as good as, in each week, in weighted cost and in everything that a rule limits; and of one program and rate
 * the weeks that another is at least as good as, where no limit tells them apart.
 */
import type { PlanProblem, ProblemOption } from '../../../src-shared/plan-problem.ts'
import { groupOf, plantedIn } from './block-options.ts'
import { optionAt } from './build.ts'
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

  const placesOf = (indices: readonly number[]): Places => {
    const fronts = new Map<string, Choice[]>()
    for (const [key, own] of Map.groupBy(indices, (index) => place(optionAt(problem, index))))
      fronts.set(
        key,
        front(own, (index) => burden(optionAt(problem, index))),
      )
    return fronts
  }
  const groupsOf = (indices: readonly number[]) => [
    ...Map.groupBy(indices, (index) => groupOf(optionAt(problem, index), index)).values(),
  ]

  const kept: number[] = []
  // Field by field: on a large farm the keys of all places together would take more memory than the options.
  const byField = Map.groupBy(problem.options.keys(), (index) => optionAt(problem, index).field)
  for (const own of byField.values()) {
    for (const alike of Map.groupBy(own, (index) => optionAt(problem, index).variety).values()) {
      const places = placesOf(alike)
      // Where no limit tells weeks apart, one option is often at least as good as all.
      const [first] = places.values()
      const stay = places.size === 1 && first?.length === 1 ? [places] : undominated(groupsOf(alike).map(placesOf))
      for (const each of stay) for (const choices of each.values()) for (const { index } of choices) kept.push(index)
    }
  }
  return kept.sort((a, b) => a - b)
}

/** An option and what of it counts against it: less is better in each. */
interface Choice {
  index: number
  burden: readonly number[]
}

/** Of options on the same limits those that no other is at least as good as. */
function front(indices: readonly number[], burdenOf: (index: number) => number[]): Choice[] {
  const order = indices.map((index): Choice => ({ index, burden: burdenOf(index) }))
  if (order.length === 1) return order
  order.sort((a, b) => compare(a.burden, b.burden) || a.index - b.index)
  const kept: Choice[] = []
  for (const choice of order) if (!kept.some((other) => isAsGood(other, choice))) kept.push(choice)
  return kept
}

function isAsGood(a: Choice, b: Choice): boolean {
  return a.burden.every((value, i) => value <= (b.burden[i] as number))
}

/** Choices by the limits that they draw on. */
type Places = ReadonlyMap<string, readonly Choice[]>

/**
 * Groups that no other is at least as good as wherever they can go. A field takes one group whole: one that is beaten in some
 * weeks alone, or by different groups in different weeks, can still be the best for a field that takes more than a week.
 */
function undominated(groups: readonly Places[]): Places[] {
  const beats = (a: Places, b: Places) =>
    [...b].every(([key, choices]) => {
      const others = a.get(key)
      return others !== undefined && choices.every((choice) => others.some((other) => isAsGood(other, choice)))
    })
  let kept: Places[] = []
  for (const group of groups) {
    if (kept.some((other) => beats(other, group))) continue
    kept = kept.filter((other) => !beats(group, other))
    kept.push(group)
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
