/** Whatever a plan buys, its orders add up to its cash for seed: random purchases, and plans that were really solved. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { solvePlan } from '../../src-main/engine/plan/solve-plan.ts'
import { sumsOf } from '../../src-shared/order.ts'
import { ordersOfPlan } from '../../src-shared/orders-of-plan.ts'
import type { Plan } from '../../src-shared/plan.ts'
import { quoteTitle } from '../../src-shared/quote.ts'
import type { Season } from '../../src-shared/season.ts'
import { demoFarm } from '../shared/demo-farm.ts'

test('any plan of the demo adds up to its cash for seed, whatever packs of whatever quote it buys', () => {
  const demo = demoFarm()
  const choice = fc
    .subarray(demo.quotes, { minLength: 1 })
    .chain((quotes) =>
      fc.tuple(
        fc.constant(quotes),
        fc.array(fc.integer({ min: 1, max: 3000 }), { minLength: quotes.length, maxLength: quotes.length }),
      ),
    )
  fc.assert(
    fc.property(choice, ([quotes, counts]) => {
      // Priced here in another way than the engine does: the lowest price among those reached, break by break.
      const purchases = quotes.map((quote, at) => {
        const packs = counts[at] as number
        let price = quote.packPriceCents
        let fromPacks = 0
        for (const each of quote.breaks) {
          if (packs >= each.fromPacks && each.fromPacks > fromPacks)
            [price, fromPacks] = [each.packPriceCents, each.fromPacks]
        }
        return {
          quote: quoteTitle(quote),
          dealer: quote.dealer,
          variety: quote.variety,
          packs,
          packPounds: quote.packPounds,
          packPriceCents: price,
          fromPacks,
          pounds: packs * quote.packPounds,
          cents: packs * price,
        }
      })
      let expected = 0
      for (const { name, breaks, orderFeeCents } of demo.dealers) {
        const own = purchases.filter(({ dealer }) => dealer === name)
        if (own.length === 0) continue
        let pounds = 0
        for (const line of own) {
          pounds += line.pounds
          expected += line.cents
        }
        let off = 0
        for (const each of breaks) if (pounds >= each.fromPounds) off = Math.max(off, each.offCentsPerPound)
        expected += orderFeeCents - Math.round(off * pounds)
      }
      const orders = ordersOfPlan({ purchases }, demo)
      expect(orders.reduce((sum, order) => sum + sumsOf(order).cents, 0)).toBe(expected)
      for (const order of orders)
        for (const line of order.lines) expect(Number.isInteger(line.packs * line.packPriceCents)).toBe(true)
    }),
    { numRuns: 300 },
  )
})

test(
  'three proven plans of the demo, each under other rules, become orders to the cent',
  { timeout: 300_000 },
  async () => {
    const demo = demoFarm()
    const without = (...kinds: string[]) =>
      demo.rules.map((rule) => (kinds.includes(rule.rule) ? { ...rule, isOn: false } : rule))
    const seasons: Season[] = [
      demo,
      { ...demo, rules: without('contract', 'largest-share') },
      {
        ...demo,
        quotes: demo.quotes.filter(({ variety }) => variety !== 'Dovetail'),
        rules: without('fewest-varieties', 'contract'),
      },
    ]
    for (const each of seasons) {
      const solved = await solvePlan(each, { gap: 0.02, seconds: 30 })
      if (!solved.ok) throw new Error(JSON.stringify(solved.problems))
      const plan = solved.value.plan as Plan
      const orders = ordersOfPlan(plan, each)
      expect(orders.reduce((sum, order) => sum + sumsOf(order).cents, 0)).toBe(plan.totals.seedCents)
    }
  },
)
