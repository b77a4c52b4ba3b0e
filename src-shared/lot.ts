/** A lot of seed as it came: how much, under which number, what its tag and tests say, and what is left of it. */
import * as v from 'valibot'
import type { TagCheck } from './agronomy/tag-checks.ts'
import type { GerminationTest } from './germination-test.ts'
import { between, nameText, note, wholeBetween } from './primitive.ts'
import { seedCount, type Tag, type TagPhoto } from './tag.ts'

/** received: on the farm · refused: turned away when it came · returned: went back later, whole. */
export const lotStates = ['received', 'refused', 'returned'] as const
export type LotState = (typeof lotStates)[number]

const rowId = v.pipe(v.number(), v.integer(), v.minValue(1))

export const lotSchema = v.strictObject({
  lotNumber: nameText,
  varietyId: rowId,
  /** Absent for seed that was here already. */
  deliveryId: v.nullable(rowId),
  /** Of the seed carried from an earlier season; absent for what was delivered. */
  carriedSeedId: v.nullable(rowId),
  /** The line of the order that it came for; absent: nobody ordered it. */
  orderLineId: v.nullable(rowId),
  state: v.picklist(lotStates, 'must be received, refused or returned'),
  packs: v.nullable(wholeBetween(0, 1_000_000)),
  packPounds: v.nullable(between(1, 10_000)),
  /** [lb] that came; with packs and their weight it may be left to them. */
  pounds: between(0, 10_000_000),
  returnedPounds: between(0, 10_000_000),
  /** [lb] counted when planting was over; null while it was not. */
  leftPounds: v.nullable(between(0, 10_000_000)),
  /** [seeds/lb] counted on the farm, which goes before the tag's. */
  seedsPerPound: v.nullable(seedCount),
  note: v.nullable(note),
})
export type GivenLot = v.InferOutput<typeof lotSchema>

export interface LotRow extends GivenLot {
  id: number
  variety: string
  dealer: string | null
  arrivedOn: string | null
  /** How people tell it from the others: its number, with the dealer where two use the same. */
  name: string
  tag: Tag | null
  tests: GerminationTest[]
  photos: TagPhoto[]
  /** [lb] written down as planted. */
  plantedPounds: number
  /** [share] the rates count with, and where it is from. */
  germination: number
  germinationFrom: 'a test' | 'the tag' | 'the variety'
  /** [seeds/lb] */
  seedsCounted: number
  countFrom: 'own count' | 'the tag' | 'the variety'
  isTreated: boolean
  promised: { germination: number; seedsPerPound: number; isTreated: boolean }
  checks: TagCheck[]
}

export interface LotBalance {
  /** [lb] */
  came: number
  planted: number
  returned: number
  /** By the records: came less planted less returned. */
  left: number
  counted: number | null
  /** Counted less recorded; null where nothing was counted. */
  off: number | null
  closes: boolean
}

/** [lb] A scale's last digit: two weights that are as near are the same, and as little is none. */
export const scaleSlack = 0.5

/** Came = planted + returned + left. Open, until what is left has been counted or nothing can be. */
export function balanceOf(
  lot: Pick<LotRow, 'state' | 'pounds' | 'returnedPounds' | 'leftPounds' | 'plantedPounds'>,
): LotBalance {
  // What was turned away or went back whole is not on the farm, whatever else was written.
  const returned = lot.state === 'received' ? lot.returnedPounds : lot.pounds - lot.plantedPounds
  const left = lot.pounds - lot.plantedPounds - returned
  const counted = lot.leftPounds
  const off = counted === null ? null : counted - left
  const gap = off ?? (left < 0 ? left : null)
  const closes = gap === null ? Math.abs(left) <= scaleSlack : Math.abs(gap) <= scaleSlack
  return { came: lot.pounds, planted: lot.plantedPounds, returned, left, counted, off, closes }
}

/** [lb] that can still be planted. */
export function poundsOnHand(lot: Parameters<typeof balanceOf>[0]): number {
  return Math.max(0, lot.leftPounds ?? balanceOf(lot).left)
}
