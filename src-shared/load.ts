/** A load of peanuts: over the scale, through the grader, sold. What it weighs net and is worth is reckoned, not typed. */
import * as v from 'valibot'
import type { NetWeight } from './agronomy/load-value.ts'
import { between, cents, fraction, isoDate, nameText, wholeBetween } from './primitive.ts'
import { oneOf } from './sheet/column.ts'
import { choice, day, dollars, number, percent, words } from './sheet/kind.ts'
import { noteProperty, noun } from './sheet/noun.ts'

export const priceBases = ['contract', 'market', 'loan schedule'] as const

/** Headed, besides our own words, as a buying point's settlement heads them. */
export const { schema: loadSchema, columns: loadColumns } = noun({
  field: { is: nameText, label: 'Field', kind: ({ fields }) => oneOf(fields), heads: ['field name', 'farm field'] },
  /** Of the scale or the buying point. */
  ticket: {
    is: v.optional(nameText),
    label: 'Ticket',
    kind: words,
    heads: ['ticket no', 'ticket number', 'scale ticket', 'load', 'load no'],
  },
  hauledOn: {
    is: isoDate,
    label: 'Hauled',
    unit: 'as 2027-10-02',
    kind: day,
    heads: ['date', 'delivered', 'delivery date', 'date delivered', 'date weighed', 'ticket date'],
  },
  /** Absent: what was planted in the field, where that is one variety. */
  variety: {
    is: v.optional(nameText),
    label: 'Variety',
    unit: 'empty: as planted',
    kind: ({ varieties }) => oneOf(varieties),
  },
  /** [lb] */
  grossPounds: {
    is: between(0, 1_000_000),
    label: 'Gross',
    unit: 'lb',
    kind: number(),
    heads: ['gross weight', 'gross wt', 'gross pounds', 'gross'],
  },
  tarePounds: {
    is: v.optional(between(0, 1_000_000), 0),
    label: 'Tare',
    unit: 'lb',
    kind: number(),
    heads: ['tare weight', 'tare wt', 'tare pounds', 'tare'],
  },
  /** [share] of gross less tare, each. */
  moisture: {
    is: v.optional(fraction),
    label: 'Moisture',
    unit: '%',
    kind: percent,
    heads: ['moist', 'moist %', '% moisture', 'h2o', 'mc'],
  },
  foreignMaterial: {
    is: v.optional(fraction),
    label: 'Foreign material',
    unit: '%',
    kind: percent,
    heads: ['fm', 'fm %', '% fm', 'foreign matter', 'foreign'],
  },
  looseKernels: {
    is: v.optional(fraction),
    label: 'Loose kernels',
    unit: '%',
    kind: percent,
    heads: ['lsk', 'lsk %', '% lsk', 'loose shelled kernels', 'loose shelled'],
  },
  /** [share] of the sample, each. */
  soundMatureKernels: {
    is: v.optional(fraction),
    label: 'Sound mature',
    unit: '%',
    kind: percent,
    heads: ['smk', 'smk %', '% smk', 'sound mature kernels'],
  },
  soundSplits: {
    is: v.optional(fraction),
    label: 'Sound splits',
    unit: '%',
    kind: percent,
    heads: ['ss', 'ss %', '% ss', 'splits'],
  },
  otherKernels: {
    is: v.optional(fraction),
    label: 'Other kernels',
    unit: '%',
    kind: percent,
    heads: ['ok', 'ok %', '% ok'],
  },
  damagedKernels: {
    is: v.optional(fraction),
    label: 'Damaged',
    unit: '%',
    kind: percent,
    heads: ['dk', 'dk %', '% dk', 'damage', 'damage %', 'damaged kernels', 'dam', 'td', 'total damage'],
  },
  hulls: {
    is: v.optional(fraction),
    label: 'Hulls',
    unit: '%',
    kind: percent,
    heads: ['hull', 'hull %', '% hulls'],
  },
  segregation: {
    is: v.optional(wholeBetween(1, 3)),
    label: 'Segregation',
    unit: '1–3',
    kind: number(),
    heads: ['seg', 'seg no', 'segregation'],
  },
  priceBasis: {
    is: v.optional(v.picklist(priceBases, 'must be contract, market or loan schedule')),
    label: 'Sold by',
    kind: choice(priceBases),
    heads: ['price basis', 'basis', 'sold'],
  },
  /** [cent/ton] agreed or of the day; by the loan schedule it follows from the grade. */
  centsPerTon: {
    is: v.optional(wholeBetween(0, 100_000_000)),
    label: 'Price',
    unit: '$/ton',
    kind: dollars,
    heads: ['price per ton', 'contract price', 'price', '$ per ton'],
  },
  /** [cent] what the settlement says was paid; then that is what it was worth. */
  paidCents: {
    is: v.optional(cents),
    label: 'Paid',
    unit: '$',
    kind: dollars,
    heads: ['amount', 'amount paid', 'net amount', 'settlement', 'total paid', 'value', '$ paid'],
  },
  buyer: { is: v.optional(nameText), label: 'Buyer', kind: words, heads: ['buying point', 'sold to', 'sheller'] },
  note: { ...noteProperty, width: 20 },
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
