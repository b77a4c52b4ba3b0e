/** What the loads of a season come to by field, and what of its costs is known without anybody typing it. Pure. */
import { poundsPerTon } from './agronomy/load-value.ts'
import type { CostKind } from './cost.ts'
import type { LoadRow } from './load.ts'

/** A field of the season and what was written down as planted in it. */
export interface PlantedGround {
  fieldId: number
  field: string
  /** [acre] of the field. */
  acres: number
  /** [acre] of finished plantings; 0 where none is written down. */
  plantedAcres: number
  varieties: string[]
}

/** A cost that follows from what is in the farm already. */
export interface KnownCost {
  kind: CostKind
  says: string
  /** [cent] */
  cents: number
  /** How it comes about, with its numbers. */
  from: string
}

export interface HarvestNow {
  fields: PlantedGround[]
  known: KnownCost[]
}

/** For the rail. */
export interface HarvestWaiting {
  /** Fields with a finished planting, and those of them without a load. */
  planted: number
  withoutLoad: number
  loads: number
  /** Loads that nothing gives a value, and those with something to look at again. */
  unvalued: number
  heeded: number
}

export interface FieldHarvest extends PlantedGround {
  loads: number
  /** [ton] net */
  tons: number
  /** [acre] that the tons are shared by: planted ones where they are written down, else the field's. */
  acresCounted: number
  /** [ton/acre] */
  tonsPerAcre: number
  /** [cent] of the loads that have a value. */
  valueCents: number
  unvalued: number
}

/** Every field that was planted or hauled from, in the order given. */
export function harvestByField(fields: readonly PlantedGround[], loads: readonly LoadRow[]): FieldHarvest[] {
  const own = Map.groupBy(loads, ({ fieldId }) => fieldId)
  return fields.flatMap((ground) => {
    const hauled = own.get(ground.fieldId) ?? []
    if (hauled.length === 0 && ground.plantedAcres === 0) return []
    const tons = hauled.reduce((sum, { net }) => sum + net.netPounds, 0) / poundsPerTon
    const acresCounted = ground.plantedAcres > 0 ? ground.plantedAcres : ground.acres
    return [
      {
        ...ground,
        loads: hauled.length,
        tons,
        acresCounted,
        tonsPerAcre: tons / acresCounted,
        valueCents: hauled.reduce((sum, { valueCents }) => sum + (valueCents ?? 0), 0),
        unvalued: hauled.filter(({ valueCents }) => valueCents === null).length,
      },
    ]
  })
}
