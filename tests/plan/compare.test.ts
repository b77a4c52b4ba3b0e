/** Comparing two plans: nothing for the same plan, and for two plans exactly what differs, adding up to the totals. */
import { expect, it } from 'vitest'
import { compare } from '../../src-main/engine/plan/compare.ts'
import { priceSeason } from '../../src-main/engine/plan/price.ts'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import type { Plan } from '../../src-shared/plan.ts'
import type { Season } from '../../src-shared/season.ts'
import { demoFarm } from '../shared/demo-farm.ts'

async function planOf(season: Season, solver: Solver): Promise<Plan> {
  const priced = priceSeason(season)
  if (!priced.ok) throw new Error(JSON.stringify(priced.problems))
  const solved = await solveProblem(priced.value.problem, { gap: 0.01, seconds: 30, wholeCents: true }, solver)
  if (!solved.ok || solved.value.plan === null) throw new Error(JSON.stringify(solved))
  return solved.value.plan
}

it('identical plans differ in nothing; others in what they have', { timeout: 300_000 }, async () => {
  const solver = new Solver()
  const season = demoFarm()
  const risky = {
    ...season,
    rules: season.rules.map((rule) => (rule.rule === 'risk-weight' ? { ...rule, amount: 4 } : rule)),
  }
  const a = { plan: await planOf(season, solver), input: season }
  const b = { plan: await planOf(risky, solver), input: risky }
  await solver.close()

  const same = compare(a, structuredClone(a))
  expect(same).toEqual({
    fields: [],
    quotes: [],
    dealers: [],
    totals: [],
    rules: [],
    says: 'The two plans put the same on every field for the same money.',
  })

  const { fields, quotes, dealers, totals, rules, says } = compare(a, b)
  const difference = (key: 'lossCents' | 'measureCents' | 'packs' | 'cashCents') =>
    b.plan.totals[key] - a.plan.totals[key]
  expect(fields.length).toBeGreaterThan(0)
  expect(fields.reduce((sum, field) => sum + field.lossCents, 0)).toBe(difference('lossCents'))
  expect(fields.reduce((sum, field) => sum + field.cashCents, 0)).toBe(difference('measureCents'))
  expect(quotes.reduce((sum, quote) => sum + quote.bPacks - quote.aPacks, 0)).toBe(difference('packs'))
  const seed = b.plan.totals.seedCents - a.plan.totals.seedCents
  expect(dealers.reduce((sum, dealer) => sum + dealer.bCents - dealer.aCents, 0)).toBe(seed)
  expect(totals.find((total) => total.key === 'cashCents')).toEqual({
    key: 'cashCents',
    a: a.plan.totals.cashCents,
    b: b.plan.totals.cashCents,
  })
  expect(rules).toEqual(['Amount of “A dollar of expected loss counts as … dollars of cash” was 1, now 4.'])
  // Four times the weight on loss buys safety with cash.
  expect(says).toMatch(
    /^The second plan has \$[\d,]+ more cash and \$[\d,]+ less expected loss; \d+ fields? changes?\.$/,
  )
  // Another variety for the same money is a change all the same.
  const renamed = structuredClone(a)
  renamed.plan.blocks.slice(0, 1).forEach((block) => (block.variety = 'Another'))
  expect(compare(a, renamed).says).toBe('The second plan has the same cash and expected loss; 1 field changes.')
  // The other way round, the same with the sign turned.
  const back = compare(b, a)
  expect(back.fields.map((field) => -field.lossCents)).toEqual(fields.map((field) => field.lossCents))
})
