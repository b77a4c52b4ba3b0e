/** What must hold in any season: every table adds up to the same cents, nothing is lost in sharing, nothing is made up. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { varianceParts } from '../../../src-shared/agronomy/seed-variance.ts'
import { costParts } from '../../../src-shared/review/bill.ts'
import { views } from '../../../src-shared/review/money-rows.ts'
import { reckon, reviewOf } from '../../../src-shared/review/review.ts'
import { walkSteps } from '../../../src-shared/review/seed-walk.ts'
import { shareCents } from '../../../src-shared/review/share-cents.ts'
import { randomRecord } from '../../support/review-input.ts'

const seeds = fc.integer({ min: 1, max: 1_000_000 })
const total = (values: readonly number[]) => values.reduce((sum, each) => sum + each, 0)

describe('in any season', () => {
  it('the tables by field, variety, dealer and lot add up to the same, to the cent', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const record = randomRecord(seed)
        const { money } = reviewOf(reckon(record))
        for (const view of views) {
          const { rows, total: all } = money[view]
          for (const part of costParts) {
            expect(total(rows.map(({ costs }) => costs[part]))).toBe(all.costs[part])
            expect(all.costs[part]).toBe(money.field.total.costs[part])
            expect(Number.isInteger(all.costs[part])).toBe(true)
          }
          expect(total(rows.map(({ costCents }) => costCents))).toBe(money.field.total.costCents)
          expect(total(rows.map(({ valueCents }) => valueCents ?? 0))).toBe(money.field.total.valueCents ?? 0)
          expect(total(rows.map(({ acres }) => acres ?? 0))).toBeCloseTo(all.acres ?? 0, 6)
          expect(all.tons ?? 0).toBeCloseTo(total(record.loads.map(({ net }) => net.netPounds)) / 2000, 6)
        }
        expect(money.field.total.valueCents ?? 0).toBe(total(record.loads.map(({ valueCents }) => valueCents ?? 0)))
      }),
      { numRuns: 300 },
    )
  })

  it('the walk from planned to paid adds up, by step and by variety, and ends at what the tables charge for seed', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const record = randomRecord(seed)
        const review = reviewOf(reckon(record))
        if (review.seed === null) return
        const { varieties, plannedCents, paidCents, steps } = review.seed
        expect(plannedCents + total(walkSteps.map((step) => steps[step]))).toBe(paidCents)
        for (const { parts, plannedCents: planned, actualCents } of varieties) {
          expect(planned + total(varianceParts.map((part) => parts[part]))).toBe(actualCents)
        }
        expect(plannedCents).toBe(record.planned?.plan.totals.seedCents)
        const { costs } = review.money.lot.total
        expect(paidCents).toBe(costs.seed + costs['seed left'] + costs['seed returned'])
      }),
      { numRuns: 300 },
    )
  })

  it('costs an acre and a ton are those of a tally made by hand: entries of money over the acres that were planted', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const record = randomRecord(seed)
        const acres = new Map(
          record.season.fields.map((field) => {
            const own = record.plantings.filter((each) => each.isFinished && each.field === field.name)
            return [field.name, Math.min(field.acres, total(own.map((each) => each.acres ?? 0)))]
          }),
        )
        const all = total([...acres.values()])
        const entries = record.costs.filter(({ kind }) => kind === 'other')
        const { total: farm } = reviewOf(reckon(record)).money.field
        const tally = total(
          entries.map(({ cents, perAcre, field }) => {
            return perAcre ? cents * (field === undefined ? all : (acres.get(field) ?? 0)) : cents
          }),
        )
        expect(Math.abs(farm.costs.other - tally)).toBeLessThanOrEqual(entries.length)
        expect(farm.acres).toBeCloseTo(all, 1)
      }),
      { numRuns: 200 },
    )
  })

  it('no acre is counted twice, and none beyond what the field has', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const record = randomRecord(seed)
        const { fields } = reckon(record).ground
        for (const { field, acres, parts } of fields) {
          expect(acres).toBeLessThanOrEqual(field.acres + 0.05)
          expect(total(parts.map((part) => part.acres))).toBeCloseTo(acres, 6)
        }
      }),
      { numRuns: 100 },
    )
  })
})

it('shares are whole cents that add up, each within a cent of its part', () => {
  const weights = fc.array(fc.double({ min: 0, max: 1e6, noNaN: true }), { minLength: 1, maxLength: 40 })
  fc.assert(
    fc.property(fc.integer({ min: -10_000_000, max: 10_000_000 }), weights, (cents, list) => {
      const shares = shareCents(cents, list)
      expect(total(shares)).toBe(cents)
      const all = total(list)
      shares.forEach((share, at) => {
        const part = all > 0 ? (cents * list[at]!) / all : cents / list.length
        expect(Math.abs(share - part)).toBeLessThan(1.0001)
      })
    }),
  )
})
