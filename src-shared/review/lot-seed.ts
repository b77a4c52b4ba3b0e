/** What became of a lot's seed, and what was paid for it. */
import type { WorkingLine } from '../agronomy/working.ts'
import type { From } from './bill.ts'
import type { RecordLot } from './review-input.ts'

/** A lot's seed: pounds that add up (came = planted + left + returned) and what was paid for them. */
export interface LotSeed {
  lot: RecordLot
  plantedPounds: number
  leftPounds: number
  returnedPounds: number
  /** [cent] whole, without the order fee; null where nobody knows. */
  paidCents: number | null
  feeCents: number
  creditCents: number
  from: From | null
  lines: WorkingLine[]
}
