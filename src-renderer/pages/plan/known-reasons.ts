/** What is known of the plan's reasons while more is being found: the newest word on each counts. Pure. */
import type { EntryPrice, FieldChoice, Reason, Reasons, RuleCost } from '../../../src-shared/reasons.ts'

export function withFound(reasons: Reasons, found: readonly Reason[]): Reasons {
  const choices = byKey<FieldChoice>(({ field, variety }) => JSON.stringify([field, variety]))
  const entryPrices = byKey<EntryPrice>(({ variety }) => variety)
  const ruleCosts = byKey<RuleCost>(({ rule }) => rule)
  choices.put(reasons.choices)
  entryPrices.put(reasons.entryPrices)
  ruleCosts.put(reasons.ruleCosts)
  for (const reason of found) {
    if (reason.kind === 'field') choices.put(reason.choices)
    else if (reason.kind === 'entry-price') entryPrices.put([reason.entryPrice])
    else ruleCosts.put([reason.ruleCost])
  }
  return { ...reasons, choices: choices.all(), entryPrices: entryPrices.all(), ruleCosts: ruleCosts.all() }
}

function byKey<Each>(keyOf: (each: Each) => string) {
  const known = new Map<string, Each>()
  return {
    put: (news: readonly Each[]) => news.forEach((each) => known.set(keyOf(each), each)),
    all: () => [...known.values()],
  }
}

/** Cheapest first by what is known; what cannot be, or is not known, last. */
export function choicesOf(reasons: Reasons, field: string): FieldChoice[] {
  const weight = ({ cost }: FieldChoice) => cost.cents ?? Infinity
  return reasons.choices.filter((choice) => choice.field === field).sort((a, b) => weight(a) - weight(b))
}
