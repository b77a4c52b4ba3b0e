/** Rates from real lots beside those planned, and what a variety has too little or too much of, with what to do, priced. */
import { scaleSlack } from './lot.ts'
import type { RowPattern } from './field.ts'

export interface BlockLot {
  lotId: number
  lot: string
  seedsPerFoot: number
  seedsPerAcre: number
  poundsPerAcre: number
  /** [plants/ft] that it is expected to leave. */
  stand: number
  /** [lb] and whole packs to load for what is still to be planted; packs null where the lot has no pack weight. */
  pounds: number
  packs: number | null
  /** Where lots were placed, what this one plants here; null where it was not placed here. */
  placed: { acres: number; pounds: number; packs: number | null } | null
}

export interface RateBlock {
  field: string
  fieldId: number
  variety: string
  window: string
  acres: number
  /** [acre] written down as planted with this variety. */
  plantedAcres: number
  rowPattern: RowPattern
  rowSpacingIn: number
  /** [plants/ft of row position] that the plan wants. */
  stand: number
  /** Where the planned drop is from: the field, the house, the early window. */
  dropBy: string
  plannedSeedsPerFoot: number
  plannedPoundsPerAcre: number
  /** Each lot of the variety on hand, at the rate that keeps the stand. */
  lots: BlockLot[]
  /** What goes into the files: of the lots placed here by their acres, else of those on hand by their pounds, else as planned. */
  set: { seedsPerFoot: number; seedsPerAcre: number; poundsPerAcre: number; from: RateSource; lots: string[] }
}

export type RateSource = 'placed lots' | 'lots on hand' | 'plan'

/** The lots that a block is planted with: those placed there, else any of the variety. */
export function lotsFor(block: RateBlock): BlockLot[] {
  const placed = block.lots.filter((lot) => lot.placed !== null)
  return placed.length > 0 ? placed : block.lots
}

/** One thing to do about a shortage or a surplus. */
export interface Remedy {
  kind: 'send orders' | 'wait' | 'order' | 'lower the drop' | 'plan again' | 'return' | 'carry'
  says: string
  /** [cent] more paid or risked; below 0 where money comes back; null where only a solve can say. */
  cents: number | null
  /** [acre] that it settles; null where that is not what it is about. */
  acres: number | null
  /** False: it does not settle it alone, or a rule of the house forbids it. */
  isEnough: boolean
}

export interface VarietySupply {
  variety: string
  /** [acre] planned and not planted yet. */
  acres: number
  /** [lb] to plant those at the planned and at the real rates. */
  plannedPounds: number
  realPounds: number
  /** [lb] on the farm, and still owed by dealers. */
  onHandPounds: number
  owedPounds: number
  /** [lb] on order lines that are not sent yet. */
  unsentPounds: number
  /** [acre] that what is on hand plants at the real rates. */
  plantsAcres: number
  /** [lb] more than needed (below 0: short) with what is on hand alone. */
  leftPounds: number
  /** [acre] that what is on hand does not plant. */
  shortAcres: number
  lots: { lot: string; pounds: number; poundsPerAcre: number; acres: number }[]
  remedies: Remedy[]
}

/** [lb] short when all that is on order, sent or not, has come; 0 where it is enough. */
export function missingPounds({ leftPounds, owedPounds, unsentPounds }: VarietySupply): number {
  const missing = -(leftPounds + owedPounds + unsentPounds)
  return missing > scaleSlack ? missing : 0
}

export interface RatesNow {
  /** Null: there is no plan to take acres and stands from. */
  planMadeAt: string | null
  /** Nothing is ordered and nothing has come: no seed is missing yet. */
  isBeforeOrders: boolean
  blocks: RateBlock[]
  varieties: VarietySupply[]
}

/** A name for the draft that plans with the seed that came. */
export const springDraftName = 'With the seed that came'
