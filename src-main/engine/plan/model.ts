/**
 * Problem → mixed-integer model. The ground (which option where) and the purchase (which packs from whom) are
 * built here; every house rule adds its own rows from `rules/`. Costs go to the solver in dollars.
 *
 * Columns: y[option] share of its field; u[group] yes/no for options that differ by week only, or for a block; n[quote,
 * tier] packs; z[…] yes/no for a tier, a dealer, a dealer's break; r[carried] pounds used; l[field] left out; d[line,
 * week] work dug in a week (`queue.ts`).
 */
import type { PlanProblem, ProblemField } from '../../../src-shared/plan-problem.ts'
import { CENTS_PER_UNIT, isWhole, leastBlockAcres, optionAt, type Build, type OptionColumn } from './build.ts'
import { groupOf } from './block-options.ts'
import { LinearModel, type Slack, type Term } from './linear-model.ts'
import { addPurchases } from './model-purchases.ts'
import { leaveOutCents } from './leave-out.ts'
import { isMove, varietiesInHand } from './moves.ts'
import { addQueue, isQueued, leastLost, queuesOf } from './queue.ts'
import { usefulOptions, weightedCents } from './reduce.ts'
import type { NamedRule } from './rules/named-rule.ts'

export interface ModelChoices {
  /** Yes and no by group of options, their weeks in any share; false in a relaxation, which has no yes or no. */
  grouped?: boolean
  rules: readonly NamedRule[]
  /** Whole packs, or any amount (a relaxation that is solved first). */
  wholePacks: boolean
  /** Only these options, by index into `problem.options`; all useful ones when absent. */
  only?: readonly number[]
  /** Rules that may be broken: the model then looks for the least breach instead of the least cost. */
  soft?: readonly NamedRule[]
  /** Rules that may give way by so much, in their own unit, at no cost. */
  loosened?: readonly { rule: NamedRule; by: number }[]
}

export function buildModel(problem: PlanProblem, choices: ModelChoices): Build {
  const build: Build = {
    problem,
    model: new LinearModel(),
    inForce: new Set(choices.rules.map((rule) => rule.id)),
    options: [],
    byField: new Map(problem.fields.map((field) => [field.id, []])),
    byVariety: new Map(problem.varieties.map((variety) => [variety.id, []])),
    packs: [],
    carried: [],
    leftOut: new Map(),
    dealerUsed: new Map(),
    dealerOff: [],
    varietyUsed: new Map(),
    slacks: new Map(),
    acresOf: new Map(problem.fields.map((field) => [field.id, field.acres])),
    queue: [],
    visits: [],
  }
  const byField = Map.groupBy(choices.only ?? usefulOptions(problem), (index) => optionAt(problem, index).field)
  const inHand = varietiesInHand(problem)
  const grouped = choices.grouped ?? true
  for (const field of problem.fields) addField(build, field, byField.get(field.id) ?? [], inHand, grouped)
  addQueue(build)
  addPurchases(build, choices.wholePacks)
  for (const rule of choices.rules) {
    build.model.nameRows(rule.id)
    rule.addRows(build)
  }
  build.model.nameRows(null)
  for (const { rule, by } of choices.loosened ?? []) {
    for (const { column } of addSoft(build, rule)) build.model.loosen(column, by)
  }
  if (choices.soft !== undefined) {
    build.model.forgetCosts()
    for (const rule of choices.soft) build.slacks.set(rule.id, addSoft(build, rule))
  }
  return build
}

/** Adds a rule that may be broken; returns its slack columns. */
function addSoft(build: Build, rule: NamedRule): Slack[] {
  const slacks: Slack[] = []
  build.model.soften(slacks)
  rule.addRows(build)
  build.model.soften(null)
  return slacks
}

/** True where blocks of a split field need a yes/no each: they have a least size, or a rule counts them. */
function needsBlocks(field: ProblemField, { fewestVarieties, planted }: PlanProblem['rules']): boolean {
  if (field.split === undefined) return false
  const isCounted = (fewestVarieties ?? 0) > 0 || (planted ?? []).some(({ variety }) => variety !== undefined)
  return isCounted || field.split.leastBlockAcres > 0 || field.split.mostVarieties !== undefined
}

