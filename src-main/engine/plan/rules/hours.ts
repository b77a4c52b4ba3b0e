/** Rules about machine hours: planters, diggers and combines by week. */
import type { PlanBlock } from '../../../../src-shared/plan.ts'
import type { PlanProblem, ProblemOption } from '../../../../src-shared/plan-problem.ts'
import { showDate } from '../../../../src-shared/show.ts'
import { optionsOfBlock, plantedIn } from '../block-options.ts'
import { optionAt, type Build, type QueueLine } from '../build.ts'
import type { Term } from '../linear-model.ts'
import { queuesOf } from '../queue.ts'
import { isMoreThan, type NamedRule } from './named-rule.ts'

interface Kind {
  id: string
  /** Of all weeks together. */
  saysAll: string
  says(place: string, hours: number): string
  limits(problem: PlanProblem): { in: string; hours: number }[]
  /** The week, or window, that an option's hours are used in, where that is fixed. */
  place(option: ProblemOption): string
  perAcre(option: ProblemOption): number
  /** [share] of a line's work of a digging week that falls into a week; absent: the queue does not bear on it. */
  shareIn?(dug: { week: string; combined: readonly { week: string; share: number }[] }, place: string): number
  perWork?(line: QueueLine): number
}

const kinds: Kind[] = [
  {
    id: 'planter-hours',
    saysAll: 'Plant no more in a week than the planters can.',
    says: (place, hours) => `The planters have ${hours.toFixed(0)} hours in ${placeWords(place)}.`,
    limits: (problem) => problem.rules.planterHours,
    place: plantedIn,
    perAcre: (option) => option.planterHours,
  },
  {
    id: 'digger-hours',
    saysAll: 'Dig no more in a week than the diggers can.',
    says: (week, hours) => `The diggers have ${hours.toFixed(0)} hours in ${weekWords(week)}.`,
    limits: (problem) => problem.rules.diggerHours,
    place: (option) => option.digWeek,
    perAcre: (option) => option.diggerHours,
    shareIn: ({ week }, place) => (week === place ? 1 : 0),
    perWork: ({ digHours }) => digHours,
  },
  {
    id: 'combine-hours',
    saysAll: 'Combine no more in a week than the combines can.',
    says: (week, hours) => `The combines have ${hours.toFixed(0)} hours in ${weekWords(week)}.`,
    limits: (problem) => problem.rules.combineHours,
    place: (option) => option.combineWeek,
    perAcre: (option) => option.combineHours,
    shareIn: ({ combined }, place) => combined.find(({ week }) => week === place)?.share ?? 0,
    perWork: ({ combineHours }) => combineHours,
  },
]

function isWeek(place: string): boolean {
  return /^\d{4}-\d{2}-\d{2}$/.test(place)
}

/** Hours go by week on a farm, and by window in a problem that has no weeks. */
function placeWords(place: string): string {
  return isWeek(place) ? weekWords(place) : `the ${place} window`
}

/** “the week of May 3”; a week of a problem that has names for weeks is called by its name. */
function weekWords(week: string): string {
  return `the week of ${isWeek(week) ? showDate(week) : week}`
}

/** Of weeks one rule for all, for longer days are longer in every week; of windows one each. */
export function hourRules(problem: PlanProblem): NamedRule[] {
  return kinds.flatMap((kind) => {
    const limits = kind.limits(problem)
    const isByWeek = limits.length > 0 && limits.every((limit) => isWeek(limit.in))
    if (isByWeek) return [hourRule(problem, kind, kind.id, kind.saysAll, limits)]
    return limits.map((limit) =>
      hourRule(problem, kind, `${kind.id}/${limit.in}`, kind.says(limit.in, limit.hours), [limit]),
    )
  })
}

function hourRule(
  problem: PlanProblem,
  kind: Kind,
  id: string,
  says: string,
  limits: readonly { in: string; hours: number }[],
): NamedRule {
  return {
    id,
    says,
    unit: 'hours',
    addRows(build: Build) {
      for (const limit of limits) addRow(build, problem, kind, limit)
    },
    broken(plan) {
      const found = limits.flatMap((limit) => {
        const hours = plan.blocks.reduce((sum, block) => sum + hoursOf(problem, kind, limit.in, block), 0)
        return isMoreThan(hours, limit.hours)
          ? [`${kind.says(limit.in, limit.hours)} The plan uses ${hours.toFixed(1)}.`]
          : []
      })
      return found.length > 0 ? found.join(' ') : null
    },
  }
}

function addRow(build: Build, problem: PlanProblem, kind: Kind, limit: { in: string; hours: number }): void {
  const fixed = build.options.flatMap(({ option, share }): Term[] => {
    const own = optionAt(problem, option)
    return kind.place(own) === limit.in ? [[share, kind.perAcre(own) * (build.acresOf.get(own.field) as number)]] : []
  })
  const queued = build.queue.flatMap((line) =>
    line.weeks.flatMap((week): Term[] => {
      const share = kind.shareIn?.(week, limit.in) ?? 0
      return share > 0 ? [[week.column, share * (kind.perWork?.(line) ?? 0)]] : []
    }),
  )
  const terms = [...fixed, ...queued]
  if (terms.length > 0) build.model.limit(-Infinity, limit.hours, terms)
}

/** [machine-hour] that a block takes in a week. */
function hoursOf(problem: PlanProblem, kind: Kind, place: string, block: PlanBlock): number {
  const { shareIn } = kind
  const queues = queuesOf(problem)
  return (optionsOfBlock(problem, block) ?? []).reduce((all, { option, part }) => {
    if (shareIn === undefined || option.ripe === '')
      return kind.place(option) === place ? all + kind.perAcre(option) * part.acres : all
    const weeks = queues.get(option.ripe)?.weeks ?? []
    return part.dug.reduce((sum, dug) => {
      const week = weeks.find((each) => each.week === dug.week)
      return week === undefined ? sum : sum + shareIn(week, place) * kind.perAcre(option) * dug.acres
    }, all)
  }, 0)
}
