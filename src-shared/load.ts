/** A load of peanuts: over the scale, through the grader, sold. What it weighs net and is worth is reckoned, not typed. */
import * as v from 'valibot'
import type { NetWeight } from './agronomy/load-value.ts'
import { between, cents, fraction, isoDate, nameText, note, wholeBetween } from './primitive.ts'

export const priceBases = ['contract', 'market', 'loan schedule'] as const

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

/** [share] Grades are told in whole percent: a point over the whole is rounding. */
const rounding = 0.01 + 1e-9

/** Weights or shares that cannot be true together: which cell, in words, and what to do; null where nothing is askew. */
export function loadAskew(load: Partial<Load>): { path: string; what: string; remedy: string } | null {
  const { grossPounds = 0, tarePounds = 0 } = load
  if (tarePounds > grossPounds) {
    const what = 'The truck empty would weigh more than the truck full'
    return { path: 'tarePounds', what, remedy: 'Enter the full weight under Gross and the empty one under Tare.' }
  }
  const { moisture = 0, foreignMaterial = 0, looseKernels = 0 } = load
  if (Math.max(moisture, foreignMaterial + looseKernels) > 1) {
    const what = 'Foreign material and loose kernels would be more than the whole load'
    return { path: 'foreignMaterial', what, remedy: 'Enter them in percent of the load, as 4.' }
  }
  const { soundMatureKernels = 0, soundSplits = 0, otherKernels = 0, damagedKernels = 0, hulls = 0 } = load
  if (soundMatureKernels + soundSplits + otherKernels + damagedKernels + hulls > 1 + rounding) {
    const what = 'The parts of the grade would be more than the whole sample'
    return {
      path: 'soundMatureKernels',
      what,
      remedy: 'Look at the grade again: kernels and hulls together are 100 %.',
    }
  }
  return null
}

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
  /** What it needs to be given a value, in words; absent where it has one. */
  lacks?: string
  /** What a person may want to look at again; absent where nothing is. */
  heed?: string
  /** The manager has looked at it, and it is right. */
  isConfirmed?: true
}

/** A setting of the farm: loads that were looked at, by id, with what was to be looked at. */
export const confirmedLoads = 'confirmed loads'
