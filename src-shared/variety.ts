/** A variety: what a bag holds, what it resists, how it grows, what it makes. */
import * as v from 'valibot'
import { between, nameText, position, wholeBetween } from './primitive.ts'
import type { Water } from './field.ts'
import { oneOf, perThreat } from './sheet/column.ts'
import { choice, number, percent, words, yesNo } from './sheet/kind.ts'
import { noteProperty, noun } from './sheet/noun.ts'
import { testedShare } from './tag.ts'

export const vineClasses = ['compact', 'medium', 'large', 'very large'] as const
export type VineClass = (typeof vineClasses)[number]

/** 1 none or very low … 9 very high susceptibility: the scale of the international crop descriptors for groundnut. */
export const rating = wholeBetween(1, 9)

export const oilTypes = ['high oleic', 'normal'] as const

/** As grade standards name them. */
export const marketTypes = ['runner', 'virginia', 'spanish', 'valencia'] as const
export type MarketType = (typeof marketTypes)[number]

export const { schema: varietySchema, columns: varietyColumns } = noun({
  name: { is: nameText, label: 'Variety', kind: words, heads: ['name', 'variety name'] },
  /** Oil type as contracts name it. */
  oilType: {
    is: v.optional(v.picklist(oilTypes, 'must be high oleic or normal'), 'normal'),
    label: 'Oil',
    kind: choice(oilTypes),
    heads: ['oil type'],
  },
  /** Market type as contracts name it; most seed of the south-east is runner seed. */
  marketType: {
    is: v.optional(
      v.picklist(marketTypes, `must be ${marketTypes.slice(0, -1).join(', ')} or ${marketTypes.at(-1)}`),
      'runner',
    ),
    label: 'Market type',
    kind: choice(marketTypes),
    heads: ['market type', 'market class'],
  },
  /** [seeds/lb] of an average lot. */
  seedsPerPound: {
    is: between(200, 2000),
    label: 'Seed count',
    unit: 'seeds/lb',
    usual: [450, 1000],
    kind: number(),
    heads: ['seeds per pound', 'seed count', 'seeds/lb'],
  },
  /** [share] germination expected on the tag. */
  germination: {
    is: v.optional(between(0.3, 1), 0.85),
    label: 'Germination',
    unit: '%',
    usual: [65, 98],
    kind: percent,
    heads: ['germination', 'germ'],
  },
  vine: {
    is: v.picklist(vineClasses, 'must be compact, medium, large or very large'),
    label: 'Vine',
    kind: choice(vineClasses),
    heads: ['vine size'],
  },
  /** [day] planting to digging. */
  daysToMaturity: {
    is: wholeBetween(80, 220),
    label: 'Maturity',
    unit: 'days',
    kind: number(),
    heads: ['days to maturity', 'maturity'],
  },
  /** Yield where nothing ails it, against the farm's usual variety = 1. */
  yieldIndex: {
    is: v.optional(between(0.3, 2), 1),
    label: 'Yield',
    unit: 'usual = 1',
    kind: number(2),
    heads: ['yield index'],
  },
  /** The same on dryland; absent: one value serves both. */
  yieldIndexDryland: {
    is: v.optional(between(0.3, 2)),
    label: 'Yield, dryland',
    unit: 'usual = 1',
    kind: number(2),
    heads: ['yield index dryland', 'dryland yield index'],
  },
  /** Price a ton from its usual grade, against the farm's usual = 1. */
  gradeIndex: {
    is: v.optional(between(0.5, 1.5), 1),
    label: 'Grade',
    unit: 'usual = 1',
    kind: number(2),
    heads: ['grade index'],
  },
  /** Threat name → susceptibility 1–9. */
  ratings: {
    is: v.record(nameText, rating),
    cells: perThreat('ratings', '1 hardy, 9 prone', number(), (threat) => [`rating ${threat}`]),
  },
  /** Treated seed carries a caution wherever its lots are shown. */
  isTreated: { is: v.optional(v.boolean(), true), label: 'Treated', kind: yesNo },
  /** As of a field. */
  position: { is: v.optional(position), cells: () => [] },
  note: noteProperty,
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
