/** "Risk no more than so much": the expected loss of the whole plan, unweighted. What the curve of cash against loss is drawn with. */
import type { PlanProblem } from '../../../../src-shared/plan-problem.ts'
import { showCents } from '../../../../src-shared/show.ts'
import { optionAt } from '../build.ts'
import type { Term } from '../linear-model.ts'
import { isMoreThan, type NamedRule } from './named-rule.ts'

export function largestTotalLossRules(problem: PlanProblem): NamedRule[] {
  const { lossLimitCents } = problem.rules
  if (lossLimitCents === undefined) return []
  const says = `Expect to lose no more than ${showCents(lossLimitCents)} in all.`
  return [
    {
      id: 'largest-total-loss',
      says,
      unit: 'cents',
      addRows(build) {
        const terms = build.options.map(({ option, share }): Term => {
          const own = optionAt(problem, option)
          return [share, own.lossCents * (build.acresOf.get(own.field) as number)]
        })
        build.model.limit(-Infinity, lossLimitCents, terms)
      },
      // Each block was rounded to the cent by itself; the rule is about their sum before that.
      broken: (plan) =>
        isMoreThan(plan.totals.lossCents - plan.blocks.length / 2, lossLimitCents)
          ? `${says} The plan expects to lose ${showCents(plan.totals.lossCents)}.`
          : null,
    },
  ]
}
