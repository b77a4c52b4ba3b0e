/**
 * When nothing fits: which of the house's own rules clash, and by how much each would have to give way. Works on
 * named rules, never on solver rows. First the rules that a least-breach solution breaks are gathered until they
 * alone cannot hold (the elastic filter); then each is left out in turn and dropped for good where the rest still
 * cannot hold (the deletion filter). What is left clashes, and leaving out any one of it settles the clash.
 */
import type { ClashingRule, Conflict } from '../../../src-shared/plan.ts'
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'
import type { Build } from './build.ts'
import { choicesOnly } from './choices.ts'
import type { Slack } from './linear-model.ts'
import { buildModel } from './model.ts'
import type { NamedRule } from './rules/named-rule.ts'
import { Search } from './search.ts'
import type { SolveAnswer } from './run-model.ts'
import { MeteredSolver } from './metered-solver.ts'
import type { Solver } from './solver.ts'

/** Sum of slacks, each relative to its limit, below which a rule counts as kept. */
const KEPT = 1e-6
/** Work for one test (`metered-solver.ts`), some 2 s: what is not decided by then is said to be undecided. */
const ONE_TEST_WORK = 2e6
/** Work for all tests together, some 4 s. */
const MOST_WORK = 4e6
/** How much more than the least is tried, in turn. */
const TRIED_FACTORS = [1, 1.02, 1.1, 1.4, 2]
/** A gap so wide that nearly any plan ends the search: only whether there is one is asked. */
const ANY_PLAN = 0.5

/** Told where a clock ended it. */
const CLOCKED = ' The time for looking ran out on this machine.'

/** What is whole: nothing; dealers, breaks and varieties; everything. */
const kinds = ['shares', 'choices', 'whole'] as const
type Kind = (typeof kinds)[number]

type Loosened = { rule: NamedRule; by: number }

export interface ConflictOptions {
  /** [s] The last net, for all tests together: what is found out hangs on the work that they may take. */
  seconds: number
  /** Work for all tests together, where it is not the usual. */
  work?: number
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
  const clashing = rarestFirst(await search.thin(await search.gather(rules)))
  const told: ClashingRule[] = []
  for (const rule of [...clashing]) {
    if (search.isLate) {
      search.allDecided = false
      told.push(search.told(rule))
      continue
    }
    const settled = await search.settle(
      rule,
      rules.filter((other) => other !== rule),
    )
    // What settles the clash is part of it. What does not, may be no part: left out, the rest clashes still.
    const isPart = settled.settles === true || !(await search.clashesWithout(rule, clashing))
    if (isPart) told.push(settled)
    else clashing.splice(clashing.indexOf(rule), 1)
  }
  return {
    rules: told,
    isMinimal: search.allDecided && told.length > 0,
    says: `${saysOf(told, search.allDecided)}${search.isClocked && !search.allDecided ? CLOCKED : ''}`,
    seconds: search.seconds,
  }
}

/** One rule of its kind before the many of another: it is the more likely to be given way, and there may not be time for all. */
function rarestFirst(rules: readonly NamedRule[]): NamedRule[] {
  const kinds = Map.groupBy(rules, (rule) => rule.id.split('/')[0])
  return [...kinds.values()].sort((a, b) => a.length - b.length).flat()
}

class ConflictSearch {
  allDecided = true
  private readonly began = performance.now()
  private readonly problem: PlanProblem
  private readonly solver: MeteredSolver
  private readonly options: ConflictOptions

  constructor(problem: PlanProblem, solver: Solver, options: ConflictOptions) {
    this.problem = problem
    this.solver = new MeteredSolver(solver, options.work ?? MOST_WORK)
    this.options = options
  }

  get seconds(): number {
    return Number(((performance.now() - this.began) / 1000).toFixed(3))
  }

  /** True where the rules that clash are known and no work is left to find out what would settle each. */
  get isLate(): boolean {
    return this.solver.isSpent || this.isOutOfTime || (this.options.signal?.aborted ?? false)
  }

  private get isOutOfTime(): boolean {
    return this.seconds > this.options.seconds
  }

  /** True where a clock ended it: on a quicker machine more would be known. */
  get isClocked(): boolean {
    return this.solver.isClocked || this.isOutOfTime
  }

  told(rule: NamedRule, settles: boolean | null = null, amount: number | null = null): ClashingRule {
    return {
      id: rule.id,
      says: rule.says,
      unit: rule.unit ?? null,
      amount,
      settles,
      remedy: remedyOf(rule, amount, settles),
    }
  }

  private get secondsForOne(): number {
    return Math.max(0.2, this.options.seconds - this.seconds)
  }

  /** Rules that cannot hold together, not yet the fewest. */
  async gather(rules: readonly NamedRule[]): Promise<NamedRule[]> {
    // Most clashes show with everything in any share, which is far quicker; nearly all others once the choices are made.
    for (const kind of kinds) {
      let hard: NamedRule[] = []
      for (;;) {
        const soft = rules.filter((rule) => !hard.includes(rule))
        const build = buildModel(this.problem, { rules: hard, soft, wholePacks: kind === 'whole' })
        const answer = await this.run(build, kind, 0.2)
        if (answer.status === 'infeasible') return hard
        const { columns } = answer
        if (columns === null) {
          // Undecided: what was gathered may clash already, or not yet.
          this.allDecided = false
          return hard.length > 0 ? hard : [...rules]
        }
        const broken = soft.filter((rule) => breachOf(build, rule, columns) > KEPT)
        if (broken.length === 0) break
        hard = [...hard, ...broken]
      }
      // Rules can be tighter together than each is when it may be broken: so all of them are tried too.
      if (kind !== 'whole' && (await this.plainlyClash(rules, kind))) return [...rules]
    }
    return [...rules]
  }

