/** The ground as it was planted: each field in parts, one for each lot that went into it. */
import type { Field } from '../field.ts'
import type { RecordPlanting, ReviewInput } from './review-input.ts'

/** What has no dealer came from the farm itself. */
export const ownSeed = 'Seed of the farm'

export interface GroundPart {
  field: string
  variety: string
  lotId: number
  dealer: string
  plantingId: number
  /** [acre] Lots mixed in one planting share its acres by their pounds. */
  acres: number
  /** [lb] */
  pounds: number
}

export interface FieldGround {
  field: Field
  /** [acre] planted, each acre once. */
  acres: number
  /** [acre] written down beyond what the field has: planted again. */
  againAcres: number
  parts: GroundPart[]
  plantings: RecordPlanting[]
}

export interface Ground {
  /** Fields with a finished planting, in the season's order. */
  fields: FieldGround[]
  byField: Map<string, FieldGround>
  parts: GroundPart[]
  acres: number
}

/** [acre] Less is a wheel's width at the headland. */
const slack = 0.05

/**
 * Finished plantings as ground. A field planted twice has its acres once: its parts are scaled down to them. A lot that is
 * gone has no part.
 */
export function groundOf({ season, lots, plantings }: Pick<ReviewInput, 'season' | 'lots' | 'plantings'>): Ground {
  const lotOf = new Map(lots.map((lot) => [lot.id, lot]))
  const entries = Map.groupBy(
    plantings.filter(({ isFinished }) => isFinished),
    ({ field }) => field,
  )
  const fields = season.fields.flatMap((field): FieldGround[] => {
    const own = entries.get(field.name) ?? []
    const written = own.reduce((sum, { acres }) => sum + (acres ?? 0), 0)
    if (written <= 0) return []
    const isAgain = written > field.acres + slack
    const scale = isAgain ? field.acres / written : 1
    const parts = own.flatMap((entry): GroundPart[] => {
      const pounds = entry.lots.reduce((sum, lot) => sum + lot.pounds, 0)
      return entry.lots.flatMap((planted) => {
        const lot = lotOf.get(planted.lotId)
        if (lot === undefined) return []
        const share = pounds > 0 ? planted.pounds / pounds : 1 / entry.lots.length
        return [
          {
            field: field.name,
            variety: lot.variety,
            lotId: lot.id,
            dealer: lot.dealer ?? ownSeed,
            plantingId: entry.id,
            acres: (entry.acres ?? 0) * share * scale,
            pounds: planted.pounds,
          },
        ]
      })
    })
    return [{ field, acres: written * scale, againAcres: isAgain ? written - field.acres : 0, parts, plantings: own }]
  })
  return {
    fields,
    byField: new Map(fields.map((each) => [each.field.name, each])),
    parts: fields.flatMap(({ parts }) => parts),
    acres: fields.reduce((sum, { acres }) => sum + acres, 0),
  }
}

/** [acre] planted on a field, or on the whole farm where none is named. */
export function acresOn(ground: Ground, field: string | undefined): number {
  if (field === undefined) return ground.acres
  return ground.byField.get(field)?.acres ?? 0
}
