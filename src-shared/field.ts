/** A field as it stands for one season: ground, rows, water, history, trouble seen before. */
import * as v from 'valibot'
import { isPeanut } from './crop.ts'
import { acres, between, isoDate, nameText, position, wholeBetween } from './primitive.ts'
import { perThreat } from './sheet/column.ts'
import { drop, history } from './sheet/compound.ts'
import { choice, day, dollars, names, number, scaled, words, yesNo } from './sheet/kind.ts'
import { noteProperty, noun } from './sheet/noun.ts'
import { patternWords, tillageWords, waterWords } from './sheet/other-words.ts'

export const rowPatterns = ['single', 'twin'] as const
export const waters = ['irrigated', 'dryland'] as const
export const tillages = ['conventional', 'strip'] as const
/** How rank vines grow here, from water, fertility and what the manager has seen. */
export const growthLevels = ['slow', 'usual', 'rank'] as const
/** What a soil count may be of. */
export const nematodeSpecies = ['peanut root-knot', 'southern root-knot', 'other'] as const
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

export const { schema: fieldSchema, columns: fieldColumns } = noun(
  {
    name: { is: nameText, label: 'Field', kind: words, heads: ['name', 'field name'] },
    /** [acre] to be planted; may differ from the boundary's area. */
    acres: { is: acres, label: 'Planted', unit: 'acres', kind: number(), heads: ['acres', 'ac', 'area'] },
    boundary: { is: v.optional(boundarySchema), cells: () => [] },
    /** [inch] centre to centre; for twin rows, of the pairs. */
    rowSpacingIn: {
      is: between(6, 120),
      isStarted: true,
      label: 'Rows',
      unit: 'inches',
      kind: number(),
      heads: ['row spacing', 'row spacing in', 'row width'],
    },
    rowPattern: {
      is: v.picklist(rowPatterns, 'must be single or twin'),
      isStarted: true,
      label: 'Pattern',
      kind: choice(rowPatterns, patternWords),
      heads: ['row pattern'],
    },
    water: {
      is: v.picklist(waters, 'must be irrigated or dryland'),
      label: 'Water',
      kind: choice(waters, waterWords),
      heads: ['irrigation', 'irrigated'],
    },
    soil: { is: v.optional(nameText), label: 'Soil', kind: words, heads: ['soil type'] },
    tillage: {
      is: v.optional(v.picklist(tillages, 'must be conventional or strip'), 'conventional'),
      label: 'Tillage',
      kind: choice(tillages, tillageWords),
    },
    /** What grew here, newest first or in any order. */
    history: {
      is: v.optional(v.array(v.strictObject({ season: wholeBetween(1900, 2200), crop: nameText })), []),
      label: 'Grown before',
      unit: 'as 2026 cotton; 2025 corn',
      kind: history,
      width: 26,
      heads: ['crops', 'crop history', 'history'],
    },
    /** Threat name → level; a threat not listed is at no pressure here. */
    pressure: {
      is: v.optional(v.record(nameText, v.picklist(pressureLevels)), {}),
      cells: perThreat('pressure', 'pressure', choice(pressureLevels), (threat) => [`pressure ${threat}`]),
    },
    /** What the count is of; absent: peanut root-knot. Southern root-knot does not feed on peanut (T27). */
    nematodeSpecies: {
      is: v.optional(v.picklist(nematodeSpecies, 'must be peanut root-knot, southern root-knot or other')),
      label: 'Nematode counted',
      kind: choice(nematodeSpecies),
      heads: ['nematode species', 'nematode counted'],
    },
    /** Day of the soil sample. No conversion of a fall count to planting is published. */
    sampledOn: {
      is: v.optional(isoDate),
      label: 'Sampled on',
      kind: day,
      heads: ['sampled on', 'sample date'],
    },
    /** [root-knot juveniles per 100 cc soil]; absent where no sample was taken. Laboratories also tell it per 500 cc. */
    nematodesPer100cc: {
      is: v.optional(between(0, 100_000)),
      cells: () => [
        {
          id: 'nematodesPer100cc',
          label: 'Nematodes',
          unit: 'per 100 cc',
          kind: number(),
          heads: ['nematodes per 100 cc'],
        },
        {
          id: 'nematodesPer500cc',
          path: 'nematodesPer100cc',
          label: 'Nematodes',
          unit: 'per 500 cc',
          kind: scaled(5),
          heads: ['nematodes per 500 cc'],
        },
      ],
    },
    /** Names of the planting windows in which this field can be planted; empty means any. */
    windows: {
      is: v.optional(v.array(nameText), []),
      label: 'Can be planted',
      unit: 'empty: any window',
      kind: names,
      width: 16,
      heads: ['windows'],
    },
    growth: {
      is: v.optional(v.picklist(growthLevels, 'must be slow, usual or rank'), 'usual'),
      label: 'Vines grow',
      kind: choice(growthLevels),
      heads: ['growth'],
    },
    /** [lb/acre] what this field really makes in a usual year, with the farm's usual variety, week, stand and sprays. */
    yieldGoalLb: {
      is: between(0, 20_000),
      label: 'Yield goal',
      unit: 'lb/acre',
      usual: [1500, 7500],
      kind: number(),
      heads: ['yield goal', 'yield'],
    },
    /** [cent/acre] what the ground brings otherwise, as rent or another crop; absent: as the farm's rule has it. */
    otherCents: {
      is: v.optional(wholeBetween(0, 10_000_000)),
      label: 'Brings otherwise',
      unit: '$/acre',
      kind: dollars,
      heads: ['brings otherwise', 'other crop $/acre', 'rent $/acre', 'rent'],
    },
    /** Out of this season's plan; history and boundary are kept. */
    rests: {
      is: v.optional(v.boolean(), false),
      label: 'Rests',
      unit: 'not in the plan',
      kind: yesNo,
      heads: ['rests', 'resting', 'idle', 'not in peanut'],
    },
    /** Absent: the house drop. */
    drop: {
      is: v.optional(dropSchema),
      label: 'Own drop',
      unit: 'empty: house drop',
      kind: drop,
      heads: ['drop', 'seeds per foot', 'seeding rate'],
    },
    /** Absent: the field takes one variety. */
    split: {
      is: v.optional(splitSchema),
      cells: () => [
        {
          id: 'split/mostVarieties',
          label: 'Most varieties',
          unit: 'empty: one',
          kind: number(),
          heads: ['most varieties'],
        },
        {
          id: 'split/leastBlockAcres',
          label: 'Least block',
          unit: 'acres',
          kind: number(),
          heads: ['least block acres'],
        },
      ],
    },
    landlord: { is: v.optional(nameText), label: 'Landlord', kind: words },
    /** As the farm agency numbers it. */
    farmNumber: { is: v.optional(nameText), label: 'Farm number', kind: words },
    tract: { is: v.optional(nameText), label: 'Tract', kind: words },
    /** Where it lies, in the farm's own words. */
    place: { is: v.optional(nameText), label: 'Place', kind: words },
    /** In the order of the sheet that it was imported from; absent: by name, after those that have one. */
    position: { is: v.optional(position), cells: () => [] },
    note: noteProperty,
  },
  [
    ...(['name', 'acres', 'rowSpacingIn', 'rowPattern', 'water', 'soil', 'tillage', 'growth', 'yieldGoalLb'] as const),
    ...([
      'rests',
      'otherCents',
      'history',
      'nematodesPer100cc',
      'nematodeSpecies',
      'sampledOn',
      'pressure',
      'windows',
      'drop',
      'split',
    ] as const),
    ...(['landlord', 'farmNumber', 'tract', 'place', 'note'] as const),
  ],
)

export type Field = v.InferOutput<typeof fieldSchema>

/** [per 100 cc] The count where it speaks of peanut; undefined where none was taken, or of another nematode. */
export function peanutNematodes({
  nematodesPer100cc,
  nematodeSpecies: species = 'peanut root-knot',
}: Pick<Field, 'nematodesPer100cc' | 'nematodeSpecies'>): number | undefined {
  return species === 'peanut root-knot' ? nematodesPer100cc : undefined
}

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
