/** One order for the same data, however its rows were shuffled: by id, and options by what they are. */
import type { PlanProblem } from '../../../src-shared/plan-problem.ts'

export function sortedProblem(problem: PlanProblem): PlanProblem {
  const byText = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0)
  const byId = (a: { id: string }, b: { id: string }) => byText(a.id, b.id)
  const optionKeys = new Map(
    problem.options.map((option) => [
      option,
      JSON.stringify([
        option.field,
        option.variety,
        option.window,
        option.programme,
        option.cashCents,
        option.lossCents,
      ]),
    ]),
  )
  const byJson = (a: unknown, b: unknown) => byText(JSON.stringify(a), JSON.stringify(b))
  return {
    ...problem,
    fields: [...problem.fields].sort(byId),
    varieties: [...problem.varieties].sort(byId),
    options: [...problem.options].sort((a, b) => byText(optionKeys.get(a) ?? '', optionKeys.get(b) ?? '')),
    dealers: [...problem.dealers].sort(byId).map((dealer) => ({
      ...dealer,
      breaks: [...dealer.breaks].sort((a, b) => a.fromPounds - b.fromPounds),
    })),
    quotes: [...problem.quotes].sort(byId).map((quote) => ({
      ...quote,
      breaks: [...quote.breaks].sort((a, b) => a.fromPacks - b.fromPacks),
    })),
    carried: [...problem.carried].sort(byJson),
    rules: {
      ...problem.rules,
      locks: [...problem.rules.locks].sort(byJson),
      exclusions: [...problem.rules.exclusions].sort(byJson),
      largestShare: [...problem.rules.largestShare].sort(byJson),
      contracts: [...problem.rules.contracts].sort(byJson),
    },
  }
}
