/** Money spent or got back that winter and spring do not know of: an invoice that differs, hours, rent, insurance. */
import * as v from 'valibot'
import { isoDate, nameText, note, wholeBetween } from './primitive.ts'

/**
 * seed: a dealer's invoice, in place of what the orders come to · return credit: what a dealer gave for seed taken back, in
 * place of what the terms say · measure, replanting, digging, combining: what it came to, in place of the house's rate ·
 * other: anything else.
 */
export const costKinds = ['seed', 'return credit', 'measure', 'replanting', 'digging', 'combining', 'other'] as const
export type CostKind = (typeof costKinds)[number]

export const costSchema = v.strictObject({
  kind: v.picklist(costKinds),
  /** What it was for. */
  says: nameText,
  /** Absent: the whole farm's, shared by planted acres. */
  field: v.optional(nameText),
  dealer: v.optional(nameText),
  spentOn: v.optional(isoDate),
  /** [cent] or, `perAcre`, [cent/acre] of the acres planted. A credit is less than nothing, but for a return credit. */
  cents: wholeBetween(-10_000_000_000, 10_000_000_000),
  perAcre: v.optional(v.boolean(), false),
  note: v.optional(note),
})
export type Cost = v.InferOutput<typeof costSchema>

export interface CostRow extends Cost {
  id: number
  fieldId: number | null
}
