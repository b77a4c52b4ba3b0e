/**
 * The digging queue against every way of digging: fields of a few acres, whole acres by week, so that the least cost of a
 * queue (a flow, whose best is whole) can be found by trying all. And what no queue may do: cost more with more hours.
 */
import { describe, expect, it, onTestFinished } from 'vitest'
import { solveProblem } from '../../src-main/engine/plan/solve-problem.ts'
import { Solver } from '../../src-main/engine/plan/solver.ts'
import { readPlanProblem, type PlanProblem } from '../../src-shared/plan-problem.ts'
import { sampled } from '../support/sampled.ts'
import { randomFrom } from './random.ts'

const weeks = ['w1', 'w2', 'w3']

function queueFarm(seed: number): PlanProblem {
  const random = randomFrom(seed)
  const fields = Array.from({ length: random.whole(1, 3) }, (_, f) => ({ id: `F${f}`, acres: random.whole(1, 3) }))
  const varieties = [{ id: 'V0' }, { id: 'V1' }]
  const planted = ['p1', 'p2']
  const ripeOf = (variety: string, week: string) => `${variety} of ${week}`
  const options = fields.flatMap((field) =>
    varieties.flatMap(({ id: variety }) =>
      planted.map((week) => ({
        field: field.id,
        variety,
        window: 'Usual',
        week,
        cashCents: random.whole(0, 4000),
        poundsPerAcre: 100,
        planterHours: 1,
        diggerHours: 1,
        combineHours: 1,
        ripe: ripeOf(variety, week),
        cropCents: random.whole(300, 900) * 100,
        cropLb: 3000,
      })),
    ),
  )
  const digging = varieties.flatMap(({ id }) =>
    planted.map((week) => ({
      ripe: ripeOf(id, week),
      weeks: weeks.map((each) => ({
        week: each,
        lost: random.whole(0, 30) / 100,
        combined: [{ week: each, share: 1 }],
      })),
    })),
  )
  const total = fields.reduce((sum, { acres }) => sum + acres, 0)
  const limits = (of: readonly string[], most: number) => of.map((week) => ({ in: week, hours: random.whole(0, most) }))
  const read = readPlanProblem(
    JSON.parse(
      JSON.stringify({
        format: 'standwell-problem',
        version: 1,
        fields,
        varieties,
        options,
        dealers: [{ id: 'D' }],
        quotes: varieties.map(({ id }) => ({
          id: `D ${id}`,
          dealer: 'D',
          variety: id,
          packPriceCents: random.whole(80, 120),
        })),
        digging,
        rules: {
          diggerHours: limits(weeks, total),
          combineHours: random.chance(0.5) ? limits(weeks, total) : [],
          planterHours: random.chance(0.5) ? limits(planted, total) : [],
        },
      }),
    ),
    `queue ${seed}`,
  )
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  return read.value
}

/** Every way to put whole acres into so many places. */
function spreads(acres: number, places: number): number[][] {
  if (places === 1) return [[acres]]
  return Array.from({ length: acres + 1 }, (_, first) => first).flatMap((first) =>
    spreads(acres - first, places - 1).map((rest) => [first, ...rest]),
  )
}

