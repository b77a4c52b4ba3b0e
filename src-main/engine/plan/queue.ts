/**
 * The digging queue. What is ripe on the same day and worth about the same waits in one line, in whatever shares go to
 * which week: acres flow, no yes or no for each field and week. A line counts its crop at the least that any of it is
 * worth, so the model never costs more than the plan that is read from it, and its bound holds.
 */
import type { DugPart } from '../../../src-shared/plan.ts'
import type { PlanProblem, ProblemOption, ProblemQueue } from '../../../src-shared/plan-problem.ts'
import { CENTS_PER_UNIT, optionAt, type Build, type OptionColumn, type QueueLine } from './build.ts'
import type { Term } from './linear-model.ts'

/** By so much the worth of what is in one line may differ. */
const STEP = 1.03
const LOG_STEP = Math.log(STEP)

/** True where hours of some week of digging or combining are limited at all: else everything is dug in its best week. */
export function isQueued({ rules, digging }: PlanProblem): boolean {
  return digging.length > 0 && rules.diggerHours.length + rules.combineHours.length > 0
}

/** Asked for by field and by block: made once a problem, and forgotten with it. */
const queuesByRipe = new WeakMap<PlanProblem, ReadonlyMap<string, ProblemQueue>>()

/** The queues by the day of ripeness. */
export function queuesOf(problem: PlanProblem): ReadonlyMap<string, ProblemQueue> {
  let queues = queuesByRipe.get(problem)
  if (queues === undefined)
    queuesByRipe.set(problem, (queues = new Map(problem.digging.map((queue) => [queue.ripe, queue]))))
  return queues
}

/** The week in which the least is lost; of two alike the first. */
export function bestWeek(queue: ProblemQueue): ProblemQueue['weeks'][number] {
  return queue.weeks.reduce((best, week) => (week.lost < best.lost - 1e-12 ? week : best))
}

/** [cent/acre] lost even in the best week. */
export function leastLost(queues: ReadonlyMap<string, ProblemQueue>, option: ProblemOption): number {
  const queue = queues.get(option.ripe)
  return queue === undefined ? 0 : bestWeek(queue).lost * option.cropCents
}

/** [cent/acre of a plain vine] what an option's crop is worth to the queue, and the step that it is on. */
function worthOf({ cropCents, work }: ProblemOption): { step: number; least: number } {
  const worth = cropCents / work
  if (worth < 1) return { step: -1, least: 0 }
  const step = Math.floor(Math.log(worth) / LOG_STEP + 1e-9)
  return { step, least: Math.min(worth, STEP ** step) }
}

/** Lines for the options that the model has, with a column for each week. */
export function addQueue(build: Build): void {
  const { problem, model } = build
  if (!isQueued(problem)) return
  const queues = queuesOf(problem)
  const lines = Map.groupBy(
    build.options.filter(({ option }) => optionAt(problem, option).ripe !== ''),
    ({ option }) => {
      const own = optionAt(problem, option)
      return `${own.ripe}/${worthOf(own).step}/${hoursKey(own)}`
    },
  )
  for (const [key, members] of lines) {
    const first = optionAt(problem, (members[0] as OptionColumn).option)
    const queue = queues.get(first.ripe) as ProblemQueue
    // The work of so many acres goes through the line, so that a large vine takes the longer.
    const work = members.map(({ option, share }): Term => {
      const own = optionAt(problem, option)
      return [share, (build.acresOf.get(own.field) as number) * own.work]
    })
    const most = work.reduce((sum, [, acres]) => sum + acres, 0)
    const { least } = worthOf(first)
    const weeks = queue.weeks.map(({ week, lost, combined }) => ({
      week,
      combined,
      column: model.column((lost * least) / CENTS_PER_UNIT, 0, most),
    }))
    const line: QueueLine = {
      key,
      ripe: first.ripe,
      members,
      weeks,
      digHours: first.diggerHours / first.work,
      combineHours: first.combineHours / first.work,
    }
    build.queue.push(line)
    model.row(0, 0, [...weeks.map(({ column }): Term => [column, 1]), ...work.map(negated)], `dug/${key}`)
  }
}

