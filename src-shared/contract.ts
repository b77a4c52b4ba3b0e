/** A contract for the crop: what a ton brings, of which market and oil type, and for how many tons. */
import * as v from 'valibot'
import { between, nameText, wholeBetween } from './primitive.ts'
import { choice, dollars, number, words } from './sheet/kind.ts'
import { noteProperty, noun } from './sheet/noun.ts'
import { marketTypes, oilTypes } from './variety.ts'

export const { schema: contractSchema, columns: contractColumns } = noun({
  name: { is: nameText, label: 'Contract', kind: words, heads: ['name', 'contract name'] },
  /** Absent: any. */
  marketType: {
    is: v.optional(v.picklist(marketTypes, `must be ${marketTypes.slice(0, -1).join(', ')} or ${marketTypes.at(-1)}`)),
    label: 'Market type',
    unit: 'empty: any',
    kind: choice(marketTypes),
    heads: ['market type'],
  },
  /** Absent: any. */
  oilType: {
    is: v.optional(v.picklist(oilTypes, 'must be high oleic or normal')),
    label: 'Oil',
    unit: 'empty: any',
    kind: choice(oilTypes),
    heads: ['oil type'],
  },
  /** [cent/ton] at the farm's usual grade. */
  perTonCents: {
    is: wholeBetween(0, 1_000_000),
    label: 'Price',
    unit: '$ a ton',
    usual: [354, 800],
    kind: dollars,
    heads: ['price', 'price $/ton', 'contract price'],
  },
  /** [cent/ton] agreed on top of the price. */
  premiumCents: {
    is: v.optional(wholeBetween(0, 1_000_000), 0),
    label: 'Premium',
    unit: '$ a ton',
    usual: [0, 150],
    kind: dollars,
    heads: ['premium', 'premium $/ton'],
  },
  /** [ton] that it takes; absent: all there are. */
  tons: {
    is: v.optional(between(0.1, 1_000_000)),
    label: 'Tons',
    unit: 'empty: no limit',
    kind: number(),
    heads: ['tons', 'contracted tons'],
  },
  note: noteProperty,
})

export type Contract = v.InferOutput<typeof contractSchema>
