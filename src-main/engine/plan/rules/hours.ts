/** Rules about machine hours: planters by window, diggers and combines by week. */
import type { PlanProblem, ProblemOption } from '../../../../src-shared/plan-problem.ts'
import type { Term } from '../linear-model.ts'
import { optionOfBlock } from '../block-options.ts'
import { optionAt, type Build } from '../build.ts'
import { isMoreThan, type NamedRule } from './named-rule.ts'

interface Kind {
  id: string
  says(place: string, hours: number): string
  limits(problem: PlanProblem): { in: string; hours: number }[]
  place(option: ProblemOption): string
  perAcre(option: ProblemOption): number
}

const kinds: Kind[] = [
  {
    id: 'planter-hours',
    says: (window, hours) => `The planters have ${hours.toFixed(0)} hours in the ${window} window.`,
    limits: (problem) => problem.rules.planterHours,
    place: (option) => option.window,
    perAcre: (option) => option.planterHours,
  },
  {
    id: 'digger-hours',
    says: (week, hours) => `The diggers have ${hours.toFixed(0)} hours in the week of ${week}.`,
    limits: (problem) => problem.rules.diggerHours,
    place: (option) => option.digWeek,
    perAcre: (option) => option.diggerHours,
  },
  {
    id: 'combine-hours',
    says: (week, hours) => `The combines have ${hours.toFixed(0)} hours in the week of ${week}.`,
    limits: (problem) => problem.rules.combineHours,
    place: (option) => option.combineWeek,
    perAcre: (option) => option.combineHours,
  },
]

export function hourRules(problem: PlanProblem): NamedRule[] {
  return kinds.flatMap((kind) =>
    kind.limits(problem).map((limit): NamedRule => {
      const isHere = (option: ProblemOption) => kind.place(option) === limit.in
      return {
        id: `${kind.id}/${limit.in}`,
        says: kind.says(limit.in, limit.hours),
        unit: 'hours',
        addRows(build: Build) {
          const terms = build.options.flatMap(({ option, share }): Term[] => {
            const own = optionAt(problem, option)
            return isHere(own) ? [[share, kind.perAcre(own) * (build.acresOf.get(own.field) as number)]] : []
          })
          if (terms.length > 0) build.model.limit(-Infinity, limit.hours, terms)
        },
        broken(plan) {
          const hours = plan.blocks.reduce((sum, block) => {
            const own = optionOfBlock(problem, block)
            return own !== undefined && isHere(own) ? sum + kind.perAcre(own) * block.acres : sum
          }, 0)
          return isMoreThan(hours, limit.hours)
            ? `${kind.says(limit.in, limit.hours)} The plan uses ${hours.toFixed(1)}.`
            : null
        },
      }
    }),
  )
}
