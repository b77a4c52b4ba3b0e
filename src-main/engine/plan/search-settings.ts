/** How far each step of the search goes, as measured on farms of three sizes, and what a step is told. */

/** Options from which setting some aside pays for the relaxation. */
export const PRICE_FROM_OPTIONS = 120
/** Share within which packs are bought for the plan in hand: it is only a start. */
export const AS_IT_STANDS = 0.002
/** Options among which dealers and breaks are chosen: so many, and so many more for each field. */
export const CHOICE_OPTIONS = 240
export const CHOICE_OPTIONS_PER_FIELD = 3
/** Options beside one for each field with which fields are placed once that is done: most fields are settled by then. */
export const PLACE_OPTIONS = 40
/** Share of the gap to which choices are settled, and fields placed for them. */
export const CHOOSING = 0.2
/** Share of the gap at which a placing for held choices is good enough. */
export const GOOD_ENOUGH = 0.8
/** First reach, as a share of the relaxation's cost: small enough to find a good plan fast. */
export const FIRST_REACH = 0.0003
/** First options, for each field: the reach ends where there are so many, for on large farms it need not go far. */
export const FIRST_OPTIONS = 2
/** The solver aims a little below the gap asked for: rounding to the cent must not push the plan over it. */
export const AIM = 0.97
/** Share of the gap that placing may use up; the rest is left for whole packs. */
export const PLACING = 0.5
/** Share of that to which it goes on where it may yet prove the plan in hand. */
export const PROVING = 0.1
/** Options in reach up to which ties are settled by a model of their own; above, sorted rows and a fixed seed decide. */
export const MOST_OPTIONS_FOR_TIES = 60
export const TIE_NODES = 200
/** Share of the gap to which a plan is proven before its weeks are put in order. */
export const BEFORE_ORDERING = 0.6
/** Share of the gap to which weeks are put in order. */
export const TIDYING = 0.03
/** Nodes in which a plan in order is proven, where it is not yet. */
export const ORDER_NODES = 300
/** By what share of the cost ordering weeks may raise it. */
export const TIDY_SHARE = 0.0004
export const TRADE_NODES = 20
/** Share of the gap that whole packs must have cost for trading places to be tried. */
export const WORTH_TRADING = 0.6
/** Reach of the nearest options, as a share of the relaxation's cost. */
export const NEAREST_REACH = 0.0001
/** After a stop the plan in hand must be whole, and soon [s]. */
export const lastCall = { ignoreStop: true, seconds: 0.6 } as const
/** What a plan may cost more than its bound, as a share, to be kept as it is after a stop. */
export const WORTH_KEEPING = 0.005
/** Options beside one for each field when a stop leaves no time for more. */
export const LAST_OPTIONS = 10

export interface Step {
  gap: number
  start?: Float64Array
  relaxed?: boolean
  /** The ground in any share. */
  choicesOnly?: boolean
  /** Seed in any amount: its solution is no plan yet. */
  isRough?: boolean
  /** Good enough: stop there. */
  target?: number
  presolve?: boolean
  /** As in `run-model.ts`; absent: where there is a plan. */
  isThrifty?: boolean
  /** As in `run-model.ts`. */
  enough?: { bound: number; orGap: number }
  /** What is known to bound all plans while this model runs. */
  floor?: number
  /** What this model's own bound can prove of all plans at most; absent: nothing. */
  ceiling?: number
  seconds?: number
  ignoreStop?: boolean
  nodes?: number
}
