/** What was left of each acre by variety, with how sure that is: fields differ, and few fields tell little. */
import { differenceOf, spreadOf, type Difference, type Spread } from '../agronomy/mean-interval.ts'
import type { Bill } from './bill.ts'
import type { Crop } from './crop.ts'
import type { Ground } from './ground.ts'

export interface FieldMargin {
  field: string
  acres: number
  valueCents: number
  costCents: number
  /** [cent/acre] value less what it cost. */
  perAcre: number
}

export interface VarietyMargin {
  variety: string
  fields: FieldMargin[]
  /** [cent/acre] each field weighing the same. */
  spread: Spread
}

export interface MarginPair {
  better: string
  other: string
  /** [cent/acre]; null where one of them stands on a single field. */
  difference: Difference | null
}

export interface Margins {
  /** Best mean first. */
  varieties: VarietyMargin[]
  pairs: MarginPair[]
}

/** Of fields whose loads all have a price and whose ground is known. */
export function marginsOf(ground: Ground, bills: readonly Bill[], crops: readonly Crop[]): Margins {
  const key = (field: string | null, variety: string | null) => JSON.stringify([field, variety])
  const costs = new Map<string, number>()
  for (const post of bills.flatMap(({ posts }) => posts)) {
    const at = key(post.field, post.variety)
    costs.set(at, (costs.get(at) ?? 0) + post.cents)
  }
  const open = new Set<string | null>()
  const values = new Map<string, number>()
  for (const post of crops.flatMap(({ posts }) => posts)) {
    if (post.unpricedTons > 0 || post.lotId === null) open.add(post.field)
    const at = key(post.field, post.variety)
    values.set(at, (values.get(at) ?? 0) + post.cents)
  }
  const found = new Map<string, FieldMargin[]>()
  for (const { field, parts } of ground.fields) {
    if (open.has(field.name)) continue
    for (const [variety, own] of Map.groupBy(parts, (part) => part.variety)) {
      const valueCents = values.get(key(field.name, variety))
      const acres = own.reduce((sum, part) => sum + part.acres, 0)
      if (valueCents === undefined || acres <= 0) continue
      const costCents = costs.get(key(field.name, variety)) ?? 0
      const perAcre = (valueCents - costCents) / acres
      const margin = { field: field.name, acres, valueCents, costCents, perAcre }
      found.set(variety, [...(found.get(variety) ?? []), margin])
    }
  }
  const varieties = [...found]
    .map(([variety, fields]) => ({ variety, fields, spread: spreadOf(fields.map(({ perAcre }) => perAcre)) }))
    .sort((a, b) => b.spread.mean - a.spread.mean || (a.variety < b.variety ? -1 : 1))
  const pairs = varieties.flatMap((better, at) =>
    varieties.slice(at + 1).map((other): MarginPair => ({
      better: better.variety,
      other: other.variety,
      difference: differenceOf(better.spread, other.spread),
    })),
  )
  return { varieties, pairs }
}
