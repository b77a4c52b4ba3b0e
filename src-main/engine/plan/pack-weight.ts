/** What a pack weighs in the model: loose seed is counted by the pound. */
import type { ProblemQuote } from '../../../src-shared/plan-problem.ts'

/** [lb/pack]; 1 for loose seed. */
export function packWeight(quote: ProblemQuote): number {
  return quote.packPounds ?? 1
}
