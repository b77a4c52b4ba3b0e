/** The demo's money an acre beside published budgets: T32 (USDA forecast of 2024, North Carolina) and T6a (2013, 2025). */
import { expect, test } from 'vitest'
import { plantedCents } from '../../src-shared/agronomy/acre-money.ts'
import { POUNDS_PER_TON } from '../../src-shared/agronomy/price.ts'
import { seedPrices } from '../../src-shared/agronomy/seed-price.ts'
import { priceSeason } from '../../src-main/engine/plan/price.ts'
import { demoFarm } from '../shared/demo-farm.ts'

/** [$/acre] Operating and total cost, USDA forecast of 2024, at the five-year yield (T32, derived there). */
const [operating, total] = [662, 1177]
/** [$/acre] Total variable cost of 2024–26, from memory (T6a). */
const mostVariable = 950
/** [$/acre] What published budgets leave over all cost: −9 (T6a, 2025, without rent), 10 and 20 (T32, 2018). */
const [leastLeft, mostLeft] = [-9, 20]

const priced = priceSeason(demoFarm())
if (!priced.ok) throw new Error(JSON.stringify(priced.problems))
const { problem, context } = priced.value
const prices = seedPrices(context.season, context.reserve)

/** [$/acre] of the best option of a field at the least price of its seed. */
function bestOn(field: string): { operating: number; margin: number; yieldLb: number } {
  const could = problem.fields.find(({ id }) => id === field)?.couldCents ?? Number.NaN
  const all = problem.options
    .filter((option) => option.field === field)
    .map((option) => {
      const seed = (prices.get(option.variety)?.least ?? Number.NaN) * option.poundsPerAcre
      const { cashCents, lossCents, vineCents, giveUpCents, yieldLb = Number.NaN } = option
      const hauled = (yieldLb / POUNDS_PER_TON) * context.price.handling
      return {
        operating: (cashCents + seed + plantedCents(context)) / 100 + hauled,
        margin: (could - cashCents - lossCents - vineCents - giveUpCents - seed) / 100,
        yieldLb,
      }
    })
  return all.reduce((best, each) => (each.margin > best.margin ? each : best))
}

test.each(['East Pivot', 'North Pivot'])('%s: an irrigated pivot comes out near published budgets', (field) => {
  const best = bestOn(field)
  // A yield of 4,700 lb stands in a budget for irrigated ground (T32), 3,200 to 4,500 in one before (T6a).
  expect(best.yieldLb).toBeGreaterThan(4300)
  expect(best.yieldLb).toBeLessThan(5400)
  expect(best.operating).toBeGreaterThan(operating * 0.8)
  expect(best.operating).toBeLessThan(mostVariable)
  // Land and overhead are not in the margin: taken off, nothing like a fortune is left, nor a ruin.
  const over = best.margin - (total - operating)
  expect(over).toBeGreaterThan(leastLeft - 150)
  expect(over).toBeLessThan(mostLeft + 200)
})

test('dryland leaves less than irrigated ground, and most of it less than land and overhead cost', () => {
  const margins = (water: string) =>
    context.season.fields.filter((field) => field.water === water).map(({ name }) => bestOn(name).margin)
  const mean = (of: number[]) => of.reduce((sum, each) => sum + each, 0) / of.length
  // Budgets of the years show −118 over land and management even on irrigated ground (T32, 2013).
  expect(mean(margins('dryland'))).toBeLessThan(0.6 * mean(margins('irrigated')))
  expect(Math.min(...margins('dryland'))).toBeGreaterThan(0)
  expect(Math.max(...margins('dryland'))).toBeLessThan(total - operating)
})
