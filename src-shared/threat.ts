/** A threat to the crop, and the measures that can be taken against it. */
import * as v from 'valibot'
import { between, fraction, nameText, note } from './primitive.ts'

/** Pressure, ratings and efficacy are kept by threat; a word that every object answers to would be found where nothing is kept. */
const threatName = v.pipe(
  nameText,
  v.check((name) => !(name in {}) && name !== 'prototype', 'must be another name: Standwell needs this word itself'),
)

export const threatSchema = v.strictObject({
  name: threatName,
  /** What it lives in: decides which factors can bear on it. */
  kind: v.picklist(['leaf', 'soil', 'virus', 'nematode', 'other'], 'must be leaf, soil, virus, nematode or other'),
  note: v.optional(note),
})

export type Threat = v.InferOutput<typeof threatSchema>

export const measureSchema = v.strictObject({
  name: nameText,
  /** Of one group a programme holds at most one measure, as one fungicide schedule. */
  group: nameText,
  /** [cent/acre] materials and application. */
  centsPerAcre: between(0, 10_000_000),
  /** Threat name → share of its loss that is prevented. */
  efficacy: v.optional(v.record(nameText, fraction), {}),
  /** [lb/acre] more yield on ground with peanut in its history, as by an inoculant or gypsum. */
  gainLb: v.optional(between(0, 5000)),
  /** The same on ground new to peanut; absent: as `gainLb`. */
  gainNewLb: v.optional(between(0, 5000)),
  /** A pesticide carries its cautions wherever it is shown. */
  isPesticide: v.optional(v.boolean(), true),
  /** Where the efficacy and the price come from. */
  source: v.optional(note),
  /** Copied from the label by the manager; never shipped. */
  fromLabel: v.optional(note),
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