/** [cent] of the cheapest way, or null where none keeps to the hours. */
function leastByTrying(problem: PlanProblem): number | null {
  const { rules } = problem
  const hoursLeft = (limits: readonly { in: string; hours: number }[]) =>
    new Map(limits.map((limit) => [limit.in, limit.hours]))
  const left = {
    planter: hoursLeft(rules.planterHours),
    digger: hoursLeft(rules.diggerHours),
    combine: hoursLeft(rules.combineHours),
  }
  const price = new Map(problem.quotes.map((quote) => [quote.variety, quote.packPriceCents]))
  let best: number | null = null
  const visit = (at: number, cost: number): void => {
    if (best !== null && cost >= best) return
    const field = problem.fields[at]
    if (field === undefined) {
      best = cost
      return
    }
    for (const { id: variety } of problem.varieties) {
      const own = problem.options.filter((option) => option.field === field.id && option.variety === variety)
      const places = own.flatMap((option) => weeks.map((week) => ({ option, week })))
      for (const spread of spreads(field.acres, places.length)) {
        const used: [Map<string, number>, string, number][] = []
        let more = 0
        places.forEach(({ option, week }, place) => {
          const acres = spread[place] as number
          if (acres === 0) return
          const lost = problem.digging
            .find(({ ripe }) => ripe === option.ripe)!
            .weeks.find((each) => each.week === week)!.lost
          more += acres * (option.cashCents + lost * option.cropCents + 100 * price.get(variety)!)
          used.push([left.planter, option.week, acres], [left.digger, week, acres], [left.combine, week, acres])
        })
        for (const [hours, key, acres] of used) if (hours.has(key)) hours.set(key, hours.get(key)! - acres)
        const fits = [left.planter, left.digger, left.combine].every((hours) =>
          [...hours.values()].every((each) => each >= 0),
        )
        if (fits) visit(at + 1, cost + more)
        for (const [hours, key, acres] of used) if (hours.has(key)) hours.set(key, hours.get(key)! + acres)
      }
    }
  }
  visit(0, 0)
  return best
}

const seeds = sampled(
  'queues',
  Array.from({ length: 240 }, (_, seed) => seed + 1),
  60,
)

describe('small queues', () => {
  it('cost what the best of all ways costs', { timeout: 240_000 }, async () => {
    const solver = new Solver()
    onTestFinished(() => solver.close())
    let planned = 0
    for (const seed of seeds) {
      const problem = queueFarm(seed)
      const least = leastByTrying(problem)
      const solved = await solveProblem(problem, { gap: 0, seconds: 60, wholeCents: false }, solver)
      if (!solved.ok) throw new Error(`seed ${seed}: ${JSON.stringify(solved.problems)}`)
      const { plan, proof } = solved.value
      if (least === null) {
        expect(plan, `seed ${seed}`).toBeNull()
        continue
      }
      planned++
      expect(plan, `seed ${seed}`).not.toBeNull()
      const cost = plan!.totals.costCents
      const lost = plan!.blocks
        .flatMap(({ planted }) => planted!.flatMap(({ dug }) => dug))
        .reduce((sum, { cents }) => sum + cents, 0)
      // A line counts its crop to three hundredths.
      expect(cost, `seed ${seed}`).toBeGreaterThan(least - 1)
      expect(cost, `seed ${seed}`).toBeLessThan(least + 0.031 * lost + 1)
      expect(proof.boundCents!, `seed ${seed}`).toBeLessThan(least + 1)
    }
    expect(planned).toBeGreaterThan(seeds.length / 4)
  })

  it('never cost more with more hours', { timeout: 240_000 }, async () => {
    const solver = new Solver()
    onTestFinished(() => solver.close())
    let compared = 0
    for (const seed of seeds.slice(0, 40)) {
      const problem = queueFarm(seed)
      const random = randomFrom(seed + 10_000)
      const longer = (limits: PlanProblem['rules']['diggerHours']) =>
        limits.map((limit) => ({ ...limit, hours: limit.hours + random.whole(0, 3) }))
      const { diggerHours, combineHours, planterHours } = problem.rules
      const more: PlanProblem = {
        ...problem,
        rules: {
          ...problem.rules,
          diggerHours: longer(diggerHours),
          combineHours: longer(combineHours),
          planterHours: longer(planterHours),
        },
      }
      const cost = async (of: PlanProblem) => {
        const solved = await solveProblem(of, { gap: 0, seconds: 60, wholeCents: false }, solver)
        if (!solved.ok) throw new Error(JSON.stringify(solved.problems))
        return solved.value.plan?.totals.costCents ?? Infinity
      }
      const [before, after] = [await cost(problem), await cost(more)]
      if (before === Infinity) continue
      compared++
      expect(after, `seed ${seed}`).toBeLessThan(before * 1.002 + 1)
    }
    expect(compared).toBeGreaterThan(5)
  })
})
