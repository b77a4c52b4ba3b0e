/** A plan: what goes where, what is bought, what it costs, and how well that is proven. */
import type { WhatIf } from './what-if.ts'

/** One variety on one field, or on a block of it. Money is whole cents. */
export interface PlanBlock {
  field: string
  variety: string
  window: string
  /** What is planted in which week; absent in plans made before weeks were counted. `window` is that of most acres. */
  planted?: PlantedPart[]
  /** Names of the measures used, in the order of the book. */
  programme: string[]
  acres: number
  /** [lb/acre] without the reserve. */
  poundsPerAcre: number
  /** [lb] without the reserve. */
  pounds: number
  /** [cent] measures and vine work, without seed. */
  cashCents: number
  /** [cent] expected loss to threats. */
  lossCents: number
  /** [cent] digging loss and slowing by the vine. */
  vineCents: number
  /** [cent] yield given up to variety, stand, planting date and digging week. */
  giveUpCents: number
  /** [lb/acre] expected of the crop; absent in plans made before the crop was counted. */
  yieldLb?: number
  /** [cent] what the ground could bring, less what every planted acre costs; absent in older plans. */
  couldCents?: number
}

/** What of a block is planted in a week: a field may be begun on Friday and done on Monday. */
export interface PlantedPart {
  window: string
  /** Monday, ISO date. */
  week: string
  acres: number
  /** The best day to dig it, ISO date. */
  ripe: string
  dug: DugPart[]
}

/** What of it is dug in a week. */
export interface DugPart {
  /** Monday, ISO date. */
  week: string
  acres: number
  /** [cent] of the crop lost by digging then; part of what the block gives up. */
  cents: number
}

export interface Purchase {
  /** Key of the quote: see `quoteTitle`. */
  quote: string
  dealer: string
  variety: string
  packs: number
  packPounds: number
  /** [cent/pack] after the break reached. */
  packPriceCents: number
  /** Packs from which this price holds; 0 for the plain price. */
  fromPacks: number
  pounds: number
  cents: number
  /** Set where these packs are on order already: the quote that they were ordered from. */
  onOrderOf?: string
}

export interface DealerOrder {
  dealer: string
  pounds: number
  feeCents: number
  /** [cent] off by the break on the dealer's total. */
  offCents: number
  /** [cent] lines less break plus fee. */
  cents: number
}

export interface SeedBalance {
  variety: string
  acres: number
  /** [lb] at the planned rates. */
  neededPounds: number
  reservePounds: number
  carriedPounds: number
  boughtPounds: number
  /** [lb] bought and carried less needed: reserve included. */
  leftPounds: number
}

export interface PlanTotals {
  acres: number
  acresLeftOut: number
  packs: number
  seedCents: number
  measureCents: number
  /** [cent] seed and measures: what is paid. */
  cashCents: number
  /** [cent] what is risked. */
  lossCents: number
  vineCents: number
  giveUpCents: number
  leftOutCents: number
  /** [cent] counted, not paid, for fields moved from the plan in hand. */
  movedCents: number
  /** [cent] what is left of the crop after everything counted, on all ground; absent in older plans. */
  marginCents?: number
  /** [cent] what was made least: cash + weight × loss + vine + give-up + left out + moved. */
  costCents: number
}

export type PlanStatus = 'proven' | 'within' | 'stopped' | 'nothing-found' | 'nothing-fits'

export interface Proof {
  status: PlanStatus
  /** One sentence for a person. */
  says: string
  /** What ended the work. */
  endedBy: 'proof' | 'gap' | 'time' | 'nodes' | 'you' | 'nothing-fits' | 'fault'
  costCents: number | null
  /** [cent] no plan can cost less than this. */
  boundCents: number | null
  /** The cost is above the bound by no more than its own rounding to cents. */
  isExact?: true
  /** What the solver said when it failed; the plan is the best that was found and checked by then. */
  fault?: string
  /** (cost − bound) / |cost|. */
  gap: number | null
  /** The gap that was asked for. */
  wantedGap: number
  stages: { name: string; seconds: number; costCents: number | null; boundCents: number | null }[]
  seconds: number
  solver: string
  /** SHA-256 of the problem solved. */
  dataHash: string
  /** Which rules clash, where nothing fits. */
  conflict?: Conflict
  /** Quotes that were left out because their last day to order was over. */
  endedQuotes?: string[]
}

export interface Plan {
  blocks: PlanBlock[]
  /** `otherCents` [cent]: what the ground brings otherwise; absent in older plans. */
  leftOut: { field: string; acres: number; otherCents?: number }[]
  purchases: Purchase[]
  orders: DealerOrder[]
  seed: SeedBalance[]
  totals: PlanTotals
}

/** One of the rules that clash, and what would settle it. */
export interface ClashingRule {
  /** Kind and what it is about, as `lock/Creek Bottom/…`. */
  id: string
  /** The rule as a person would say it. */
  says: string
  /** Unit of the amount; null where the rule is yes or no. */
  unit: string | null
  /** By how much it must give way for a plan to exist, all other rules kept; null where that is not known or not enough. */
  amount: number | null
  /** True where this rule giving way is enough by itself; null where that was not found out in time. */
  settles: boolean | null
  /** What to do, in words with the amount. */
  remedy: string
}

/** A change to the season that settles a clash by one of its rules alone. */
export interface Settling {
  rule: string
  whatIf: WhatIf
  says: string
}

export interface Conflict {
  rules: ClashingRule[]
  /** True where every test was decided: leave out any one of the rules and the rest can be kept together. */
  isMinimal: boolean
  says: string
  seconds: number
}

export interface SolvedPlan {
  plan: Plan | null
  proof: Proof
}

/** What the search does, in the order in which it may do it; simple farms need only some of it. */
export const solveStages = [
  'the plan in hand',
  'relaxation',
  'choosing dealers and breaks',
  'placing fields',
  'buying packs',
  'trading places',
  'placing fields again',
  'fields and packs together',
  'settling ties',
  'ordering weeks',
] as const
export type SolveStage = (typeof solveStages)[number]

/** What a person sees while it runs. */
export interface SolveProgress {
  stage: SolveStage
  stageNumber: number
  stages: number
  costCents: number | null
  /** True while packs are not whole yet: the cost is about what a plan will cost. */
  isRough: boolean
  boundCents: number | null
  gap: number | null
  seconds: number
}

export interface PlanRecord extends SolvedPlan {
  id: number
  /** ISO time. */
  madeAt: string
  isStale: boolean
  /** True where the rules that it was made under leave yield out, whatever they say now. */
  leavesYieldOut: boolean
  /** In words, what differs from the numbers it was made from. */
  changes: string[]
  /** The same counted: "2 prices, 1 field’s acres"; empty where nothing differs. */
  changed: string
  /** Totals of the plan made before this one, for what moved; null where there is none. */
  before: PlanTotals | null
  /** Id of that plan, so that one can go back to it. */
  beforeId: number | null
  /** Id of the plan made after this one, so that going back can be taken back; null for the newest. */
  afterId: number | null
  /** Where nothing fits. */
  settling: Settling[]
  /** The last solve, where it did not become the plan in hand and the farm has not changed since. */
  attempt: PlanAttempt | null
}

/** A solve that found nothing, was stopped, or found a plan that costs more. */
export interface PlanAttempt {
  id: number
  /** ISO time. */
  madeAt: string
  proof: Proof
  /** Of the plan that it found; null where it found none. */
  costCents: number | null
  settling: Settling[]
}
