/** Which lot goes to which field, for one variety: what is asked, and the answer with its reason and its bound. */
import type { Book } from './assumption.ts'

export interface LotToPlace {
  id: string
  /** [lb] that can be planted. */
  pounds: number
  /** Below what the house wants for cold ground, by germination or by an old test. */
  isWeak: boolean
  /** Left from last year: used first, for it will not keep. */
  isCarried: boolean
}

export interface FieldToSow {
  id: string
  acres: number
  /** Name of the planting window: hoppers are cleaned out between lots within one. */
  window: string
  /** Planted early, into cold ground. */
  isCold: boolean
  /** [lb/acre] each lot's own rate on this field, in the order of the lots; null where the lot may not go there. */
  poundsPerAcre: (number | null)[]
}

/** [cent] what each inconvenience is worth to the house. */
export interface PlacingCosts {
  /** Each further lot opened at a field: loading, a second setting of the planter. */
  lotAtField: number
  /** Each lot used in a window: hoppers are emptied for it once. */
  cleanOut: number
  /** [cent/acre] a weak lot on cold ground. */
  weakOnCold: number
  /** [cent/lb] carried seed that is not used. */
  carriedLeft: number
  /** [cent/acre] of a field for which there is no seed. */
  short: number
}

export interface LotProblem {
  variety: string
  lots: LotToPlace[]
  fields: FieldToSow[]
  /** This lot goes on this field and no other does, as far as it reaches. */
  locks: { field: string; lot: string }[]
  costs: PlacingCosts
}

export interface LotOnField {
  field: string
  lot: string
  acres: number
  pounds: number
}

export interface LotPlacing {
  variety: string
  placed: LotOnField[]
  /** Acres without seed. */
  short: { field: string; acres: number }[]
  left: { lot: string; pounds: number; isOpened: boolean }[]
  /** [cent] what the inconveniences come to, by what they are. */
  costs: Record<keyof PlacingCosts, number>
  costCents: number
  /** [cent] no placing costs less. */
  boundCents: number
  /** [0–1] by which the placing may cost more than the least; 0 where both are 0. */
  gap: number
  endedBy: 'proof' | 'gap' | 'time' | 'you'
  says: string
  /** Why each field has the lots it has, in words. */
  why: { field: string; says: string }[]
}

/** A lot on a field as it was placed or kept there. */
export interface PlacedRow {
  fieldId: number
  field: string
  lotId: number
  lot: string
  variety: string
  acres: number
  pounds: number
  /** Kept there in every placing until released. */
  isKept: boolean
}

export interface VarietyPlacing {
  variety: string
  rows: PlacedRow[]
  /** What was found when they were placed; null where nothing was placed yet. */
  found: Pick<LotPlacing, 'says' | 'gap' | 'costCents' | 'short' | 'why' | 'left' | 'endedBy'> | null
  /** True where lots, rates or acres have changed since. */
  isStale: boolean
}

/** [cent/acre] Emptying hoppers is small beside a field without seed: seed is placed wherever there is any. */
const shortCentsPerAcre = 1_000_000

/** What the house book says of each inconvenience. What is left of an opened lot costs nothing: whole bags can go back. */
export function placingCosts(book: Book): PlacingCosts {
  const cents = (key: string) => book.number(key) * 100
  return {
    lotAtField: cents('lots/another lot at a field'),
    cleanOut: cents('lots/emptying the hoppers'),
    weakOnCold: cents('lots/weak seed on cold ground'),
    carriedLeft: cents('lots/carried seed left'),
    short: shortCentsPerAcre,
  }
}
