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
