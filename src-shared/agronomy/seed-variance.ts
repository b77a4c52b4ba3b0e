/**
 * Why seed cost what it did and not what was planned, variety by variety, to the cent:
 *   price (AP − SP) × bought · rate (planted − acres × planned rate) × SP · acreage and mix, the acres themselves ·
 *   left (more left than was planned) × SP · returned × SP less the credit.
 * Bought = planted + left + returned, so the parts add up to paid − credit − planned by identity. Pure.
 */

export interface SeedPlanned {
  acres: number
  /** [lb/acre] */
  poundsPerAcre: number
  /** [cent/lb] > 0 */
  centsPerPound: number
  /** [lb] that the plan leaves over: the reserve, whole packs. */
  leftPounds: number
}

export interface SeedActual {
  acres: number
  /** [lb] */
  plantedPounds: number
  leftPounds: number
  returnedPounds: number
  /** [cent] for all that was bought, and given back for what was returned. */
  paidCents: number
  creditCents: number
}

export interface SeedOf {
  variety: string
  /** Absent: the variety was not in the plan; then it is measured by itself and all of it is mix. */
  planned?: SeedPlanned
  actual: SeedActual
}

export const varianceParts = ['price', 'rate', 'acreage', 'mix', 'left', 'returned'] as const
export type VariancePart = (typeof varianceParts)[number]

export interface SeedVariance {
  variety: string
  /** [cent] above 0: dearer than planned. */
  parts: Record<VariancePart, number>
  plannedCents: number
  /** [cent] paid less credit. */
  actualCents: number
}

/** @returns whole cents; the parts of each variety add up to its actual less its planned */
export function seedVariances(all: readonly SeedOf[]): SeedVariance[] {
  const standards = all.map((each) => standardOf(each))
  const plannedAcres = sum(standards.map(({ acres }) => acres))
  const actualAcres = sum(all.map(({ actual }) => actual.acres))
  return all.map(({ variety, actual }, at) => {
    const planned = standards[at] as SeedPlanned
    const { centsPerPound: price, poundsPerAcre: rate } = planned
    const bought = actual.plantedPounds + actual.leftPounds + actual.returnedPounds
    // As many acres of it as the plan's share of those that there were.
    const inMix = plannedAcres > 0 ? (actualAcres * planned.acres) / plannedAcres : 0
    const parts: Record<VariancePart, number> = {
      price: actual.paidCents - price * bought,
      rate: price * (actual.plantedPounds - actual.acres * rate),
      acreage: (inMix - planned.acres) * rate * price,
      mix: (actual.acres - inMix) * rate * price,
      left: price * (actual.leftPounds - planned.leftPounds),
      returned: price * actual.returnedPounds - actual.creditCents,
    }
    const plannedCents = Math.round(price * (planned.acres * rate + planned.leftPounds))
    const actualCents = Math.round(actual.paidCents - actual.creditCents)
    return { variety, parts: inWholeCents(parts, actualCents - plannedCents), plannedCents, actualCents }
  })
}

/** [lb] Less than a seed: a price of it would mean nothing. */
const NO_SEED = 1e-4

/** What was not planned is held to its own rate and price, so that only its being there counts. */
function standardOf({ planned, actual }: SeedOf): SeedPlanned {
  if (planned !== undefined) return planned
  const bought = actual.plantedPounds + actual.leftPounds + actual.returnedPounds
  return {
    acres: 0,
    poundsPerAcre: actual.acres > 0 ? actual.plantedPounds / actual.acres : 0,
    centsPerPound: bought > NO_SEED ? actual.paidCents / bought : 0,
    leftPounds: 0,
  }
}

/** Rounded so that the whole stays what it is: the parts nearest to the next cent take what rounding leaves over. */
function inWholeCents(parts: Record<VariancePart, number>, whole: number): Record<VariancePart, number> {
  const down = varianceParts.map((part) => ({ part, cents: Math.floor(parts[part]), rest: parts[part] % 1 }))
  const rest = (value: number) => (value < 0 ? value + 1 : value)
  down.sort((a, b) => rest(b.rest) - rest(a.rest))
  const over = whole - sum(down.map(({ cents }) => cents))
  const rounded = down.map(({ part, cents }, at) => [part, cents + (at < over ? 1 : 0)] as const)
  return Object.fromEntries(rounded) as Record<VariancePart, number>
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}
