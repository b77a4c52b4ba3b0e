/** A variety: what a bag holds, what it resists, how it grows, what it makes. */
import * as v from 'valibot'
import { between, nameText, note, position, wholeBetween } from './primitive.ts'
import type { Water } from './field.ts'
import { oneOf } from './sheet/column.ts'
import { number, percent, words, yesNo } from './sheet/kind.ts'
import { noun } from './sheet/noun.ts'
import { testedShare } from './tag.ts'

export const vineClasses = ['compact', 'medium', 'large', 'very large'] as const
export type VineClass = (typeof vineClasses)[number]

/** 1 none or very low … 9 very high susceptibility: the scale of the international crop descriptors for groundnut. */
export const rating = wholeBetween(1, 9)

export const varietySchema = v.strictObject({
  name: nameText,
  /** Oil type as contracts name it. */
  oilType: v.optional(v.picklist(['high oleic', 'normal'], 'must be high oleic or normal'), 'normal'),
  /** [seeds/lb] of an average lot. */
  seedsPerPound: between(200, 2000),
  /** [share] germination expected on the tag. */
  germination: v.optional(between(0.3, 1), 0.85),
  vine: v.picklist(vineClasses, 'must be compact, medium, large or very large'),
  /** [day] planting to digging. */
  daysToMaturity: wholeBetween(80, 220),
  /** Yield where nothing ails it, against the farm's usual variety = 1. */
  yieldIndex: v.optional(between(0.3, 2), 1),
  /** The same on dryland; absent: one value serves both. */
  yieldIndexDryland: v.optional(between(0.3, 2)),
  /** Price a ton from its usual grade, against the farm's usual = 1. */
  gradeIndex: v.optional(between(0.5, 1.5), 1),
  /** Threat name → susceptibility 1–9. */
  ratings: v.record(nameText, rating),
  /** Treated seed carries a caution wherever its lots are shown. */
  isTreated: v.optional(v.boolean(), true),
  /** As of a field. */
  position: v.optional(position),
  note: v.optional(note),
})

export type Variety = v.InferOutput<typeof varietySchema>

/** [×] Yield index on ground of this water; one value serves both where only one is known. */
export function yieldIndexOn(variety: Pick<Variety, 'yieldIndex' | 'yieldIndexDryland'>, water: Water): number {
  return water === 'dryland' ? (variety.yieldIndexDryland ?? variety.yieldIndex) : variety.yieldIndex
}

export interface VarietyRow extends Variety {
  id: number
}

/** Seed left from an earlier season; asks for a new germination test. */
export const { schema: carriedSchema, columns: carriedColumns } = noun({
  variety: { is: nameText, label: 'Variety', kind: ({ varieties }) => oneOf(varieties) },
  lot: { is: v.optional(nameText), label: 'Lot', kind: words, heads: ['lot number'] },
  /** [lb] on hand. */
  pounds: { is: between(0, 10_000_000), label: 'On hand', unit: 'lb', kind: number(), heads: ['pounds'] },
  /** [share] newest test; absent: not yet retested, so the variety's expectation is used. */
  germination: {
    is: v.optional(testedShare),
    label: 'New germination test',
    unit: '%',
    kind: percent,
    heads: ['germination'],
  },
  mustUse: { is: v.optional(v.boolean(), false), label: 'Must be used', kind: yesNo },
  isOwnGrown: { is: v.optional(v.boolean(), false), label: 'Own growing', kind: yesNo },
})

export type Carried = v.InferOutput<typeof carriedSchema>
