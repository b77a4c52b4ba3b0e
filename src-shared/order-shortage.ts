/** What refused or cut seed means in acres: the plan's need of each variety against the seed that can still be had. Pure. */
import { isShort, standing, type OrderSheet, type Shortage } from './order.ts'
import type { Plan } from './plan.ts'

/** [lb] below this it is the arithmetic's, not the farm's. */
const dust = 1e-6

/**
 * Varieties of which a dealer refused or cut a line, where seed on hand and all else on order do not make it up. The
 * reserve counts as needed. A variety whose packs rounded up to more than it needs may be short of nothing.
 */
export function shortagesOf(plan: Plan, orders: readonly OrderSheet[]): Shortage[] {
  const lines = orders.flatMap((order) => order.lines)
  const cut = new Set(lines.filter(isShort).map(({ variety }) => variety))
  return plan.seed.flatMap(({ variety, acres, neededPounds, reservePounds, carriedPounds }) => {
    if (!cut.has(variety)) return []
    const coming = lines.reduce(
      (sum, line) => sum + (line.variety === variety ? standing(line).packs * line.packPounds : 0),
      0,
    )
    const needed = neededPounds + reservePounds
    const pounds = needed - carriedPounds - coming
    if (pounds <= dust) return []
    const fields = plan.blocks.filter((block) => block.variety === variety).map(({ field }) => field)
    return [{ variety, acres: acres * Math.min(1, pounds / needed), pounds, fields: [...new Set(fields)] }]
  })
}
