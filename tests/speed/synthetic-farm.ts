/**
 * Farms of four sizes made from a seed, with every rule on: what the benchmark plans. Numbers are of the size that
 * farms have; nothing is measured from any. The rules bind but leave room, as a manager's do.
 */
import { readPlanProblem, type PlanProblem } from '../../src-shared/plan-problem.ts'
import { randomFrom, type Random } from '../plan/random.ts'

export const sizes = {
  S: { fields: 12, varieties: 8, dealers: 3, farms: 1 },
  M: { fields: 60, varieties: 15, dealers: 5, farms: 1 },
  L: { fields: 300, varieties: 25, dealers: 8, farms: 1 },
  XL: { fields: 2000, varieties: 40, dealers: 12, farms: 40 },
} as const

export type Size = keyof typeof sizes

const windows = ['Early', 'Usual', 'Late']

export function syntheticFarm(size: Size, seed: number): PlanProblem {
  const { fields: fieldCount, varieties: varietyCount, dealers: dealerCount } = sizes[size]
  const random = randomFrom(seed * 1000 + fieldCount)
  const round = (value: number, step: number) => Math.round(value / step) * step
  const between = (low: number, high: number) => low + random.next() * (high - low)
  const pad = (index: number) => String(index).padStart(4, '0')

  const fields = Array.from({ length: fieldCount }, (_, f) => {
    const acres = round(between(20, 150), 0.5)
    return { id: `F${pad(f)}`, acres, split: acres > 110 ? { leastBlockAcres: 30, mostVarieties: 2 } : undefined }
  })
  const total = fields.reduce((sum, field) => sum + field.acres, 0)
  const varieties = Array.from({ length: varietyCount }, (_, v) => ({
    id: `V${pad(v)}`,
    oilType: v % 3 === 0 ? 'normal' : 'high oleic',
    seedsPerPound: between(560, 740),
    days: random.whole(130, 150),
    ratings: [random.whole(1, 9), random.whole(1, 9), random.whole(1, 9)],
    giveUp: random.next() ** 2 * 15_000,
    priceCents: round(between(85, 112), 0.5),
  }))
  const options = fields.flatMap((field) => {
    const pressure = [random.next(), random.next(), random.next()]
    const value = between(80_000, 140_000)
    const seedsPerAcre = random.chance(0.4) ? 94_380 : 87_120
    return varieties.flatMap((variety) =>
      windows.flatMap((window, w) => optionsOf(random, { field, variety, window, w, pressure, value, seedsPerAcre })),
    )
  })
  const dealers = Array.from({ length: dealerCount }, (_, d) => ({
    id: `D${pad(d)}`,
    orderFeeCents: random.whole(0, 6) * 5000,
    leastPounds: random.whole(0, 3) * 1000,
    breaks: random.chance(0.6)
      ? [
          { fromPounds: round((total * 130) / dealerCount / 2, 1000), offCentsPerPound: 1 },
          { fromPounds: round((total * 130) / dealerCount, 1000), offCentsPerPound: 2 },
        ]
      : [],
  }))
  const quotes = varieties.flatMap((variety) => {
    const sellers = dealers.filter(() => random.chance(0.4))
    if (sellers.length === 0) sellers.push(random.pick(dealers))
    return sellers.flatMap((dealer) => quotesOf(random, variety, dealer.id, total, varietyCount))
  })
  // What a field is locked to must be there to buy.
  const locked = quotes.find((quote) => quote.variety === varieties[1]?.id)
  if (locked !== undefined) locked.availablePacks = undefined
  // Twelve months' worth of machine time: enough by a third.
  const hoursFor = (perAcre: number, share: number) => round(total * perAcre * share, 1)
  const weeks = [...new Set(options.map((option) => option.digWeek))].sort()
  const raw = {
    format: 'standwell-problem',
    version: 1,
    name: `synthetic ${size} ${seed}`,
    fields,
    varieties: varieties.map(({ id, oilType }) => ({ id, oilType })),
    options,
    dealers,
    quotes,
    carried: [{ variety: varieties[0]?.id, pounds: round(total * 2, 50), mustUse: false }],
    rules: {
      riskWeight: 1,
      reserve: 0.03,
      largestShare: [{ share: 0.4 }],
      fewestVarieties: 3,
      mostVarieties: Math.max(4, Math.round(varietyCount / 2)),
      mostDealers: Math.max(2, dealerCount - 1),
      budgetCents: round(total * 26_000, 100),
      contracts: [{ oilType: 'high oleic', acres: round(total * 0.5, 1) }],
      planterHours: windows.map((window) => ({ in: window, hours: hoursFor(0.15, 0.45) })),
      diggerHours: weeks.map((week) => ({ in: week, hours: hoursFor(0.25, 0.4) })),
      combineHours: weeks.map((week) => ({ in: week, hours: hoursFor(0.3, 0.4) })),
      locks: [{ field: fields[0]?.id, variety: varieties[1]?.id }],
      exclusions: [
        { field: fields[1]?.id, variety: varieties[0]?.id },
        { variety: varieties[2]?.id, window: 'Early' },
      ],
    },
  }
  const problem = readPlanProblem(raw, raw.name)
  if (!problem.ok) throw new Error(JSON.stringify(problem.problems.slice(0, 3)))
  return problem.value
}

