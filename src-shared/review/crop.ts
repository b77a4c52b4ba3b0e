/** What was harvested: loads of a field and variety together, shared over the lots that were planted there by their acres. */
import { poundsPerTon } from '../agronomy/load-value.ts'
import { line, term, type WorkingLine } from '../agronomy/working.ts'
import { showCount } from '../show.ts'
import { placeOfPart, type Place } from './bill.ts'
import type { Ground } from './ground.ts'
import type { ReviewInput } from './review-input.ts'
import { shareCents } from './share-cents.ts'

export interface CropPost extends Place {
  /** [ton] net */
  tons: number
  /** Whole cents of the loads that have a price. */
  cents: number
  /** [ton] net of loads without one. */
  unpricedTons: number
}

export interface Crop {
  says: string
  loads: number
  tons: number
  cents: number
  unpricedTons: number
  lines: WorkingLine[]
  posts: CropPost[]
}

/** Loads by field and variety; what they weigh and bring is shared over that ground by acres, in whole cents. */
export function cropOf({ loads }: Pick<ReviewInput, 'loads'>, ground: Ground): Crop[] {
  const groups = Map.groupBy(loads, ({ field, grown }) => JSON.stringify([field, grown]))
  return [...groups.values()].map((own): Crop => {
    const { field, grown } = own[0] as (typeof own)[number]
    const tonsOf = (list: typeof own) => list.reduce((sum, { net }) => sum + net.netPounds, 0) / poundsPerTon
    const unpriced = own.filter(({ valueCents }) => valueCents === null)
    const tons = tonsOf(own)
    const cents = own.reduce((sum, { valueCents }) => sum + (valueCents ?? 0), 0)
    const unpricedTons = tonsOf(unpriced)
    const says = `${showCount(own.length, 'load')} of ${field}${grown === null ? '' : `, ${grown}`}`
    const parts = (ground.byField.get(field)?.parts ?? []).filter(({ variety }) => variety === grown)
    const places: (Place & { acres: number })[] =
      parts.length > 0
        ? parts.map((part) => ({ ...placeOfPart(part), acres: part.acres }))
        : [{ field, variety: grown, lotId: null, dealer: null, acres: 1 }]
    const acres = places.reduce((sum, place) => sum + place.acres, 0)
    const shares = shareCents(
      cents,
      places.map((place) => place.acres),
    )
    const posts = places.map(({ acres: each, ...place }, at): CropPost => {
      const share = acres > 0 ? each / acres : 1 / places.length
      return { ...place, tons: tons * share, cents: shares[at] as number, unpricedTons: unpricedTons * share }
    })
    return { says, loads: own.length, tons, cents, unpricedTons, posts, lines: linesOf(says, own, tons, cents) }
  })
}

/** Loads named one by one while there are few; the rest together. */
const named = 12

function linesOf(says: string, own: ReviewInput['loads'], tons: number, cents: number): WorkingLine[] {
  const few = own.slice(0, named)
  const rest = own.slice(named)
  const name = (load: (typeof own)[number]) => load.ticket ?? `load of ${load.hauledOn}`
  const sum = (list: typeof own, of: (load: (typeof own)[number]) => number) =>
    list.reduce((total, each) => total + of(each), 0)
  const terms = (of: (load: (typeof own)[number]) => number, unit: string) => [
    ...few.map((load) => term(`${name(load)}${load.valueFrom ? `, ${load.valueFrom}` : ''}`, of(load), unit)),
    ...(rest.length > 0 ? [term(`${showCount(rest.length, 'load')} more`, sum(rest, of), unit)] : []),
  ]
  return [
    line({
      id: `tons/${says}`,
      label: `Net weight of ${says}`,
      value: tons,
      unit: 'ton',
      rule: 'sum',
      terms: terms(({ net }) => net.netPounds / poundsPerTon, 'ton'),
      note: 'On the scale less foreign material, loose kernels and water above what is free.',
    }),
    line({
      id: `value/${says}`,
      label: `Value of ${says}`,
      value: cents / 100,
      unit: '$',
      rule: 'sum',
      terms: terms(({ valueCents }) => (valueCents ?? 0) / 100, '$'),
    }),
  ]
}