/** Every acre of a field goes to its options, or is left out where that is allowed. */
function addField(
  build: Build,
  field: ProblemField,
  indices: readonly number[],
  inHand: ReadonlyMap<string, ReadonlySet<string>>,
  grouped: boolean,
): void {
  const { model, problem } = build
  const whole = isWhole(field)
  const queues = isQueued(problem) ? null : queuesOf(problem)
  const groups = Map.groupBy(indices, (index) => (grouped ? groupOf(optionAt(problem, index), index) : index))
  const inGroup = new Map<number, number>()
  for (const group of groups.values()) {
    if (whole && group.length === 1) continue
    if (!whole && !needsBlocks(field, problem.rules)) continue
    const chosen = model.choice()
    for (const option of group) inGroup.set(option, chosen)
  }
  const own: OptionColumn[] = indices.map((option) => {
    const each = optionAt(problem, option)
    const moveCents = isMove(inHand, each) ? (problem.rules.stayPut?.centsPerMove ?? 0) : 0
    const lost = queues === null ? 0 : leastLost(queues, each)
    const cost = ((weightedCents(each, problem.rules.riskWeight) + lost) * field.acres + moveCents) / CENTS_PER_UNIT
    const chosen = inGroup.get(option)
    const share = model.column(cost, 0, 1, whole && chosen === undefined)
    return { option, share, chosen: chosen ?? (whole ? share : null) }
  })
  const sum: Term[] = own.map(({ share }) => [share, 1])
  const leaveOut = leaveOutCents(problem, field)
  if (leaveOut !== null) {
    const cost = (leaveOut * field.acres) / CENTS_PER_UNIT
    const column = model.column(cost, 0, 1, whole)
    build.leftOut.set(field.id, column)
    sum.push([column, 1])
  }
  model.row(1, 1, sum, `field/${field.id}`)
  if (whole) addGroups(build, own)
  else if (needsBlocks(field, problem.rules)) addBlocks(build, field, own)
  for (const column of own) {
    build.options.push(column)
    build.byField.get(field.id)?.push(column)
    build.byVariety.get(optionAt(problem, column.option).variety)?.push(column)
  }
}

/** The weeks of a group share the field when it is chosen. */
function addGroups(build: Build, own: readonly OptionColumn[]): void {
  for (const [chosen, members] of Map.groupBy(own, (column) => column.chosen as number)) {
    if (members.some(({ share }) => share === chosen)) continue
    build.model.row(0, 0, [...members.map(({ share }): Term => [share, 1]), [chosen, -1]])
  }
}

/** A block is at least so large or not there; a variety has one block in a field; so many varieties at most. */
function addBlocks(build: Build, field: ProblemField, own: readonly OptionColumn[]): void {
  const { model, problem } = build
  const least = leastBlockAcres(field) / field.acres
  const blocks = Map.groupBy(own, ({ chosen }) => chosen as number)
  for (const [chosen, members] of blocks)
    model.row(-Infinity, 0, [...members.map(({ share }): Term => [share, 1]), [chosen, -1]])
  for (const [variety, columns] of Map.groupBy(own, ({ option }) => optionAt(problem, option).variety)) {
    const chosen = [...new Set(columns.map((column) => column.chosen as number))].map((column): Term => [column, 1])
    if (chosen.length > 1) model.row(-Infinity, 1, chosen, `one/${field.id}/${variety}`)
    // Of one variety at most one option is chosen, so its sum stands for each: one row instead of many.
    const shares = columns.map(({ share }): Term => [share, 1])
    model.row(
      0,
      Infinity,
      [...shares, ...chosen.map(([column]): Term => [column, -least])],
      `least/${field.id}/${variety}`,
    )
  }
  const most = field.split?.mostVarieties
  if (most !== undefined)
    model.row(
      -Infinity,
      most,
      [...blocks.keys()].map((chosen) => [chosen, 1]),
      `most/${field.id}`,
    )
}
