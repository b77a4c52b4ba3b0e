/** A sum paid or brought in, where it is from, and the ground, lot and dealer that it is shared out to. */
import { line, term, type WorkingLine, type WorkingTerm } from '../agronomy/working.ts'
import type { GroundPart } from './ground.ts'
import { shareCents } from './share-cents.ts'

export const costParts = [
  'seed',
  'seed left',
  'seed returned',
  'measures',
  'replanting',
  'digging',
  'combining',
  'other',
] as const
export type CostPart = (typeof costParts)[number]

/** How a figure is known. */
export type From =
  | 'the dealer’s bill'
  | 'the order as it stands'
  | 'the quote'
  | 'paid in an earlier season'
  | 'the terms'
  | 'written down'
  | 'the house’s rate'
  | 'the settlement'
  | 'the loads'

/** Where a share of a bill belongs; null: there is nothing to say where. */
export interface Place {
  field: string | null
  variety: string | null
  lotId: number | null
  dealer: string | null
}

export interface Post extends Place {
  /** Whole. */
  cents: number
  weight: number
}

export interface Bill {
  part: CostPart
  says: string
  from: From
  /** Whole; below 0: money back. */
  cents: number
  sharedBy: 'pounds' | 'acres' | 'what it came to'
  /** How the sum came about. */
  lines: WorkingLine[]
  posts: Post[]
}

export const nowhere: Place = { field: null, variety: null, lotId: null, dealer: null }

/** Where a bill of this ground belongs. */
export function placeOfPart({ field, variety, lotId, dealer }: GroundPart): Place {
  return { field, variety, lotId, dealer }
}

/** A bill shared over places by their weights; where there is no place it stays where `otherwise` says. */
export function billOf(
  bill: Omit<Bill, 'posts'>,
  places: readonly (Place & { weight: number })[],
  otherwise: Place = nowhere,
): Bill {
  if (places.length === 0) return { ...bill, posts: [{ ...otherwise, cents: bill.cents, weight: 1 }] }
  const shares = shareCents(
    bill.cents,
    places.map(({ weight }) => weight),
  )
  return { ...bill, posts: places.map((place, at) => ({ ...place, cents: shares[at] as number })) }
}

/** A sum that was written down as such. */
export function plainLine(id: string, label: string, cents: number, note?: string): WorkingLine {
  return line({
    id,
    label,
    value: cents / 100,
    unit: '$',
    rule: 'sum',
    terms: [term('as written down', cents / 100, '$')],
    note,
  })
}

/** t₁ × … × tₙ in dollars; the value is the whole cents that were counted with. */
export function productLine(id: string, label: string, cents: number, terms: WorkingTerm[]): WorkingLine {
  return line({ id, label, value: cents / 100, unit: '$', rule: 'product', terms })
}
