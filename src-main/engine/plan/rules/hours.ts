/** Rules about machine hours: planters, diggers and combines by week. */
import type { PlanBlock } from '../../../../src-shared/plan.ts'
import type { PlanProblem, ProblemOption } from '../../../../src-shared/plan-problem.ts'
import { optionsOfBlock, plantedIn } from '../block-options.ts'
import { optionAt, type Build, type QueueLine } from '../build.ts'
import type { Term } from '../linear-model.ts'
import { queuesOf } from '../queue.ts'
import { isMoreThan, type NamedRule } from './named-rule.ts'

interface Kind {
  id: string
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
    says: (place, hours) => `The planters have ${hours.toFixed(0)} hours in ${placeWords(place)}.`,
    limits: (problem) => problem.rules.planterHours,
    place: plantedIn,
    perAcre: (option) => option.planterHours,
  },
  {
    id: 'digger-hours',
    says: (week, hours) => `The diggers have ${hours.toFixed(0)} hours in the week of ${week}.`,
    limits: (problem) => problem.rules.diggerHours,
    place: (option) => option.digWeek,
    perAcre: (option) => option.diggerHours,
    shareIn: ({ week }, place) => (week === place ? 1 : 0),
    perWork: ({ digHours }) => digHours,
  },
  {
    id: 'combine-hours',
    says: (week, hours) => `The combines have ${hours.toFixed(0)} hours in the week of ${week}.`,
    limits: (problem) => problem.rules.combineHours,
    place: (option) => option.combineWeek,
    perAcre: (option) => option.combineHours,
    shareIn: ({ combined }, place) => combined.find(({ week }) => week === place)?.share ?? 0,
    perWork: ({ combineHours }) => combineHours,
  },
]

/** Hours go by week on a farm, and by window in a problem that has no weeks. */
function placeWords(place: string): string {
  return /^\d{4}-\d{2}-\d{2}$/.test(place) ? `the week of ${place}` : `the ${place} window`
}

export function hourRules(problem: PlanProblem): NamedRule[] {
  return kinds.flatMap((kind) => kind.limits(problem).map((limit) => hourRule(problem, kind, limit)))
}

function hourRule(problem: PlanProblem, kind: Kind, limit: { in: string; hours: number }): NamedRule {
  const isFixedHere = (option: ProblemOption) => kind.place(option) === limit.in
  return {
    id: `${kind.id}/${limit.in}`,
    says: kind.says(limit.in, limit.hours),
    unit: 'hours',
    addRows(build: Build) {
      const fixed = build.options.flatMap(({ option, share }): Term[] => {
        const own = optionAt(problem, option)
        return isFixedHere(own) ? [[share, kind.perAcre(own) * (build.acresOf.get(own.field) as number)]] : []
      })
      const queued = build.queue.flatMap((line) =>
        line.weeks.flatMap((week): Term[] => {
          const share = kind.shareIn?.(week, limit.in) ?? 0
          return share > 0 ? [[week.column, share * (kind.perWork?.(line) ?? 0)]] : []
        }),
      )
      const terms = [...fixed, ...queued]
      if (terms.length > 0) build.model.limit(-Infinity, limit.hours, terms)
    },
    broken(plan) {
      const hours = plan.blocks.reduce((sum, block) => sum + hoursOf(problem, kind, limit.in, block), 0)
      return isMoreThan(hours, limit.hours)
        ? `${kind.says(limit.in, limit.hours)} The plan uses ${hours.toFixed(1)}.`
        : null
    },
  }
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
