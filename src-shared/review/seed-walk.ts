/**
 * From the seed cost that was planned to the one that was paid, step by step, to the cent: the variances of each variety,
 * and beside them what belongs to no variety, order fees and bills without a lot.
 */
import { seedVariances, varianceParts, type SeedOf, type SeedVariance } from '../agronomy/seed-variance.ts'
import { compareNames } from '../name-order.ts'
import type { Plan } from '../plan.ts'
import type { Ground } from './ground.ts'
import type { ReviewInput } from './review-input.ts'
import type { Seed } from './seed-bills.ts'
import { shareCents } from './share-cents.ts'

export const walkSteps = [...varianceParts, 'fees', 'other bills'] as const
export type WalkStep = (typeof walkSteps)[number]

export interface PlannedSeed {
  /** [cent] of the variety, breaks on the dealer's total taken off, without fees. */
  cents: number
  /** [lb] bought and carried in. */
  pounds: number
  packs: number
}

export interface SeedWalk {
  varieties: (SeedVariance & { of: SeedOf })[]
  plannedCents: number
  paidCents: number
  steps: Record<WalkStep, number>
  /** False while seed is still to come or to be planted: then much of it stands as left. */
  isWhole: boolean
}

/** What the plan pays for each variety; the same cents as its total, less the fees. */
export function plannedSeed(plan: Plan): Map<string, PlannedSeed> {
  const seed = new Map<string, PlannedSeed>()
  const at = (variety: string) => seed.get(variety) ?? { cents: 0, pounds: 0, packs: 0 }
  for (const { variety, boughtPounds, carriedPounds } of plan.seed) {
    seed.set(variety, { ...at(variety), pounds: boughtPounds + carriedPounds })
  }
  for (const order of plan.orders) {
    const own = plan.purchases.filter(({ dealer }) => dealer === order.dealer)
    const off = shareCents(
      Math.round(order.cents) - Math.round(order.feeCents) - own.reduce((sum, { cents }) => sum + Math.round(cents), 0),
      own.map(({ pounds }) => pounds),
    )
    own.forEach(({ variety, cents, packs }, index) => {
      const was = at(variety)
      const sum = was.cents + Math.round(cents) + (off[index] as number)
      seed.set(variety, { ...was, cents: sum, packs: was.packs + packs })
    })
  }
  return seed
}

/** [cent] order fees of a plan, each rounded as it is paid. */
export function plannedFees(plan: Plan): number {
  return plan.orders.reduce((sum, { feeCents }) => sum + Math.round(feeCents), 0)
}

/** Null without a plan, or before any seed has come that a price is known of. */
export function seedWalk(record: ReviewInput, ground: Ground, seed: Seed): SeedWalk | null {
  const priced = seed.lots.flatMap((each) => (each.paidCents === null ? [] : [{ ...each, paidCents: each.paidCents }]))
  if (record.planned === null || priced.length === 0) return null
  const { plan } = record.planned
  const planned = plannedSeed(plan)
  const names = [...new Set([...planned.keys(), ...priced.map(({ lot }) => lot.variety)])].sort(compareNames)
  const ids = new Set(priced.map(({ lot }) => lot.id))
  const parts = ground.parts.filter(({ lotId }) => ids.has(lotId))
  const all = names.map((variety): SeedOf => {
    const own = priced.filter(({ lot }) => lot.variety === variety)
    const sum = (of: (each: (typeof own)[number]) => number) => own.reduce((total, each) => total + of(each), 0)
    const actual = {
      acres: parts.reduce((total, part) => (part.variety === variety ? total + part.acres : total), 0),
      plantedPounds: sum((each) => each.plantedPounds),
      leftPounds: sum((each) => each.leftPounds),
      returnedPounds: sum((each) => each.returnedPounds),
      paidCents: sum((each) => each.paidCents),
      creditCents: sum((each) => each.creditCents),
    }
    const bought = planned.get(variety)
    const balance = plan.seed.find((each) => each.variety === variety)
    if (bought === undefined || balance === undefined || bought.pounds <= 0) return { variety, actual }
    const { acres, neededPounds } = balance
    return {
      variety,
      planned: {
        acres,
        poundsPerAcre: acres > 0 ? neededPounds / acres : 0,
        centsPerPound: bought.cents / bought.pounds,
        leftPounds: bought.pounds - (acres > 0 ? neededPounds : 0),
      },
      actual,
    }
  })
  const found = seedVariances(all)
  const varieties = found.map((each, at) => ({ ...each, of: all[at] as SeedOf }))
  const total = (of: (each: SeedVariance) => number) => found.reduce((sum, each) => sum + of(each), 0)
  const fees = seed.feeCents - plannedFees(plan)
  const steps = Object.fromEntries(varianceParts.map((part) => [part, total((each) => each.parts[part])]))
  return {
    varieties,
    plannedCents: total((each) => each.plannedCents) + plannedFees(plan),
    paidCents: total((each) => each.actualCents) + seed.feeCents + seed.unplacedCents,
    steps: { ...steps, fees, 'other bills': seed.unplacedCents } as Record<WalkStep, number>,
    isWhole: record.plantings.length > 0 && record.plantings.every(({ isFinished }) => isFinished),
  }
}
