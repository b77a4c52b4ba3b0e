/** A load of peanuts: over the scale, through the grader, sold. What it weighs net and is worth is reckoned, not typed. */
import * as v from 'valibot'
import type { NetWeight } from './agronomy/load-value.ts'
import { between, cents, fraction, isoDate, nameText, note, wholeBetween } from './primitive.ts'

export const priceBases = ['contract', 'market', 'loan schedule'] as const
export type PriceBasis = (typeof priceBases)[number]

export const loadSchema = v.strictObject({
  field: nameText,
  /** Absent: what was planted in the field, where that is one variety. */
  variety: v.optional(nameText),
  /** Of the scale or the buying point. */
  ticket: v.optional(nameText),
  hauledOn: isoDate,
  /** [lb] */
  grossPounds: between(0, 1_000_000),
  tarePounds: v.optional(between(0, 1_000_000), 0),
  /** [share] of gross less tare, each. */
  moisture: v.optional(fraction),
  foreignMaterial: v.optional(fraction),
  looseKernels: v.optional(fraction),
  /** [share] of the sample, each. */
  soundMatureKernels: v.optional(fraction),
  soundSplits: v.optional(fraction),
  otherKernels: v.optional(fraction),
  damagedKernels: v.optional(fraction),
  hulls: v.optional(fraction),
  segregation: v.optional(wholeBetween(1, 3)),
  priceBasis: v.optional(v.picklist(priceBases, 'must be contract, market or loan schedule')),
  /** [cent/ton] agreed or of the day; by the loan schedule it follows from the grade. */
  centsPerTon: v.optional(wholeBetween(0, 100_000_000)),
  /** [cent] what the settlement says was paid; then that is what it was worth. */
  paidCents: v.optional(cents),
  buyer: v.optional(nameText),
  note: v.optional(note),
})
export type Load = v.InferOutput<typeof loadSchema>

/** Where a load's value is from; null: nothing to reckon it from. */
export type ValueSource = 'settlement' | 'contract' | 'market' | 'loan schedule' | null

export interface LoadRow extends Load {
  id: number
  fieldId: number
  /** Written down, or the one variety that was planted in the field; null where that is not one. */
  grown: string | null
  net: NetWeight
  /** [cent] after deductions; null where there is no price. */
  valueCents: number | null
  valueFrom: ValueSource
}
