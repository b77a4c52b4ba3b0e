/**
 * What everything cost and brought, by field, by variety, by dealer or by lot. Each is the same sums put together another
 * way, with a row for what cannot be placed, so that every table adds up to the same total.
 */
import { compareNames } from '../name-order.ts'
import { costParts, type Bill, type CostPart, type Place } from './bill.ts'
import type { Crop } from './crop.ts'
import type { Ground } from './ground.ts'

export const views = ['field', 'variety', 'dealer', 'lot'] as const
export type View = (typeof views)[number]

export interface MoneyRow {
  /** Name, or the lot's id; null: what has no place in this table. */
  key: string | null
  label: string
  /** [acre] planted; null where nobody knows, and in the row of what has no place. */
  acres: number | null
  /** Whole cents. */
  costs: Record<CostPart, number>
  costCents: number
  /** [ton] net; null before anything was harvested. */
  tons: number | null
  /** Whole cents of what has a price; null before anything was harvested. */
  valueCents: number | null
  /** [ton] without a price. */
  unpricedTons: number
  /** [cent] value less cost; null where the value is not whole. */
  marginCents: number | null
}

export interface MoneyTable {
  view: View
  rows: MoneyRow[]
  total: MoneyRow
}

/** The row that a place belongs to; null: what cannot be placed in this table. */
export function keyIn(view: View, place: Place): string | null {
  if (view === 'lot') return place.lotId === null ? null : String(place.lotId)
  return place[view]
}

/** Sums of all bills and crops in one view. @param lotNames lot's id as text → its name */
export function moneyTable(
  view: View,
  ground: Ground,
  { bills, crops }: { bills: readonly Bill[]; crops: readonly Crop[] },
  lotNames: ReadonlyMap<string, string>,
): MoneyTable {
  const rows = new Map<string | null, MoneyRow>()
  const at = (key: string | null): MoneyRow => {
    const there = rows.get(key)
    if (there) return there
    const label = key === null ? 'Cannot be placed' : view === 'lot' ? `Lot ${lotNames.get(key) ?? key}` : key
    // A field of which nothing is written down as planted has acres that nobody knows; a lot not planted has none.
    const made = emptyRow(key, label, key === null || view === 'field' ? null : 0)
    rows.set(key, made)
    return made
  }
  for (const part of ground.parts) {
    const row = at(keyIn(view, part))
    row.acres = (row.acres ?? 0) + part.acres
  }
  for (const bill of bills) {
    for (const post of bill.posts) at(keyIn(view, post)).costs[bill.part] += post.cents
  }
  for (const { posts } of crops) {
    for (const post of posts) {
      const row = at(keyIn(view, post))
      row.tons = (row.tons ?? 0) + post.tons
      row.valueCents = (row.valueCents ?? 0) + post.cents
      row.unpricedTons += post.unpricedTons
    }
  }
  const all = [...rows.values()].map(summed).sort(inOrder)
  return { view, rows: all, total: totalOf(all, ground) }
}

/** By name, what has no place last. */
function inOrder(a: MoneyRow, b: MoneyRow): number {
  if (a.key === null || b.key === null) return a.key === null ? 1 : -1
  return compareNames(a.label, b.label)
}

function emptyRow(key: string | null, label: string, acres: number | null): MoneyRow {
  const costs = Object.fromEntries(costParts.map((part) => [part, 0])) as Record<CostPart, number>
  const known = { costs, costCents: 0, tons: null, valueCents: null, unpricedTons: 0, marginCents: null }
  return { key, label, acres, ...known }
}

function summed(row: MoneyRow): MoneyRow {
  const costCents = costParts.reduce((sum, part) => sum + row.costs[part], 0)
  const isWhole = row.valueCents !== null && row.unpricedTons === 0
  return { ...row, costCents, marginCents: isWhole ? (row.valueCents ?? 0) - costCents : null }
}

function totalOf(rows: readonly MoneyRow[], ground: Ground): MoneyRow {
  const total = emptyRow('', 'All', 0)
  for (const row of rows) {
    for (const part of costParts) total.costs[part] += row.costs[part]
    if (row.tons !== null) total.tons = (total.tons ?? 0) + row.tons
    if (row.valueCents !== null) total.valueCents = (total.valueCents ?? 0) + row.valueCents
    total.unpricedTons += row.unpricedTons
  }
  return summed({ ...total, acres: ground.acres })
}
