/** How a variety did on each of its fields against what was expected of it there: in pounds, and in price a ton. */
import { poundsPerTon } from '../agronomy/load-value.ts'
import { dollarsPerTon } from '../agronomy/price.ts'
import type { Reckoning } from './review.ts'

export interface FieldRatio {
  field: string
  variety: string
  /** Did, against what was expected = 1. */
  ratio: number
  /** The index that the expectation was made with. */
  index: number
}

/** Fields whose loads can all be given to a variety. */
function harvestOf({ crops }: Reckoning, field: string, variety: string) {
  const posts = crops.flatMap((crop) => crop.posts).filter((post) => post.field === field)
  if (posts.length === 0 || posts.some((post) => post.lotId === null)) return null
  const own = posts.filter((post) => post.variety === variety)
  const sum = (of: (post: (typeof own)[number]) => number) => own.reduce((total, post) => total + of(post), 0)
  return {
    tons: sum(({ tons }) => tons),
    pricedTons: sum(({ tons, unpricedTons }) => tons - unpricedTons),
    cents: sum(({ cents }) => cents),
  }
}

/** Pounds harvested against pounds expected: goal, rotation, the variety's index, less the threats expected. */
export function expectedYields(reckoning: Reckoning): FieldRatio[] {
  return reckoning.blocks.flatMap(({ field, variety, acres, expectedLb, at }) => {
    const harvest = harvestOf(reckoning, field, variety)
    if (harvest === null || harvest.tons <= 0 || acres <= 0 || expectedLb <= 0) return []
    const ratio = (harvest.tons * poundsPerTon) / acres / expectedLb
    return [{ field, variety, ratio, index: at.variety.yieldIndex }]
  })
}

/** Cents a ton against what the usual grade brought on the farm: the price itself is nobody's merit. */
export function gradesPaid(reckoning: Reckoning): FieldRatio[] {
  const { context } = reckoning
  return reckoning.blocks.flatMap(({ field, variety, at }) => {
    const harvest = harvestOf(reckoning, field, variety)
    if (harvest === null || harvest.pricedTons <= 0) return []
    const expected = dollarsPerTon(context.book, context.price, at.variety) * 100
    if (expected <= 0) return []
    return [{ field, variety, ratio: harvest.cents / harvest.pricedTons / expected, index: at.variety.gradeIndex }]
  })
}
