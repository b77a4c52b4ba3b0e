/** Germination promised and found, stands promised and counted, by lot and by dealer. */
import { compareNames } from '../name-order.ts'
import type { Context } from '../agronomy/context.ts'
import { standOf } from '../agronomy/seed.ts'
import { standFrom } from '../agronomy/stand-count.ts'
import { ownSeed } from './ground.ts'
import type { RecordLot, RecordPlanting, ReviewInput } from './review-input.ts'

/** A stand as it was counted last in one planting. */
export interface CountedStand {
  planting: RecordPlanting
  field: string
  countedOn: string
  /** [plants/ft] */
  found: number
  /** [plants/ft] by the drop, the germination of its lots and the book's emergence; null where one is not known. */
  promised: number | null
  /** [share] pounds-weighed germination of its lots; null without lots. */
  germination: number | null
  rowPattern: 'single' | 'twin'
}

export interface StandRow {
  label: string
  dealer: string
  /** Null: a dealer's row. */
  lotId: number | null
  lots: number
  pounds: number
  /** [share] by pounds. */
  promisedGermination: number
  /** [share] of the newest test, else of the tag; null where there is neither. */
  foundGermination: number | null
  from: string
  /** Counts of plantings that had this seed; their means, each planting weighing the same. */
  counts: number
  promisedStand: number | null
  foundStand: number | null
}

/** Plantings that were counted, by their last count. */
export function countedStands(context: Context, { plantings, lots }: ReviewInput): CountedStand[] {
  const lotOf = new Map(lots.map((lot) => [lot.id, lot]))
  return plantings.flatMap((planting): CountedStand[] => {
    const last = planting.counts.at(-1)
    if (last === undefined) return []
    const field = context.season.fields.find(({ name }) => name === planting.field)
    const rowPattern = planting.rowPattern ?? field?.rowPattern ?? 'single'
    const own = planting.lots.flatMap(({ lotId, pounds }) => {
      const lot = lotOf.get(lotId)
      return lot ? [{ pounds, germination: lot.germination }] : []
    })
    const pounds = own.reduce((sum, each) => sum + each.pounds, 0)
    const germination = pounds > 0 ? own.reduce((sum, each) => sum + each.pounds * each.germination, 0) / pounds : null
    const { seedsPerFoot } = planting
    return [
      {
        planting,
        field: planting.field,
        countedOn: last.countedOn,
        found: standFrom(last.spots).mean,
        germination,
        rowPattern,
        promised:
          germination === null || seedsPerFoot === null
            ? null
            : standOf(seedsPerFoot, germination, context.emergence[rowPattern]),
      },
    ]
  })
}

/** Dealers, each followed by its lots. */
export function standRows(record: ReviewInput, stands: readonly CountedStand[]): StandRow[] {
  const here = record.lots.filter(({ state }) => state !== 'refused')
  const dealers = [...Map.groupBy(here, ({ dealer }) => dealer ?? ownSeed)].sort(([a], [b]) => compareNames(a, b))
  return dealers.flatMap(([dealer, lots]) => [
    rowOf(dealer, dealer, null, lots, stands),
    ...lots.map((lot) => rowOf(`Lot ${lot.name}`, dealer, lot.id, [lot], stands)),
  ])
}

function rowOf(
  label: string,
  dealer: string,
  lotId: number | null,
  lots: readonly RecordLot[],
  stands: readonly CountedStand[],
): StandRow {
  const known = lots.filter(({ germinationFrom }) => germinationFrom !== 'the variety')
  const ids = new Set(lots.map(({ id }) => id))
  const own = stands.filter(({ planting }) => planting.lots.some((lot) => ids.has(lot.lotId)))
  const promised = own.flatMap((stand) => stand.promised ?? [])
  const mean = (of: readonly number[]) => (of.length > 0 ? of.reduce((sum, each) => sum + each, 0) / of.length : null)
  return {
    label,
    dealer,
    lotId,
    lots: lots.length,
    pounds: lots.reduce((sum, { pounds }) => sum + pounds, 0),
    promisedGermination: byPounds(lots, ({ promised }) => promised.germination) ?? 0,
    foundGermination: byPounds(known, ({ germination }) => germination),
    from: [...new Set(known.map(({ germinationFrom }) => germinationFrom))].join(', ') || 'no tag or test',
    counts: own.length,
    promisedStand: mean(promised),
    foundStand: mean(own.map(({ found }) => found)),
  }
}

function byPounds(lots: readonly RecordLot[], of: (lot: RecordLot) => number): number | null {
  const pounds = lots.reduce((sum, lot) => sum + lot.pounds, 0)
  return pounds > 0 ? lots.reduce((sum, lot) => sum + lot.pounds * of(lot), 0) / pounds : null
}
