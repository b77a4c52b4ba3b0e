/** Two plans side by side, as data: only what differs. `a` is the one looked from; differences are b less a. */
import type { PlanTotals } from './plan.ts'

/** What a field has in one plan, as it is shown: "Amber, Usual, fungicide A · 60 ac". */
export interface FieldDifference {
  field: string
  a: string[]
  b: string[]
  /** [cent] of cash without seed, and of expected loss, on this field. */
  cashCents: number
  lossCents: number
}

export interface QuoteDifference {
  quote: string
  dealer: string
  variety: string
  aPacks: number
  bPacks: number
  /** [cent] of the lines; fees and breaks on the whole order are with the dealer. */
  cents: number
}

export interface DealerDifference {
  dealer: string
  aCents: number
  bCents: number
}

export interface Comparison {
  fields: FieldDifference[]
  quotes: QuoteDifference[]
  dealers: DealerDifference[]
  /** Totals that differ. */
  totals: { key: keyof PlanTotals; a: number; b: number }[]
  /** What differs in what the plans were made from: rules, prices, locks; each a sentence. */
  rules: string[]
  says: string
}