  /** Leaves rules out for good, several at a time, where the rest clashes still with fields and packs in any share. */
  async thin(rules: readonly NamedRule[]): Promise<NamedRule[]> {
    let kept = [...rules]
    const kind = (await this.plainlyClash(rules, 'shares')) ? 'shares' : 'choices'
    if (kind === 'choices' && !(await this.plainlyClash(rules, 'choices'))) return kept
    for (let size = Math.ceil(rules.length / 4); size >= 1; size = size === 1 ? 0 : Math.ceil(size / 4)) {
      for (let at = 0; at < kept.length;) {
        const rest = kept.toSpliced(at, size)
        if (await this.plainlyClash(rest, kind)) kept = rest
        else at += size
      }
    }
    return kept
  }

  private async plainlyClash(rules: readonly NamedRule[], kind: Kind): Promise<boolean> {
    const build = buildModel(this.problem, { rules, wholePacks: false })
    return (await this.run(build, kind, ANY_PLAN)).status === 'infeasible'
  }

  /** True where the other rules of a clash clash without this one; not known in time counts as false, and is noted. */
  async clashesWithout(rule: NamedRule, clashing: readonly NamedRule[]): Promise<boolean> {
    const holds = await this.canHold(clashing.filter((other) => other !== rule))
    if (holds === null) this.allDecided = false
    return holds === false
  }

  /** True where some plan keeps these rules, false where none does, null where it was not decided in time. */
  private async canHold(rules: readonly NamedRule[], loosened: Loosened[] = []): Promise<boolean | null> {
    const { signal } = this.options
    this.solver.allow(ONE_TEST_WORK)
    const options = { gap: ANY_PLAN, seconds: this.secondsForOne, signal, loosened }
    const search = new Search(this.problem, rules, options, this.solver)
    const ended = await search.run()
    if (search.best !== null) return true
    return ended === 'infeasible' ? false : null
  }

  /** How far this rule alone must give way, with all others kept. */
  async settle(rule: NamedRule, others: readonly NamedRule[]): Promise<ClashingRule> {
    const told = (settles: boolean | null, amount: number | null) => this.told(rule, settles, amount)
    if (rule.unit === undefined) return told(await this.canHold(others), null)
    // Without whole fields and packs it must give way by this much at least; a little more is tried until it is enough.
    const build = buildModel(this.problem, { rules: others, soft: [rule], wholePacks: true })
    const relaxed = await this.run(build, 'shares')
    if (relaxed.status === 'infeasible') return told(false, null)
    const { columns } = relaxed
    if (columns === null) return told(null, null)
    const least = slacksOf(build, rule).reduce((sum, { column }) => sum + (columns[column] as number), 0)
    let lastTried = -1
    for (const factor of TRIED_FACTORS) {
      const amount = roundedUp(least * factor, rule.unit)
      if (amount === lastTried) continue
      lastTried = amount
      if ((await this.canHold(others, [{ rule, by: amount }])) === true) return told(true, amount)
    }
    return told(await this.canHold(others), null)
  }

  private run(build: Build, kind: Kind, gap = 0): Promise<SolveAnswer> {
    this.solver.allow(ONE_TEST_WORK)
    return this.solver.run(kind === 'choices' ? choicesOnly(build) : build.model.arrays(), {
      gap,
      relaxed: kind === 'shares',
      seconds: this.secondsForOne,
      signal: this.options.signal,
    })
  }
}

/** Sum of a soft rule's slacks, each relative to its limit. */
function breachOf(build: Build, rule: NamedRule, columns: Float64Array): number {
  return slacksOf(build, rule).reduce((sum, { column, size }) => sum + (columns[column] as number) / size, 0)
}

/** None where the rule has no limit that could give way here, as one of a machine that no option needs. */
function slacksOf(build: Build, rule: NamedRule): readonly Slack[] {
  return build.slacks.get(rule.id) ?? []
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
      : `${amount.toLocaleString('en-US')} ${unitFor(amount, rule.unit ?? '')}`
  return `Giving way by ${told} is enough.`
}

/** Units of rules are told in the plural; one of them is not. */
function unitFor(amount: number, unit: string): string {
  return amount === 1 ? unit.replace(/ies$/, 'y').replace(/s$/, '') : unit
}

function saysOf(rules: readonly ClashingRule[], isDecided: boolean): string {
  const [first, ...others] = rules
  if (first === undefined)
    return 'No plan exists even without the house rules: a field has nothing that could be planted on it, or a dealer’s minimum cannot be met.'
  if (others.length === 0) return `This rule cannot be kept: ${first.says}`
  const lead = isDecided
    ? `These ${rules.length} rules cannot all be kept`
    : `Among these ${rules.length} rules some cannot be kept together`
  return `${lead}: ${rules.map((rule) => rule.says).join(' ')}`
}
