/** What a planned block leaves: the crop its ground could bring, less everything the plan counts. Pure. */
import type { Plan, PlanBlock } from './plan.ts'

/** [cent] by variety: its lines of the orders, each with its share of its dealer's break and fee. */
export function seedCentsByVariety({ purchases, orders }: Pick<Plan, 'purchases' | 'orders'>): Map<string, number> {
  const cents = new Map<string, number>()
  for (const order of orders) {
    const lines = purchases.filter(({ dealer }) => dealer === order.dealer)
    const plain = lines.reduce((sum, line) => sum + line.cents, 0)
    for (const line of lines) {
      const share = plain > 0 ? line.cents / plain : 1 / lines.length
      cents.set(line.variety, (cents.get(line.variety) ?? 0) + share * order.cents)
    }
  }
  return cents
}

/** Margins of a plan's blocks, in their order; null throughout where the plan is older than the crop's count. */
export function marginsOf(plan: Plan): (number | null)[] {
  const seed = seedCentsByVariety(plan)
  const pounds = new Map<string, number>()
  for (const block of plan.blocks) pounds.set(block.variety, (pounds.get(block.variety) ?? 0) + block.pounds)
  const all = [...pounds.values()].reduce((sum, each) => sum + each, 0)
  // Seed that no block has, as packs bought to reach a break, is shared by all.
  const spare = [...seed].reduce((sum, [variety, cents]) => (pounds.has(variety) ? sum : sum + cents), 0)
  return plan.blocks.map((block) => {
    if (block.couldCents === undefined) return null
    const share = block.pounds / Math.max(pounds.get(block.variety) ?? 0, Number.MIN_VALUE)
    const ofSpare = spare === 0 ? 0 : (spare * block.pounds) / Math.max(all, Number.MIN_VALUE)
    return block.couldCents - costsOf(block) - (seed.get(block.variety) ?? 0) * share - ofSpare
  })
}

/** [cent/acre] by field, its blocks together; null where the plan is older than the crop's count. */
export function marginPerAcre(plan: Plan): ReadonlyMap<string, number> | null {
  const margins = marginsOf(plan)
  if (margins.some((margin) => margin === null)) return null
  const sums = new Map<string, { cents: number; acres: number }>()
  plan.blocks.forEach(({ field, acres }, at) => {
    const sum = sums.get(field) ?? { cents: 0, acres: 0 }
    sums.set(field, { cents: sum.cents + (margins[at] ?? 0), acres: sum.acres + acres })
  })
  return new Map([...sums].map(([field, { cents, acres }]) => [field, cents / acres]))
}

/** [cent] all that a block counts but its seed. */
function costsOf({ cashCents, lossCents, vineCents, giveUpCents }: PlanBlock): number {
  return cashCents + lossCents + vineCents + giveUpCents
}
