/**
 * When nothing fits: which of the house's own rules clash, and by how much each would have to give way. Works on
 * named rules, never on solver rows. First the rules that a least-breach solution breaks are gathered until they
 * alone cannot hold (the elastic filter); then each is left out in turn and dropped for good where the rest still
 * cannot hold (the deletion filter). What is left clashes, and leaving out any one of it settles the clash.
 */
import type { ClashingRule, Conflict } from '../../../src-shared/plan.ts'
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'
import type { Build } from './build.ts'
import { buildModel } from './model.ts'
import { optionsWithin, pricesOf } from './option-prices.ts'
import type { NamedRule } from './rules/named-rule.ts'
import type { SolveAnswer } from './solve-worker.ts'
import type { Solver } from './solver.ts'

/** Sum of slacks, each relative to its limit, below which a rule counts as kept. */
const KEPT = 1e-6
/** [s] for one test: what is not decided by then is said to be undecided. */
const ONE_TEST_SECONDS = 2
/** Reach of the likely options, as a share of the relaxation's cost. */
const LIKELY_REACH = 0.0005
/** How much more than the least is tried, in turn. */
const TRIED_FACTORS = [1, 1.02, 1.1, 1.4, 2]
/** A gap so wide that the first solution found ends the search: only whether there is one is asked. */
const ANY_SOLUTION = 1e9

type Loosened = { rule: NamedRule; by: number }

export interface ConflictOptions {
  /** [s] for all tests together. */
  seconds: number
  signal?: AbortSignal
}

/**
 * @param problem sorted
 * @param rules all rules in force; together they are known to have no plan
 */
export async function findConflict(
  problem: PlanProblem,
  rules: readonly NamedRule[],
  solver: Solver,
  options: ConflictOptions,
): Promise<Conflict> {
  const search = new ConflictSearch(problem, solver, options)
  const gathered = await search.gather(rules)
  const clashing = await search.thin(gathered)
  const others = rules.filter((rule) => !clashing.includes(rule))
  const told: ClashingRule[] = []
  for (const rule of clashing) {
    told.push(await search.settle(rule, [...others, ...clashing.filter((other) => other !== rule)]))
  }
  return {
    rules: told,
    isMinimal: search.allDecided && clashing.length > 0,
    says: saysOf(told, search.allDecided),
    seconds: search.seconds,
  }
}

class ConflictSearch {
  allDecided = true
  private readonly began = performance.now()
  private readonly problem: PlanProblem
  private readonly solver: Solver
  private readonly options: ConflictOptions

  constructor(problem: PlanProblem, solver: Solver, options: ConflictOptions) {
    this.problem = problem
    this.solver = solver
    this.options = options
  }

  get seconds(): number {
    return Number(((performance.now() - this.began) / 1000).toFixed(3))
  }

  /** Rules that cannot hold together, not yet the fewest. */
  async gather(rules: readonly NamedRule[]): Promise<NamedRule[]> {
    // Most clashes show in the relaxation already, which is far quicker; what does not is a clash of whole numbers.
    for (const relaxed of [true, false]) {
      let hard: NamedRule[] = []
      for (;;) {
        const soft = rules.filter((rule) => !hard.includes(rule))
        const build = buildModel(this.problem, { rules: hard, soft, wholePacks: true })
        const answer = await this.run(build, { relaxed, gap: 0.2 })
        if (answer.status === 'infeasible') return hard
        if (answer.columns === null) {
          // Undecided: what was gathered may clash already, or not yet.
          this.allDecided = false
          return hard.length > 0 ? hard : [...rules]
        }
        const broken = soft.filter((rule) => breachOf(build, rule, answer) > KEPT)
        if (broken.length === 0) break
        hard = [...hard, ...broken]
      }
    }
    return [...rules]
  }

  /** Leaves out each rule in turn; keeps out what is not needed for the clash. */
  async thin(rules: readonly NamedRule[]): Promise<NamedRule[]> {
    let kept = [...rules]
    for (const rule of rules) {
      const rest = kept.filter((other) => other !== rule)
      const holds = await this.canHold(rest)
      if (holds === false) kept = rest
      else if (holds === null) this.allDecided = false
    }
    return kept
  }

