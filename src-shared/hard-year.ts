/** The plan put to the test of other years, as data. Money is whole cents over the whole farm. */

export const yearNames = [
  'usual',
  'calm',
  'hard',
  'late spring',
  'wet fall',
  'early frost',
  'weak seed',
  'low price',
] as const
export type YearName = (typeof yearNames)[number]

/** A figure with the ends of what is published about it; the ends are at the figure where nothing is. */
export interface CentsRange {
  lowCents: number
  cents: number
  highCents: number
}

/** Seed that the packs bought do not cover in such a year. */
export interface SeedShort {
  variety: string
  /** [lb] missing. */
  pounds: number
  /** [acre] that would stay unplanted instead, at the rates of this year. */
  acres: number
  /** [cent] to buy the missing pounds in whole packs at the dearest quote; null where nobody offers any. */
  cents: number | null
}

/** The plan as it is, in one kind of year. */
export interface Year {
  name: YearName
  /** What is different, in a sentence. */
  says: string
  /** What the crop brings before any loss. */
  crop: CentsRange
  /** Seed and measures, as planned. */
  cashCents: number
  loss: CentsRange
  /** Digging and combining at the usual pace, and everything else that a planted acre costs: what margin takes off. */
  plantedCents: number
  vineCents: number
  giveUpCents: number
  /** Crop lost by digging off the best day, in give-up as well; what is never dug is lost whole. */
  digLossCents: number
  /** Seed to be bought on top. */
  seedShortCents: number
  seedShort: SeedShort[]
  /**
   * What is left: crop less cash, loss, what planted acres cost, vine, digging off the best day and seed short. What a better
   * choice had made is no money, so it is not taken off.
   */
  left: CentsRange
  /** [cent] by which less is left than in a usual year; negative where more is. */
  worseCents: number
}

/** What it costs to have planned for another year than the one that came. [cent] of weighted cost */
export interface Regret {
  /** Of a plan made for the hard year, in a usual one; null where no plan fits the hard year. */
  hardPlanInUsualYear: number | null
  /** Of the plan in hand, in a hard year, against the plan made for it. */
  planInHardYear: number | null
  /** Fields that the plan made for the hard year has otherwise. */
  otherFields: string[]
  /** [cent] that the two proofs leave open. */
  uncertainCents: number
  says: string
}

export interface HardYear {
  years: Year[]
  regret: Regret
}
