/**
 * What came of a season, as it is written out with it under `happened`: what was ordered, delivered, planted, hauled, spent
 * and seen, by names instead of ids. It is written for people and scripts; Standwell reads back the season itself only.
 */
import type { Cost } from './cost.ts'
import type { GivenDelivery } from './delivery.ts'
import type { GerminationTest } from './germination-test.ts'
import type { Load } from './load.ts'
import type { GivenLot } from './lot.ts'
import type { OrderLine, OrderSheet } from './order.ts'
import type { GivenPlanting, GivenStandCount, PlantedLot } from './planting.ts'
import type { Seen } from './seen.ts'
import type { Tag } from './tag.ts'

export interface RecordedLot extends Omit<GivenLot, 'varietyId' | 'deliveryId' | 'carriedSeedId' | 'orderLineId'> {
  variety: string
  dealer: string | null
  arrivedOn: string | null
  tag: Tag | null
  tests: Omit<GerminationTest, 'id'>[]
  /** Names of the pictures, which stay in the farm file. */
  pictures: string[]
  plantedPounds: number
}

export interface RecordedPlanting extends Omit<GivenPlanting, 'fieldId' | 'lots' | 'measureIds'> {
  field: string
  lots: (Omit<PlantedLot, 'lotId'> & { lot: string; variety: string })[]
  measures: string[]
  counts: Omit<GivenStandCount, 'plantingId'>[]
}

export interface SeasonRecord {
  /** Says what is not in the file. */
  leftOut: string
  orders: (Pick<OrderSheet, 'dealer' | 'number' | 'note' | 'madeOn' | 'terms'> & {
    lines: Omit<OrderLine, 'id' | 'quoteId'>[]
    /** [cent] as the order stands. */
    cents: number
  })[]
  deliveries: (Omit<GivenDelivery, 'dealerId'> & { dealer: string })[]
  lots: RecordedLot[]
  plantings: RecordedPlanting[]
  /** As written down, with net weight and value as they were reckoned then. */
  loads: (Load & { netPounds: number; valueCents: number | null })[]
  seen: Seen[]
  costs: Cost[]
}
