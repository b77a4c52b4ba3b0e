/** What was planted where, when and from which lot; broken off in the truck it is kept half-finished. And its stands. */
import * as v from 'valibot'
import type { ReplantChoice } from './agronomy/replant.ts'
import type { Spot, Stand, StandVerdict } from './agronomy/stand-count.ts'
import { rowPatterns, type RowPattern } from './field.ts'
import { acres, between, isoDate, nameText, note, rowId, wholeBetween } from './primitive.ts'

const plantedLot = v.strictObject({
  lotId: rowId,
  packs: v.nullable(wholeBetween(0, 1_000_000)),
  /** [lb] by the scale, or packs by their weight; 0 while it is not known. */
  pounds: between(0, 10_000_000),
})
export type PlantedLot = v.InferOutput<typeof plantedLot>

export const plantingSchema = v.strictObject({
  fieldId: rowId,
  /** Absent: the whole field. */
  block: v.nullable(nameText),
  isFinished: v.boolean(),
  plantedOn: v.nullable(isoDate),
  acres: v.nullable(acres),
  rowPattern: v.nullable(v.picklist(rowPatterns, 'must be single or twin')),
  rowSpacingIn: v.nullable(between(6, 120)),
  seedsPerFoot: v.nullable(between(0.5, 30)),
  depthIn: v.nullable(between(0, 12)),
  soilTempF: v.nullable(between(0, 150)),
  operator: v.nullable(nameText),
  lots: v.pipe(v.array(plantedLot), v.maxLength(50, 'must not be more than 50 lots')),
  measureIds: v.pipe(v.array(rowId), v.maxLength(50, 'must not be more than 50 measures')),
  note: v.nullable(note),
})
export type GivenPlanting = v.InferOutput<typeof plantingSchema>

/** What still stands in the way of calling an entry finished, in words; empty where nothing does. */
export function missingOf(planting: GivenPlanting): string[] {
  const missing: string[] = []
  if (planting.plantedOn === null) missing.push('the day')
  if (planting.acres === null) missing.push('the acres')
  if (planting.lots.length === 0) missing.push('a lot')
  else if (planting.lots.some(({ pounds }) => pounds <= 0)) missing.push('bags or pounds of each lot')
  return missing
}

export const standCountSchema = v.strictObject({
  plantingId: rowId,
  countedOn: isoDate,
  spots: v.pipe(
    v.array(
      v.strictObject({
        /** [ft] of row position */
        feet: v.pipe(between(0, 1000), v.gtValue(0, 'must be more than 0 feet')),
        plants: wholeBetween(0, 100_000),
      }),
    ),
    v.minLength(1, 'must have at least one spot'),
    v.maxLength(1000, 'must not have more than 1,000 spots'),
  ),
  note: v.nullable(note),
})
export type GivenStandCount = v.InferOutput<typeof standCountSchema>

export interface StandCountRow {
  id: number
  countedOn: string
  spots: Spot[]
  note: string | null
  stand: Stand
  /** Against the book's reference, and against what the drop and the lots' germination promised; null where not known. */
  target: number
  verdict: StandVerdict
  promised: number | null
  againstPromise: StandVerdict | null
  /** For a stand that is low or may be: keep, add seed, or start over, at the mean and at the ends of the interval. */
  replant: { mean: ReplantChoice; low: ReplantChoice | null; high: ReplantChoice | null } | null
}

export interface PlantingRow extends Omit<GivenPlanting, 'lots'> {
  id: number
  field: string
  lots: (PlantedLot & { name: string; variety: string; isTreated: boolean })[]
  measures: string[]
  missing: string[]
  counts: StandCountRow[]
}

export interface PlantingField {
  id: number
  name: string
  acres: number
  rowPattern: RowPattern
  rowSpacingIn: number
  /** [acre] of finished plantings. */
  plantedAcres: number
}

export interface PlantingsNow {
  plantings: PlantingRow[]
  fields: PlantingField[]
  lots: {
    id: number
    name: string
    variety: string
    /** [lb] that can still be planted. */
    onHandPounds: number
    packPounds: number | null
    isTreated: boolean
  }[]
  measures: { id: number; name: string; isPesticide: boolean }[]
  /** What a person may want to look at again: more acres than the field has, more pounds than the lot. */
  heeds: string[]
}