interface Place {
  field: { id: string; acres: number }
  variety: { id: string; seedsPerPound: number; days: number; ratings: number[]; giveUp: number }
  window: string
  w: number
  pressure: number[]
  value: number
  seedsPerAcre: number
}

/** Two or three programmes of one field, variety and window: dearer ones lose less. */
function optionsOf(random: Random, { field, variety, window, w, pressure, value, seedsPerAcre }: Place) {
  const share = pressure.reduce((sum, level, t) => sum + level * 0.02 * (variety.ratings[t] ?? 5), 0)
  const week = Math.floor((w * 18 + variety.days) / 7)
  const programmes: [cash: number, left: number][] = [
    [0, 1],
    [5200, 0.45],
    [11_200, 0.2],
  ]
  return programmes.map(([cashCents, left], programme) => ({
    field: field.id,
    variety: variety.id,
    window,
    programme: [`P${programme}`],
    cashCents: cashCents + random.whole(0, 300),
    lossCents: Math.round(share * left * value * (1 + 0.15 * Math.abs(w - 1))),
    vineCents: random.whole(500, 6000),
    giveUpCents: Math.round(variety.giveUp),
    poundsPerAcre: seedsPerAcre / variety.seedsPerPound,
    planterHours: 0.15,
    diggerHours: 0.25,
    combineHours: 0.3,
    digWeek: `week ${week}`,
    combineWeek: `week ${week + 1}`,
  }))
}

/** A usual quote with breaks, sometimes an early-order price with its own limit beside it. */
function quotesOf(
  random: Random,
  variety: { id: string; priceCents: number },
  dealer: string,
  total: number,
  varieties: number,
) {
  const packPounds = random.chance(0.7) ? 50 : 2000
  const price = Math.round(variety.priceCents * packPounds * (0.97 + random.next() * 0.08))
  const typical = Math.ceil((total * 130) / varieties / packPounds)
  const quote = {
    id: `${dealer} ${variety.id}`,
    dealer,
    variety: variety.id,
    packPounds,
    packPriceCents: price,
    availablePacks: random.chance(0.5) ? Math.max(1, Math.round(typical * (0.5 + random.next() * 3))) : undefined,
    leastPacks: 0,
    breaks: random.chance(0.6)
      ? [
          { fromPacks: Math.max(2, Math.round(typical * 0.5)), packPriceCents: Math.round(price * 0.98) },
          { fromPacks: Math.max(3, Math.round(typical * 1.2)), packPriceCents: Math.round(price * 0.96) },
        ]
      : [],
  }
  if (!random.chance(0.25)) return [quote]
  const early = {
    ...quote,
    id: `${quote.id} early`,
    packPriceCents: Math.round(price * 0.96),
    breaks: [],
    leastPacks: 2,
  }
  return [quote, { ...early, availablePacks: Math.max(3, Math.round(typical * 0.4)) }]
}
