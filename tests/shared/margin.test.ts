/** Margins of a plan's blocks: with seed shared out by pounds they add up to the plan's own. */
import { expect, it } from 'vitest'
import { solvePlan } from '../../src-main/engine/plan/solve-plan.ts'
import { marginPerAcre, marginsOf, seedCentsByVariety } from '../../src-shared/margin.ts'
import { demoFarm } from './demo-farm.ts'

it('adds up to the margin of the plan, seed to the cent', async () => {
  const solved = await solvePlan(demoFarm(), { gap: 0.02, seconds: 60 })
  if (!solved.ok || solved.value.plan === null) throw new Error('no plan')
  const { plan } = solved.value
  const seed = [...seedCentsByVariety(plan).values()].reduce((sum, cents) => sum + cents, 0)
  expect(seed).toBeCloseTo(plan.totals.seedCents, 4)
  const margins = marginsOf(plan).reduce<number>((sum, cents) => sum + (cents ?? Number.NaN), 0)
  expect(margins).toBeCloseTo(plan.totals.marginCents ?? Number.NaN, 3)
  const byField = marginPerAcre(plan)!
  const acres = (name: string) => plan.blocks.reduce((sum, b) => (b.field === name ? sum + b.acres : sum), 0)
  const again = [...byField].reduce((sum, [name, cents]) => sum + cents * acres(name), 0)
  expect(again).toBeCloseTo(margins, 3)
  // Published budgets cover 900–950 $/ac of all costs (T32): what is left before land and overhead is of that order.
  const perAcre = margins / 100 / plan.totals.acres
  expect(perAcre).toBeGreaterThan(300)
  expect(perAcre).toBeLessThan(1500)
})

it('is not known of a plan that is older than the count of the crop', () => {
  const block = {
    field: 'F',
    variety: 'V',
    window: 'W',
    programme: [],
    acres: 1,
    poundsPerAcre: 1,
    pounds: 1,
    cashCents: 0,
    lossCents: 0,
    vineCents: 0,
    giveUpCents: 0,
  }
  const none = { leftOut: [], purchases: [], orders: [], seed: [] }
  expect(marginsOf({ ...none, blocks: [block], totals: {} as never })).toEqual([null])
  expect(marginPerAcre({ ...none, blocks: [block], totals: {} as never })).toBeNull()
})
