/** All that was written down in a season, as one plain value: what its review is reckoned from. */
import type { Spot } from '../agronomy/stand-count.ts'
import type { CostRow } from '../cost.ts'
import type { RowPattern } from '../field.ts'
import type { LoadRow } from '../load.ts'
import type { LotRow } from '../lot.ts'
import type { OrderSheet } from '../order.ts'
import type { Plan } from '../plan.ts'
import type { Season } from '../season.ts'
import type { SeenRow } from '../seen.ts'

export type RecordLot = Pick<
  LotRow,
  | 'id'
  | 'name'
  | 'variety'
  | 'dealer'
  | 'orderLineId'
  | 'state'
  | 'packs'
  | 'pounds'
  | 'returnedPounds'
  | 'leftPounds'
  | 'plantedPounds'
  | 'germination'
  | 'germinationFrom'
  | 'seedsCounted'
  | 'countFrom'
  | 'promised'
  | 'isTreated'
> & { isCarried: boolean }

export interface RecordPlanting {
  id: number
  field: string
  isFinished: boolean
  plantedOn: string | null
  acres: number | null
  rowPattern: RowPattern | null
  seedsPerFoot: number | null
  lots: { lotId: number; pounds: number }[]
  /** Names. */
  measures: string[]
  /** Oldest first. */
  counts: { countedOn: string; spots: Spot[] }[]
}

export interface ReviewInput {
  /** As it stands now. */
  season: Season
  /** The plan in hand, and the season as it was when it was made; null where there is none. */
  planned: { plan: Plan; from: Season } | null
  orders: OrderSheet[]
  lots: RecordLot[]
  plantings: RecordPlanting[]
  loads: LoadRow[]
  costs: CostRow[]
  seen: SeenRow[]
}