function negated([column, value]: Term): Term {
  return [column, -value]
}

/** Options in one line take the same hours for the same work. */
function hoursKey({ diggerHours, combineHours, work }: ProblemOption): string {
  return `${(diggerHours / work).toPrecision(9)}/${(combineHours / work).toPrecision(9)}`
}

/** [acre] of each option's that are dug in each week, the most valuable in the weeks in which the least is lost. */
export function dugParts(
  build: Build,
  columns: Float64Array,
  placed: readonly { option: number; acres: number }[],
): Map<number, { week: string; acres: number }[]> {
  const { problem } = build
  const queues = queuesOf(problem)
  const acresOf = new Map(placed.map(({ option, acres }) => [option, acres]))
  const parts = new Map<number, { week: string; acres: number }[]>()
  for (const line of build.queue) {
    const own = line.members.flatMap(({ option }) => {
      const acres = acresOf.get(option)
      return acres === undefined ? [] : [{ option, left: acres * optionAt(problem, option).work }]
    })
    own.sort((a, b) => worth(optionAt(problem, b.option)) - worth(optionAt(problem, a.option)) || a.option - b.option)
    const lost = new Map((queues.get(line.ripe) as ProblemQueue).weeks.map((week) => [week.week, week.lost]))
    const room = line.weeks
      .map(({ week, column }) => ({ week, left: Math.max(0, columns[column] as number) }))
      .filter(({ left }) => left > 1e-9)
      .sort((a, b) => (lost.get(a.week) as number) - (lost.get(b.week) as number))
    fillWeeks(problem, own, room, parts)
  }
  for (const { option, acres } of placed) {
    const queue = queues.get(optionAt(problem, option).ripe)
    if (queue !== undefined && !parts.has(option)) parts.set(option, [{ week: bestWeek(queue).week, acres }])
  }
  return parts
}

function worth({ cropCents, work }: ProblemOption): number {
  return cropCents / work
}

/** What solver and rounding leave over goes to the last week used, so that acres add up. */
function fillWeeks(
  problem: PlanProblem,
  own: { option: number; left: number }[],
  room: { week: string; left: number }[],
  parts: Map<number, { week: string; acres: number }[]>,
): void {
  const scale = own.reduce((sum, { left }) => sum + left, 0) / room.reduce((sum, { left }) => sum + left, 0)
  let at = 0
  for (const each of own) {
    const { work } = optionAt(problem, each.option)
    const whole = each.left
    const dug: { week: string; acres: number }[] = []
    while (each.left > whole * 1e-9) {
      const week = room[at]
      if (week === undefined) break
      const taken = Math.min(each.left, week.left * scale)
      if (taken > whole * 1e-6) dug.push({ week: week.week, acres: taken / work })
      each.left -= taken
      week.left -= taken / scale
      if (week.left * scale <= 1e-9 && at < room.length - 1) at++
      else if (taken <= 0) break
    }
    const sum = dug.reduce((all, { acres }) => all + acres, 0)
    const acres = whole / work
    dug.sort((a, b) => (a.week < b.week ? -1 : 1))
    if (sum > 0)
      parts.set(
        each.option,
        dug.map((part) => ({ ...part, acres: (part.acres / sum) * acres })),
      )
  }
}

/** The parts of a block with what digging in their week loses. */
export function pricedParts(
  queue: ProblemQueue,
  option: ProblemOption,
  parts: readonly { week: string; acres: number }[],
  cents: (amount: number) => number,
): { dug: DugPart[]; lostLb: number } {
  let lostLb = 0
  const dug = parts.map(({ week, acres }) => {
    const lost = queue.weeks.find((each) => each.week === week)?.lost ?? 1
    lostLb += acres * lost * option.cropLb
    return { week, acres, cents: cents(acres * lost * option.cropCents) }
  })
  return { dug, lostLb }
}
