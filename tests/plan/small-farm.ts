/**
 * Small farms with every rule there is, made from a seed; small enough to try every plan. A field that may be split has blocks of
 * half of it at least, and no ground may be left out then: so all its shares are whole, half and none, and can be tried.
 */
import { readPlanProblem, type PlanProblem } from '../../src-shared/plan-problem.ts'
import { randomFrom } from './random.ts'

export function smallFarm(seed: number): PlanProblem {
  const random = randomFrom(seed)
  const fields = Array.from({ length: random.whole(1, 4) }, (_, f) => ({ id: `F${f}`, acres: random.whole(5, 60) }))
  const varieties = Array.from({ length: random.whole(1, 3) }, (_, v) => ({
    id: `V${v}`,
    oilType: random.pick(['high oleic', 'normal']),
  }))
  const windows = random.chance(0.4) ? ['Early', 'Usual'] : ['Usual']
  const options = fields.flatMap((field) =>
    varieties.flatMap((variety) =>
      windows.flatMap((window) =>
        Array.from({ length: random.whole(1, 2) }, (_, programme) => ({
          field: field.id,
          variety: variety.id,
          window,
          programme: programme === 0 ? [] : ['spray'],
          cashCents: random.whole(0, 9000),
          lossCents: random.whole(0, 12_000),
          giveUpCents: random.whole(0, 3000),
          poundsPerAcre: random.whole(90, 160),
          planterHours: random.whole(1, 5) / 20,
          diggerHours: random.whole(1, 5) / 20,
          digWeek: window,
        })),
      ),
    ),
  )
  const dealers = Array.from({ length: random.whole(1, 2) }, (_, d) => ({
    id: `D${d}`,
    orderFeeCents: random.chance(0.5) ? random.whole(1, 300) * 100 : 0,
    leastPounds: random.chance(0.3) ? random.whole(5, 30) * 100 : 0,
    breaks: random.chance(0.3)
      ? [{ fromPounds: random.whole(30, 80) * 100, offCentsPerPound: random.whole(1, 6) }]
      : [],
  }))
  const quotes = varieties.flatMap((variety) =>
    dealers.flatMap((dealer) =>
      random.chance(varieties.length === 3 ? 0.6 : 0.9)
        ? [
            {
              id: `${dealer.id} ${variety.id}`,
              dealer: dealer.id,
              variety: variety.id,
              packPounds: random.pick([1000, 1500, 2000]),
              packPriceCents: random.whole(800, 2200) * 100,
              availablePacks: random.chance(0.4) ? random.whole(0, 12) : undefined,
              leastPacks: random.chance(0.2) ? random.whole(1, 4) : 0,
              breaks: [] as { fromPacks: number; packPriceCents: number }[],
            },
          ]
        : [],
    ),
  )
  for (const quote of quotes) {
    if (!random.chance(0.4)) continue
    const packPriceCents = Math.round(quote.packPriceCents * (random.chance(0.15) ? 1.05 : 0.9))
    quote.breaks.push({ fromPacks: random.whole(2, 6), packPriceCents })
  }
  const total = fields.reduce((sum, field) => sum + field.acres, 0)
  const someField = random.pick(fields).id
  const someVariety = random.pick(varieties).id
  const rules = {
    riskWeight: random.pick([0, 0.5, 1, 2]),
    reserve: random.pick([0, 0.03, 0.1]),
    largestShare: random.chance(0.3) ? [{ share: random.pick([0.4, 0.6, 0.8]) }] : [],
    fewestVarieties: random.chance(0.2) ? random.whole(1, varieties.length) : undefined,
    mostVarieties: random.chance(0.2) ? random.whole(1, varieties.length) : undefined,
    mostDealers: random.chance(0.2) ? 1 : undefined,
    budgetCents: random.chance(0.2) ? random.whole(100, 1500) * total * 10 : undefined,
    contracts: random.chance(0.2) ? [{ oilType: 'high oleic', acres: random.whole(1, total) }] : [],
    planterHours: random.chance(0.3) ? [{ in: 'Usual', hours: random.whole(2, 30) }] : [],
    diggerHours: random.chance(0.2) ? [{ in: 'Usual', hours: random.whole(2, 30) }] : [],
    leaveOutCents: random.chance(0.3) ? random.whole(100, 400) * 100 : undefined,
    stayPut: random.chance(0.25)
      ? {
          plan: fields.map((field) => ({ field: field.id, variety: random.pick(varieties).id })),
          centsPerMove: random.whole(0, 800) * 100,
        }
      : undefined,
    locks: random.chance(0.2) ? [{ field: someField, variety: someVariety }] : [],
    exclusions: random.chance(0.2) ? [{ field: random.pick(fields).id, variety: random.pick(varieties).id }] : [],
  }
  const carried = random.chance(0.3)
    ? [{ variety: someVariety, pounds: random.whole(1, 30) * 100, mustUse: random.chance(0.3) }]
    : []
  const lossLimitCents = random.chance(0.2) ? random.whole(10, 80) * total * 100 : undefined
  const planted = random.chance(0.15)
    ? [random.pick([{ field: someField }, { variety: someVariety }, { field: someField, variety: someVariety }])]
    : undefined
  // What came later is drawn last, so that all seeds keep the farms that they had.
  const hasCombine = random.chance(0.25)
  const combined = options.map((option) => ({
    ...option,
    combineHours: hasCombine ? random.whole(1, 5) / 20 : 0,
    combineWeek: option.digWeek,
  }))
  const combineHours = hasCombine ? [{ in: 'Usual', hours: random.whole(2, 40) }] : []
  const mayDeliver = dealers.map((dealer) => ({
    ...dealer,
    mostPounds: random.chance(0.2) ? Math.max(dealer.leastPounds, random.whole(10, 120) * 100) : undefined,
  }))
  const lockedWindow = random.chance(0.5) ? random.pick(windows) : undefined
  const locks = rules.locks.map((lock) => ({ ...lock, window: lockedWindow }))
  const isSplit = random.chance(0.35) && rules.leaveOutCents === undefined
  const splitField = random.pick(fields).id
  const mostVarieties = random.chance(0.3) ? random.whole(1, 2) : undefined
  const mayBeSplit = fields.map((field) =>
    isSplit && field.id === splitField
      ? { ...field, split: { leastBlockAcres: field.acres / 2, mostVarieties } }
      : field,
  )
  const withWorth = mayBeSplit.map((field) => {
    const couldCents = random.whole(600, 1500) * 100
    const otherCents = random.whole(0, 200) * 100
    const leaveOutCents = random.chance(0.5) ? couldCents - otherCents : undefined
    return { ...field, couldCents, otherCents, leaveOutCents }
  })
  const problem = readPlanProblem(
    JSON.parse(
      JSON.stringify({
        format: 'standwell-problem',
        version: 1,
        fields: withWorth,
        varieties,
        options: combined,
        dealers: mayDeliver,
        quotes,
        carried,
        rules: { ...rules, lossLimitCents, planted, locks, combineHours },
      }),
    ),
    `farm ${seed}`,
  )
  if (!problem.ok) throw new Error(JSON.stringify(problem.problems))
  return problem.value
}
