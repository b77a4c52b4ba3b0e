/** The money of an acre by its working and as options are priced by: two ways through the same formulas, held together. */
import fc from 'fast-check'
import { expect, it } from 'vitest'
import { acreValue, acreValueOn, bestValueOf, vineCents, vineCostOn } from '../../../src-shared/agronomy/acre-money.ts'
import { Calculation } from '../../../src-shared/agronomy/calculation.ts'
import { contextOf } from '../../../src-shared/agronomy/context.ts'
import { groundFor } from '../../../src-shared/agronomy/crop.ts'
import { growthLevels } from '../../../src-shared/field.ts'
import { vineClasses } from '../../../src-shared/variety.ts'
import { demoFarm } from '../demo-farm.ts'

const farm = demoFarm()
const gain = {
  key: 'vine/growth regulator/yield gain',
  value: 260,
  unit: 'lb/acre',
  source: '',
  sourceKind: 'the farm' as const,
}
const contexts = [
  farm,
  { ...farm, assumptions: [gain] },
  { ...farm, rules: [...farm.rules, { rule: 'yield-left-out' as const, isOn: true }] },
].map((season) => contextOf(season))

const places = fc.record({
  context: fc.constantFrom(...contexts),
  field: fc.constantFrom(...farm.fields),
  growth: fc.constantFrom(...growthLevels),
  variety: fc.constantFrom(...farm.varieties),
  vine: fc.constantFrom(...vineClasses),
})
const pounds = fc.double({ min: 0, max: 9000, noNaN: true })
const share = fc.oneof(fc.constantFrom(0, 1), fc.double({ min: 0, max: 1, noNaN: true }))

it('what a yield is worth is the same to the last digit', () => {
  fc.assert(
    fc.property(places, pounds, ({ context, field, variety }, beforeLb) => {
      const [best, ground] = [bestValueOf(context), groundFor(context, field)]
      const worked = acreValue(context, best, ground, field, variety, beforeLb, 0, new Calculation(true))
      expect(acreValueOn(context, best, ground, field, variety)(beforeLb)).toEqual(worked)
    }),
  )
})

it('what the vine costs lies between its cost with nothing and with all lost', () => {
  let dear = 0
  fc.assert(
    fc.property(places, pounds, share, ({ context, growth, vine, ...at }, crop, lossShare) => {
      const [field, variety] = [
        { ...at.field, growth },
        { ...at.variety, vine },
      ]
      const of = (lost: number) => vineCents(context, field, variety, crop, lost, new Calculation(true))
      const { whole, none } = vineCostOn(context, field, variety)(crop)
      expect([whole, none]).toEqual([of(0), of(1)])
      expect(none + (1 - lossShare) * (whole - none)).toBeCloseTo(of(lossShare), 6)
      if (whole !== none) dear += 1
    }),
  )
  expect(dear).toBeGreaterThan(0)
})