  /** True where some plan keeps these rules, false where none does, null where it was not decided in time. */
  private async canHold(rules: readonly NamedRule[], loosened: Loosened[] = []): Promise<boolean | null> {
    const relaxation = buildModel(this.problem, { rules, loosened, wholePacks: false })
    const relaxed = await this.run(relaxation, { relaxed: true, gap: 0 })
    if (relaxed.status === 'infeasible') return false
    const likely =
      relaxed.reduced === null
        ? undefined
        : optionsWithin(relaxation, pricesOf(relaxation, relaxed), LIKELY_REACH * Math.abs(relaxed.cost))
    // A plan is most easily found among few options; that there is none must be asked of all.
    for (const only of [likely, undefined]) {
      const build = buildModel(this.problem, { rules, loosened, wholePacks: true, only })
      const answer = await this.run(build, { gap: ANY_SOLUTION })
      if (answer.columns !== null) return true
      if (only === undefined && answer.status === 'infeasible') return false
    }
    return null
  }

  /** How far this rule alone must give way, with all others kept. */
  async settle(rule: NamedRule, others: readonly NamedRule[]): Promise<ClashingRule> {
    const told = (settles: boolean | null, amount: number | null): ClashingRule => ({
      id: rule.id,
      says: rule.says,
      unit: rule.unit ?? null,
      amount,
      settles,
      remedy: remedyOf(rule, amount, settles),
    })
    if (rule.unit === undefined) return told(await this.canHold(others), null)
    // Without whole fields and packs it must give way by this much at least; a little more is tried until it is enough.
    const build = buildModel(this.problem, { rules: others, soft: [rule], wholePacks: true })
    const relaxed = await this.run(build, { relaxed: true, gap: 0 })
    if (relaxed.status === 'infeasible') return told(false, null)
    if (relaxed.columns === null) return told(null, null)
    const least = (build.slacks.get(rule.id) ?? []).reduce(
      (sum, { column }) => sum + (relaxed.columns?.[column] ?? 0),
      0,
    )
    let lastTried = -1
    for (const factor of TRIED_FACTORS) {
      const amount = roundedUp(least * factor, rule.unit)
      if (amount === lastTried) continue
      lastTried = amount
      if ((await this.canHold(others, [{ rule, by: amount }])) === true) return told(true, amount)
    }
    return told(await this.canHold(others), null)
  }

  private run(build: Build, how: { gap: number; relaxed?: boolean }): Promise<SolveAnswer> {
    return this.solver.run(build.model.arrays(), {
      ...how,
      seconds: Math.max(0.2, Math.min(ONE_TEST_SECONDS, this.options.seconds - this.seconds)),
      signal: this.options.signal,
    })
  }
}

/** Sum of a soft rule's slacks, each relative to its limit. */
function breachOf(build: Build, rule: NamedRule, answer: SolveAnswer): number {
  const slacks = build.slacks.get(rule.id) ?? []
  return slacks.reduce((sum, { column, size }) => sum + (answer.columns?.[column] ?? 0) / size, 0)
}

/** In the rule's own unit, so that the amount told is enough: whole things are counted whole. */
function roundedUp(amount: number, unit: string): number {
  const isCount = ['packs', 'varieties', 'dealers', 'cents'].includes(unit)
  return isCount ? Math.max(1, Math.ceil(amount - 1e-6)) : Math.ceil(amount * 100 - 1e-4) / 100
}

function remedyOf(rule: NamedRule, amount: number | null, settles: boolean | null): string {
  if (settles === null) return 'Whether giving this one up is enough was not found out in time.'
  if (!settles) return 'Giving this one up is not enough by itself.'
  if (amount === null) return 'Giving this one up is enough.'
  const told =
    rule.unit === 'cents'
      ? (amount / 100).toLocaleString('en-US', { style: 'currency', currency: 'USD' })
      : `${amount.toLocaleString('en-US')} ${rule.unit}`
  return `Giving way by ${told} is enough.`
}

function saysOf(rules: readonly ClashingRule[], isDecided: boolean): string {
  if (rules.length === 0)
    return 'No plan exists even without the house rules: a field has nothing that could be planted on it, or a dealer’s minimum cannot be met.'
  if (rules.length === 1) return `This rule cannot be kept: ${rules[0]?.says ?? ''}`
  const lead = isDecided
    ? `These ${rules.length} rules cannot all be kept`
    : `Among these ${rules.length} rules some cannot be kept together`
  return `${lead}: ${rules.map((rule) => rule.says).join(' ')}`
}
