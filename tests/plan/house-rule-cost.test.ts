/** A rule that forbids options costs what every plan of the season without it saves. */
import { expect, it } from 'vitest'
import { houseRuleCosts } from '../../src-main/engine/plan/house-rule-cost.ts'
import { priceSeason } from '../../src-main/engine/plan/price.ts'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import type { Season } from '../../src-shared/season.ts'
import { aSeason } from '../support/a-season.ts'
import { leastCost } from './brute-force.ts'

function problemOf(season: Season) {
  const priced = priceSeason(season)
  if (!priced.ok) throw new Error(JSON.stringify(priced.problems))
  return priced.value.problem
}

it('a largest loss that forbids the cheap variety, and one that forbids nothing', { timeout: 300_000 }, async () => {
  const plain = aSeason()
  // The variety rated 6 is far cheaper, and loses more than the one rated 3 on the field with leaf spot.
  plain.quotes = plain.quotes.map((quote) => ({ ...quote, packPounds: 1000, packPriceCents: 90_000 }))
  plain.quotes = plain.quotes.map((quote) => (quote.variety === 'Small' ? { ...quote, packPriceCents: 10_000 } : quote))
  const losses = problemOf(plain).options.filter((option) => option.field === 'Creek')
  const loss = (variety: string) => losses.find((option) => option.variety === variety)?.lossCents ?? Number.NaN
  expect(loss('Big')).toBeLessThan(loss('Small'))
  const yieldCents = losses.length > 0 ? 5000 * ((priceOf(plain) * 100) / 2000) : 0
  const between = (loss('Big') + loss('Small')) / 2 / yieldCents
  const season: Season = {
    ...plain,
    rules: [
      { rule: 'largest-loss', subject: 'late leaf spot', amount: between, isOn: true },
      { rule: 'nematode-threshold', amount: 10, isOn: true },
    ],
  }
  const [withRule, withoutRule] = [leastCost(problemOf(season)) ?? 0, leastCost(problemOf(plain)) ?? 0]
  expect(withRule).toBeGreaterThan(withoutRule + 1000)

  const solver = new Solver()
  const options = { gap: 0, seconds: 30, wholeCents: false }
  const solved = await solveProblem(problemOf(season), options, solver)
  if (!solved.ok || solved.value.plan === null) throw new Error(JSON.stringify(solved))
  const costs = []
  for await (const found of houseRuleCosts(season, { ...solved.value, plan: solved.value.plan }, options, solver)) {
    if (!found.ok) throw new Error(JSON.stringify(found.problems))
    costs.push(found.value)
  }
  await solver.close()
  expect(costs.map((each) => [each.rule, each.cost.kind])).toEqual([
    ['largest-loss/late leaf spot', 'refined'],
    ['nematode-threshold', 'no-difference'],
  ])
  expect(Math.abs((costs[0]?.cost.cents ?? 0) - (withRule - withoutRule))).toBeLessThan(0.5)
})

/** [$/ton] as the starter book has it. */
function priceOf(season: Season): number {
  return Number(season.assumptions.find((row) => row.key === 'price/peanuts')?.value ?? 500)
}
