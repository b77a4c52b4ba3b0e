/** Money spent or got back that winter and spring do not know of: an invoice that differs, hours, rent, insurance. */
import * as v from 'valibot'
import { isoDate, nameText, wholeBetween } from './primitive.ts'
import { oneOf } from './sheet/column.ts'
import { choice, day, dollars, words, yesNo } from './sheet/kind.ts'
import { noteProperty, noun } from './sheet/noun.ts'

/**
 * seed: a dealer's invoice, in place of what the orders come to · return credit: what a dealer gave for seed taken back, in
 * place of what the terms say · measure, replanting, digging, combining: what it came to, in place of the house's rate ·
 * other: anything else.
 */
export const costKinds = ['seed', 'return credit', 'measure', 'replanting', 'digging', 'combining', 'other'] as const
export type CostKind = (typeof costKinds)[number]

export const { schema: costSchema, columns: costColumns } = noun({
  says: {
    is: nameText,
    label: 'What for',
    kind: words,
    width: 24,
    heads: ['says', 'description', 'item', 'memo'],
  },
  kind: { is: v.picklist(costKinds), label: 'Kind', kind: choice(costKinds), heads: ['category', 'type'] },
  /** [cent] or, `perAcre`, [cent/acre] of the acres planted. A credit is less than nothing, but for a return credit. */
  cents: {
    is: wholeBetween(-10_000_000_000, 10_000_000_000),
    label: 'Amount',
    unit: '$',
    kind: dollars,
    heads: ['amount', 'cost', 'cost $', 'total'],
  },
  perAcre: {
    is: v.optional(v.boolean(), false),
    label: 'An acre',
    unit: 'yes: $ an acre planted',
    kind: yesNo,
    heads: ['per acre'],
  },
  /** Absent: the whole farm's, shared by planted acres. */
  field: {
    is: v.optional(nameText),
    label: 'Field',
    unit: 'empty: whole farm',
    kind: ({ fields }) => oneOf(fields),
    heads: ['field name'],
  },
  dealer: {
    is: v.optional(nameText),
    label: 'Dealer',
    unit: 'of an invoice',
    kind: ({ dealers }) => oneOf(dealers),
    heads: ['vendor'],
  },
  spentOn: {
    is: v.optional(isoDate),
    label: 'Day',
    unit: 'as 2027-06-01',
    kind: day,
    heads: ['date', 'spent on', 'invoice date'],
  },
  note: noteProperty,
})
export type Cost = v.InferOutput<typeof costSchema>

export interface CostRow extends Cost {
  id: number
  fieldId: number | null
}
