/** A field as it stands for one season: ground, rows, water, history, trouble seen before. */
import * as v from 'valibot'
import { isPeanut } from './crop.ts'
import { acres, between, nameText, note, position, wholeBetween } from './primitive.ts'

export const rowPatterns = ['single', 'twin'] as const
export const waters = ['irrigated', 'dryland'] as const
export const tillages = ['conventional', 'strip'] as const
/** How rank vines grow here, from water, fertility and what the manager has seen. */
export const growthLevels = ['slow', 'usual', 'rank'] as const
/** How much of a threat this ground has shown. */
export const pressureLevels = ['none', 'low', 'moderate', 'high', 'severe'] as const

export type RowPattern = (typeof rowPatterns)[number]
export type Water = (typeof waters)[number]
export type Tillage = (typeof tillages)[number]
export type GrowthLevel = (typeof growthLevels)[number]
export type PressureLevel = (typeof pressureLevels)[number]

const corner = v.pipe(v.array(v.number()), v.minLength(2), v.maxLength(3))
const rings = v.pipe(v.array(v.pipe(v.array(corner), v.minLength(4))), v.minLength(1))

/** RFC 7946 geometry, WGS84, [longitude, latitude]. */
export const boundarySchema = v.variant('type', [
  v.strictObject({ type: v.literal('Polygon'), coordinates: rings }),
  v.strictObject({ type: v.literal('MultiPolygon'), coordinates: v.pipe(v.array(rings), v.minLength(1)) }),
])

export type Boundary = v.InferOutput<typeof boundarySchema>

/** How seed is dropped: a fixed number a foot, or whatever the wanted stand asks for. */
const dropSchema = v.variant('kind', [
  v.strictObject({ kind: v.literal('fixed'), seedsPerFoot: between(0.5, 30) }),
  v.strictObject({ kind: v.literal('stand'), plantsPerFoot: between(0.5, 20) }),
])

export type Drop = v.InferOutput<typeof dropSchema>

const splitSchema = v.strictObject({
  /** [acre] smallest piece worth a hopper change. */
  leastBlockAcres: between(0, 100_000),
  mostVarieties: wholeBetween(1, 100),
})

export const fieldSchema = v.strictObject({
  name: nameText,
  /** [acre] to be planted; may differ from the boundary's area. */
  acres,
  boundary: v.optional(boundarySchema),
  /** [inch] centre to centre; for twin rows, of the pairs. */
  rowSpacingIn: between(6, 120),
  rowPattern: v.picklist(rowPatterns, 'must be single or twin'),
  water: v.picklist(waters, 'must be irrigated or dryland'),
  soil: v.optional(nameText),
  tillage: v.optional(v.picklist(tillages, 'must be conventional or strip'), 'conventional'),
  /** What grew here, newest first or in any order. */
  history: v.optional(v.array(v.strictObject({ season: wholeBetween(1900, 2200), crop: nameText })), []),
  /** Threat name → level; a threat not listed is at no pressure here. */
  pressure: v.optional(v.record(nameText, v.picklist(pressureLevels)), {}),
  /** [root-knot juveniles per 100 cc soil]; absent where no sample was taken. */
  nematodesPer100cc: v.optional(between(0, 100_000)),
  /** Names of the planting windows in which this field can be planted; empty means any. */
  windows: v.optional(v.array(nameText), []),
  growth: v.optional(v.picklist(growthLevels, 'must be slow, usual or rank'), 'usual'),
  /** [lb/acre] what this field really makes in a usual year, with the farm's usual variety, week, stand and sprays. */
  yieldGoalLb: between(0, 20_000),
  /** [cent/acre] what the ground brings otherwise, as rent or another crop; absent: as the farm's rule has it. */
  otherCents: v.optional(wholeBetween(0, 10_000_000)),
  /** Out of this season's plan; history and boundary are kept. */
  rests: v.optional(v.boolean(), false),
  /** Absent: the house drop. */
  drop: v.optional(dropSchema),
  /** Absent: the field takes one variety. */
  split: v.optional(splitSchema),
  landlord: v.optional(nameText),
  /** As the farm agency numbers it. */
  farmNumber: v.optional(nameText),
  tract: v.optional(nameText),
  /** Where it lies, in the farm's own words. */
  place: v.optional(nameText),
  /** In the order of the sheet that it was imported from; absent: by name, after those that have one. */
  position: v.optional(position),
  note: v.optional(note),
})

export type Field = v.InferOutput<typeof fieldSchema>

export interface FieldRow extends Field {
  id: number
  /** Variety this field is held to, or null. */
  lockedTo: string | null
  /** Varieties that the manager keeps off this field, in every window. */
  keptOff: string[]
  /** Seasons since the last peanut crop, or null where no history is known. */
  yearsOut: number | null
  /** [acre] inside the boundary, on the ellipsoid; absent where there is no boundary. Not what is planted. */
  boundaryAcres?: number
}

/**
 * Whole seasons since the last peanut crop: 0 when last season was peanut.
 * Returns null where no history was written down; where history has no peanut, the seasons it covers.
 */
export function yearsOut(history: Field['history'], season: number): number | null {
  const before = history.filter((entry) => entry.season < season)
  if (before.length === 0) return null
  const peanut = before.filter((entry) => isPeanut(entry.crop)).map((entry) => entry.season)
  const last = peanut.length > 0 ? Math.max(...peanut) : Math.min(...before.map((entry) => entry.season)) - 1
  return season - last - 1
}
