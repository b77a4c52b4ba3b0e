/** Bags in a plan, where packs are of several sizes: bulk is counted as the bags its weight would fill. */
import type { Plan, PlanBlock, SeedBalance } from '../../../src-shared/plan.ts'

/** [lb] what a bag is where nothing was bought. */
const usual = 50

/** [lb] the smallest pack of the plan. */
export function bagPounds(plan: Plan): number {
  const sizes = plan.purchases.map((line) => line.packPounds)
  return sizes.length > 0 ? Math.min(...sizes) : usual
}

/** [bag] that a block needs with its share of the reserve; not rounded. */
export function bagsOf(block: PlanBlock, plan: Plan): number {
  const seed = plan.seed.find((each) => each.variety === block.variety)
  return (block.pounds * (1 + reserveShare(seed))) / bagPounds(plan)
}

/** [share] of reserve over what the rates call for. */
function reserveShare(seed: SeedBalance | undefined): number {
  return seed && seed.neededPounds > 0 ? seed.reservePounds / seed.neededPounds : 0
}

/** [cent/lb] paid for a variety's seed on the average, after breaks and before fees; null where none is bought. */
export function seedPrice(plan: Plan, variety: string): number | null {
  const lines = plan.purchases.filter((line) => line.variety === variety)
  const pounds = lines.reduce((sum, line) => sum + line.pounds, 0)
  return pounds > 0 ? lines.reduce((sum, line) => sum + line.cents, 0) / pounds : null
}
