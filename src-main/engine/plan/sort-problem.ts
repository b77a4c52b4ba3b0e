/** One order for the same data, however its rows were shuffled: by id, and options by what they are. */
import type { PlanProblem, ProblemOption } from '../../../src-shared/plan-problem.ts'

/** The solver's answer depends on the order of columns: so that the same farm has the same plan. */
export function sortedProblem(problem: PlanProblem): PlanProblem {
  const byText = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0)
  const byId = (a: { id: string }, b: { id: string }) => byText(a.id, b.id)
  // Tens of thousands of options: compared part by part, the programme last of the names.
  const byOption = (a: ProblemOption, b: ProblemOption) =>
    byText(a.field, b.field) ||
    byText(a.variety, b.variety) ||
    byText(a.window, b.window) ||
    byText(a.week, b.week) ||
    byText(a.programme.join('\n'), b.programme.join('\n')) ||
    a.cashCents - b.cashCents ||
    a.lossCents - b.lossCents ||
    a.poundsPerAcre - b.poundsPerAcre
  const byJson = (a: unknown, b: unknown) => byText(JSON.stringify(a), JSON.stringify(b))
  return {
    ...problem,
    fields: [...problem.fields].sort(byId),
    varieties: [...problem.varieties].sort(byId),
    options: [...problem.options].sort(byOption),
    dealers: [...problem.dealers].sort(byId).map((dealer) => ({
      ...dealer,
      breaks: [...dealer.breaks].sort((a, b) => a.fromPounds - b.fromPounds),
    })),
    quotes: [...problem.quotes].sort(byId).map((quote) => ({
      ...quote,
      breaks: [...quote.breaks].sort((a, b) => a.fromPacks - b.fromPacks),
    })),
    carried: [...problem.carried].sort(byJson),
    digging: problem.digging
      .map((queue) => ({ ...queue, weeks: [...queue.weeks].sort((a, b) => byText(a.week, b.week)) }))
      .sort((a, b) => byText(a.ripe, b.ripe)),
    rules: {
      ...problem.rules,
      locks: once([...problem.rules.locks].sort(byJson)),
      exclusions: once([...problem.rules.exclusions].sort(byJson)),
      largestShare: [...problem.rules.largestShare].sort(byJson),
      contracts: [...problem.rules.contracts].sort(byJson),
    },
  }
}

/** Said twice is said once: two rules of one name could not be told apart. */
function once<Thing>(sorted: readonly Thing[]): Thing[] {
  return sorted.filter((each, at) => at === 0 || JSON.stringify(each) !== JSON.stringify(sorted[at - 1]))
}
