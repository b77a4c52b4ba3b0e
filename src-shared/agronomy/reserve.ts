/**
 * The reserve by chance: how much seed to have when the need is uncertain. The newsvendor's answer, and what any
 * amount on hand means: the chance of running short and the pounds expected to be left. Pure.
 */
import type { Book } from '../assumption.ts'
import { normalCdf, normalPdf, normalQuantile } from './normal.ts'

/** Coefficients of variation of what the need depends on. [share] each, independent. */
export interface NeedVariation {
  seedCount: number
  emergence: number
  planter: number
  acreage: number
}

/** What an amount on hand means for an uncertain need. */
export interface OnHand {
  /** [lb] expected need. */
  mean: number
  /** [lb] */
  deviation: number
  /** [lb] to have. */
  orderPounds: number
  /** [share] of the expected need. */
  reserve: number
  /** Probability that the need is more than the order. */
  chanceShort: number
  /** [lb] expected to be left over. */
  expectedLeft: number
  /** [lb] expected to be missing. */
  expectedShort: number
}

/** What the reserve is worth: the newsvendor's answer and what it means. */
export interface Reserve extends OnHand {
  /** c_u / (c_u + c_o) */
  criticalRatio: number
}

/**
 * One deviation of the need: the root of the sum of squares of its four causes.
 * @returns [share of the need]; 0.03, 0.02, 0.03, 0.01 → 0.048
 */
export function needVariation(variation: NeedVariation): number {
  return Math.hypot(variation.seedCount, variation.emergence, variation.planter, variation.acreage)
}

/**
 * What an amount means for a normal need: for whole packs as they were bought, which is seldom what was aimed at.
 * Expected shortage above q: σ·(φ(z) − z·(1 − Φ(z))); what is left is q − μ + shortage.
 * @param mean [lb] ≥ 0 @param deviation [lb] ≥ 0 @param orderPounds [lb] on hand or bought
 * @returns with deviation 0 the need is certain: the chance is 0 or 1
 */
export function chanceWith(mean: number, deviation: number, orderPounds: number): OnHand {
  const reserve = mean > 0 ? orderPounds / mean - 1 : 0
  if (deviation === 0) {
    const over = orderPounds - mean
    return {
      mean,
      deviation,
      orderPounds,
      reserve,
      chanceShort: over < 0 ? 1 : 0,
      expectedLeft: Math.max(0, over),
      expectedShort: Math.max(0, -over),
    }
  }
  const z = (orderPounds - mean) / deviation
  const chanceShort = normalCdf(-z)
  const expectedShort = deviation * (normalPdf(z) - z * chanceShort)
  return {
    mean,
    deviation,
    orderPounds,
    reserve,
    chanceShort,
    expectedLeft: orderPounds - mean + expectedShort,
    expectedShort,
  }
}

/**
 * The newsvendor quantile for a normal need in any unit: F(q*) = c_u / (c_u + c_o).
 * Source: Cachon & Terwiesch, Matching Supply with Demand, 3rd ed. (Q12.1d is the test).
 * @param shortCost > 0, of a unit that is missing @param leftCost > 0, of a unit that is left
 * @returns Normal(200, 80), 8 short, 4 left → 234.46; with deviation 0 the mean
 */
export function newsvendor(mean: number, deviation: number, shortCost: number, leftCost: number): Reserve {
  const criticalRatio = shortCost / (shortCost + leftCost)
  return { ...chanceWith(mean, deviation, mean + normalQuantile(criticalRatio) * deviation), criticalRatio }
}

/**
 * The same for seed.
 * @param meanPounds [lb] ≥ 0
 * @param variation the four CVs, combined as the root of their squares
 * @param shortCents [cent/lb] > 0, cost of a pound that is missing
 * @param leftCents [cent/lb] > 0, cost of a pound that is left: price less return credit, carrying and retest
 */
export function newsvendorReserve(
  meanPounds: number,
  variation: NeedVariation,
  shortCents: number,
  leftCents: number,
): Reserve {
  return newsvendor(meanPounds, needVariation(variation) * meanPounds, shortCents, leftCents)
}

/** The four CVs as the house has them. */
export function variationOf(book: Book): NeedVariation {
  const at = (what: string) => book.number(`reserve/variation/${what}`)
  return { seedCount: at('seed count'), emergence: at('emergence'), planter: at('planter'), acreage: at('acreage') }
}

/**
 * The reserve that the house's figures make best for one variety, as the rule `reserve-by-chance` orders it.
 * Where a pound left costs more than a pound missing the quantile lies below the need; it is held at the need, for
 * ordering less than the rates call for is a change of rates, not a reserve.
 * @param meanPounds [lb] at the planned rates
 * @returns `reserve` ≥ 0; `criticalRatio` as it comes, also where it was held
 */
export function houseReserve(book: Book, meanPounds: number): Reserve {
  const [short, left] = [book.number('reserve/short pound'), book.number('reserve/left pound')]
  const best = newsvendorReserve(meanPounds, variationOf(book), short * 100, left * 100)
  if (best.orderPounds >= meanPounds) return best
  return { ...chanceWith(meanPounds, best.deviation, meanPounds), criticalRatio: best.criticalRatio }
}
