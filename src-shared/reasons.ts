/** Why the plan is as it is, as data: what each field could have been, what would bring a variety in, what a rule costs. */

import type { WhatIf } from './what-if.ts'

/** A difference in cost from the plan in hand, and how far it can be trusted. Money is cents of weighted cost. */
export interface CostFigure {
  /**
   * `at-least`: a quick bound from the relaxation, often far from the truth. `refined`: solved again.
   * `no-difference`: solved again, and smaller than what the two proofs leave open. `impossible`: no plan does it.
   * `unknown`: stopped or out of time before a plan was found.
   */
  kind: 'at-least' | 'refined' | 'no-difference' | 'impossible' | 'unknown'
  /** [cent] ≥ 0 where refined; null where there is no figure. */
  cents: number | null
  /** [cent] how far off the figure can be: the two gaps together; null where nothing is known of that. */
  uncertainCents: number | null
  /** In words, as it is shown. */
  says: string
}

/** What one field could have been. */
export interface FieldChoice {
  field: string
  variety: string
  /** What it costs more than the plan in hand. */
  cost: CostFigure
  /**
   * [cent] of cash, expected loss, the vine and yield given up, each more than the plan in hand; null until refined. They
   * add up to what it costs more. Reasons kept by an older Standwell lack the last two.
   */
  cashCents: number | null
  lossCents: number | null
  vineCents?: number | null
  giveUpCents?: number | null
  /** Other fields that would change with it; null until refined. */
  otherFields: string[] | null
}

/** A variety, or one of its windows, that a field may not have, with every reason. */
export interface ExcludedChoice {
  field: string
  variety: string
  /** Windows in which it may not be planted there. */
  windows: string[]
  /** True where no window is left for it there. */
  isEverywhere: boolean
  reasons: string[]
}

export interface EntryPrice {
  variety: string
  kind: 'comes-in' | 'no-difference' | 'not-at-any-price' | 'impossible' | 'not-offered' | 'unknown'
  /** [share of today's prices] at which it comes in, all its quotes scaled alike; null where there is none. */
  factor: number | null
  /** By quote: today's price and the one at which it comes in. [cent/pack] */
  quotes: { quote: string; packPriceCents: number; entryCents: number }[]
  says: string
}

/** A rule that the plan in hand had to keep. */
export interface RuleInForce {
  /** As in `RuleCost`. */
  rule: string
  says: string
  /** What to ask to see the plan without it; null where nothing of the season's does that. */
  without: WhatIf | null
  withoutSays: string
}

/** What keeping one rule costs: what would be saved without it. */
export interface RuleCost {
  /** Id of the rule, as `largest-share/Amber`, or kind and subject of a house rule that works before the solver. */
  rule: string
  ruleSays: string
  cost: CostFigure
}

/** One finding of the background work. */
export type Reason =
  | { kind: 'field'; choices: FieldChoice[] }
  | { kind: 'entry-price'; entryPrice: EntryPrice }
  | { kind: 'rule'; ruleCost: RuleCost }

/** All that is known so far. */
export interface Reasons {
  choices: FieldChoice[]
  excluded: ExcludedChoice[]
  entryPrices: EntryPrice[]
  ruleCosts: RuleCost[]
  /** True once everything asked for was solved again. */
  isRefined: boolean
}
