/** A threat to the crop, and the measures that can be taken against it. */
import * as v from 'valibot'
import { between, fraction, nameText, note } from './primitive.ts'
import { perThreat } from './sheet/column.ts'
import { choice, number, percent, scaled, words, yesNo } from './sheet/kind.ts'
import { noteProperty, noun } from './sheet/noun.ts'

/** Pressure, ratings and efficacy are kept by threat; a word that every object answers to would be found where nothing is kept. */
const threatName = v.pipe(
  nameText,
  v.check((name) => !(name in {}) && name !== 'prototype', 'must be another name: Standwell needs this word itself'),
)

const homes = ['leaf', 'soil', 'virus', 'nematode', 'other'] as const

export const { schema: threatSchema, columns: threatColumns } = noun({
  name: { is: threatName, label: 'Threat', kind: words, heads: ['name'] },
  /** What it lives in: decides which factors can bear on it. */
  kind: {
    is: v.picklist(homes, 'must be leaf, soil, virus, nematode or other'),
    label: 'Lives in',
    kind: choice(homes),
    heads: ['kind'],
  },
  note: noteProperty,
})

export type Threat = v.InferOutput<typeof threatSchema>

export const { schema: measureSchema, columns: measureColumns } = noun({
  name: { is: nameText, label: 'Measure', kind: words, heads: ['name'] },
  /** Of one group a programme holds at most one measure, as one fungicide schedule. */
  group: { is: nameText, label: 'Group', kind: words },
  /** [cent/acre] materials and application; a rate, so it may have a fraction of a cent. */
  centsPerAcre: {
    is: between(0, 10_000_000),
    label: 'Cost',
    unit: '$/acre',
    kind: scaled(0.01),
    heads: ['cost $/acre'],
  },
  /** Threat name → share of its loss that is prevented. */
  efficacy: {
    is: v.optional(v.record(nameText, fraction), {}),
    cells: perThreat('efficacy', '% of loss stopped', percent, (threat) => [`stops ${threat} %`, `stops ${threat}`]),
  },
  /** [lb/acre] more yield on ground with peanut in its history, as by an inoculant or gypsum. */
  gainLb: {
    is: v.optional(between(0, 5000)),
    label: 'Yield gain',
    unit: 'lb/acre',
    kind: number(),
    heads: ['yield gain lb/acre', 'yield gain'],
  },
  /** The same on ground new to peanut; absent: as `gainLb`. */
  gainNewLb: {
    is: v.optional(between(0, 5000)),
    label: 'Gain on new ground',
    unit: 'lb/acre; empty: the same',
    kind: number(),
    heads: ['gain on new ground lb/acre', 'gain on new ground'],
  },
  /** A pesticide carries its cautions wherever it is shown. */
  isPesticide: { is: v.optional(v.boolean(), true), label: 'Pesticide', kind: yesNo },
  /** Where the efficacy and the price come from. */
  source: { is: v.optional(note), label: 'Source', kind: words, width: 30 },
  /** Copied from the label by the manager; never shipped. */
  fromLabel: { is: v.optional(note), label: 'From the label', kind: words, width: 30 },
})

export type Measure = v.InferOutput<typeof measureSchema>

/** Where the work can hurt someone. Shown with the measure, the lot and the planting sheet. */
export const cautions = {
  treatedSeed: 'Treated seed is poisonous: never food, feed or oil. Handle it as its tag says.',
  pesticide:
    'The label is the law: rate, protective clothing, re-entry and days to harvest are on it. Restricted products need a licensed applicator.',
  estimate: 'Expected losses are estimates, not advice. Local extension and a licensed adviser have the last word.',
  ownSeed: 'Seed of own growing: contracts and patents may forbid planting it even where the law allows it.',
} as const
