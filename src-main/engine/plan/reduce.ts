/**
 * Leaves out options that cannot be part of a least-cost plan: for one field and variety, whatever another
 * option is at least as good as in weighted cost and in everything that a rule limits.
 */
import type { PlanProblem, ProblemOption } from '../../../src-shared/plan-problem.ts'

/** [cent/acre] what the plan makes least, without seed. */
export function weightedCents(option: ProblemOption, riskWeight: number): number {
  return option.cashCents + riskWeight * option.lossCents + option.vineCents + option.giveUpCents
}

/** Exclusions applied: options that no plan may use are gone. */
export function isExcluded(problem: PlanProblem, option: ProblemOption): boolean {
  return problem.rules.exclusions.some(
    (exclusion) =>
      (exclusion.field === undefined || exclusion.field === option.field) &&
      (exclusion.variety === undefined || exclusion.variety === option.variety) &&
      (exclusion.window === undefined || exclusion.window === option.window),
  )
}

/** Indices into `problem.options` that stay, in order. */
export function usefulOptions(problem: PlanProblem): number[] {
  const { rules } = problem
  const limitedIn = (limits: readonly { in: string }[]) => new Set(limits.map((limit) => limit.in))
  const planted = limitedIn(rules.planterHours)
  const dug = limitedIn(rules.diggerHours)
  const combined = limitedIn(rules.combineHours)
  const windowsNamed = rules.locks.some((lock) => lock.window) || rules.exclusions.some((each) => each.window)
  const hasBudget = rules.budgetCents !== undefined
  const hasLossLimit = rules.lossLimitCents !== undefined

  /** Two options can be compared only where they draw on the same limits. */
  const place = (option: ProblemOption) =>
    JSON.stringify([
      option.field,
      option.variety,
      windowsNamed ? option.window : '',
      planted.has(option.window) ? option.window : '',
      dug.has(option.digWeek) ? option.digWeek : '',
      combined.has(option.combineWeek) ? option.combineWeek : '',
    ])
  const burden = (option: ProblemOption) => [
    weightedCents(option, rules.riskWeight),
    option.poundsPerAcre,
    hasBudget ? option.cashCents : 0,
    hasLossLimit ? option.lossCents : 0,
    planted.has(option.window) ? option.planterHours : 0,
    dug.has(option.digWeek) ? option.diggerHours : 0,
    combined.has(option.combineWeek) ? option.combineHours : 0,
  ]

  const places = new Map<string, number[]>()
  problem.options.forEach((option, index) => {
    const key = place(option)
    const there = places.get(key)
    if (there) there.push(index)
    else places.set(key, [index])
  })
  const kept: number[] = []
  for (const indices of places.values()) {
    const burdens = new Map(indices.map((index) => [index, burden(problem.options[index] as ProblemOption)]))
    const order = [...indices].sort((a, b) => compare(burdens.get(a) as number[], burdens.get(b) as number[]) || a - b)
    const front: number[] = []
    for (const index of order) {
      const own = burdens.get(index) as number[]
      const beaten = front.some((other) =>
        (burdens.get(other) as number[]).every((value, i) => value <= (own[i] as number)),
      )
      if (!beaten) front.push(index)
    }
    kept.push(...front)
  }
  return kept.sort((a, b) => a - b)
}

function compare(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < a.length; i++) {
    const difference = (a[i] as number) - (b[i] as number)
    if (difference !== 0) return difference
  }
  return 0
}
