/** What a model under construction knows: which column means what. Rules and the purchase read and add to it. */
import type { PlanProblem, ProblemField, ProblemOption } from '../../../src-shared/plan-problem.ts'
import type { LinearModel, Slack, Term } from './linear-model.ts'
import { mostAcres, shareRuleId } from './share-limit.ts'

/** The solver counts in dollars: its tolerances suit numbers of that size. */
export const CENTS_PER_UNIT = 100

export interface OptionColumn {
  /** Index into `problem.options`. */
  option: number
  /** Column: share of the field. */
  share: number
  /**
   * Yes/no column: of the group of options that a field takes together (`groupOf`), or of a block; the share's own where
   * it is alone on a whole field; null where shares are free.
   */
  chosen: number | null
}

export interface PackColumn {
  /** Index into `problem.quotes`. */
  quote: number
  column: number
  /** [cent/pack] in this column's price tier. */
  priceCents: number
}

/** What is ripe on the same day and worth about the same, and the columns of its work by week of digging. */
export interface QueueLine {
  key: string
  /** ISO date */
  ripe: string
  members: OptionColumn[]
  weeks: { week: string; column: number; combined: readonly { week: string; share: number }[] }[]
  /** [machine-hour/acre of a plain vine] */
  digHours: number
  combineHours: number
}

export interface Build {
  problem: PlanProblem
  model: LinearModel
  /** Ids of the rules in force; a limit whose rule is off does not tighten any column. */
  inForce: ReadonlySet<string>
  options: OptionColumn[]
  byField: Map<string, OptionColumn[]>
  byVariety: Map<string, OptionColumn[]>
  packs: PackColumn[]
  carried: { carried: number; column: number }[]
  /** Yes/no (or share) column of a field that may be left out. */
  leftOut: Map<string, number>
  /** Yes/no column of a dealer, where anything asks for one. */
  dealerUsed: Map<string, number>
  /** Pounds that a break on a dealer's whole order takes money off. */
  dealerOff: { column: number; centsPerPound: number }[]
  /** Yes/no column of a variety, made when a rule asks. */
  varietyUsed: Map<string, number>
  /** Slack columns of each rule that may be broken. */
  slacks: Map<string, Slack[]>
  acresOf: Map<string, number>
  /** Empty where everything is dug in its best week. */
  queue: QueueLine[]
  /** Yes/no columns of a field's visits by week; only where weeks are put in order (`tidy-weeks.ts`). */
  visits: number[]
}

export function optionAt(problem: PlanProblem, index: number): ProblemOption {
  return problem.options[index] as ProblemOption
}

/** The columns of a field or a variety; none where it has no option. */
export function columnsOf(columns: ReadonlyMap<string, OptionColumn[]>, id: string): readonly OptionColumn[] {
  return columns.get(id) ?? []
}

/** The terms of columns in a sum of yes-or-noes: each group or block once. */
export function chosenTerms(columns: readonly OptionColumn[]): Term[] {
  return [...new Set(columns.map(({ share, chosen }) => chosen ?? share))].map((column) => [column, 1])
}

/** [acre] A block that counts as planted is at least so large: with less, a variety would be planted on paper only. */
const LEAST_COUNTED_ACRES = 0.1

/** [acre] the least size of a block of a split field that is told apart from its neighbors by a yes or no. */
export function leastBlockAcres({ acres, split }: ProblemField): number {
  return Math.max(split?.leastBlockAcres ?? 0, Math.min(LEAST_COUNTED_ACRES, acres / 100))
}

/** True where the field must go to one option whole. */
export function isWhole(field: ProblemField): boolean {
  return field.split === undefined || field.split.leastBlockAcres > field.acres / 2
}

/** The yes/no column of a variety: 1 if any ground has it. Made on first asking. */
export function usedColumn(build: Build, variety: string): number {
  const known = build.varietyUsed.get(variety)
  if (known !== undefined) return known
  const used = build.model.choice()
  build.varietyUsed.set(variety, used)
  const own = columnsOf(build.byVariety, variety)
  for (const [field, columns] of Map.groupBy(own, ({ option }) => optionAt(build.problem, option).field)) {
    const terms: Term[] = [...columns.map(({ share }): Term => [share, 1]), [used, -1]]
    build.model.row(-Infinity, 0, terms, `used/${variety}/${field}`)
  }
  // What its share allows, all of it only where the variety is used at all: many varieties of small shares need this.
  if (build.inForce.has(shareRuleId(variety))) {
    const most = mostAcres(build.problem, variety)
    build.model.row(-Infinity, 0, [...acresOfVariety(build, variety), [used, -most]], `share/${variety}`)
  }
  // Used means somewhere: at least one block, so that a rule of least varieties cannot be met on paper only.
  build.model.row(0, Infinity, [...chosenTerms(own), [used, -1]], `used/${variety}`)
  return used
}

/** Terms that add up the acres of a variety. */
export function acresOfVariety(build: Build, variety: string): Term[] {
  return columnsOf(build.byVariety, variety).map(({ option, share }) => [
    share,
    build.acresOf.get(optionAt(build.problem, option).field) as number,
  ])
}

/** Terms that add up the pounds a variety needs, reserve included. */
export function poundsNeeded(build: Build, variety: string): Term[] {
  return columnsOf(build.byVariety, variety).map(({ option, share }) => {
    const { field, poundsPerAcre } = optionAt(build.problem, option)
    return [share, poundsPerAcre * (build.acresOf.get(field) as number) * (1 + build.problem.rules.reserve)]
  })
}
