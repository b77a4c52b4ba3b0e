/** The losses of the crop function and those that options are priced by: two ways through the same formulas, held together. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { Calculation, figure, silent } from '../../../src-shared/agronomy/calculation.ts'
import { contextOf } from '../../../src-shared/agronomy/context.ts'
import { practiceLosses } from '../../../src-shared/agronomy/practice-losses.ts'
import {
  combineLosses,
  lossesAfter,
  lossShareAfter,
  shareBefore,
  type ThreatCase,
} from '../../../src-shared/agronomy/threat.ts'
import { pressureLevels, rowPatterns, tillages, waters } from '../../../src-shared/field.ts'
import { windowKinds } from '../../../src-shared/window.ts'
import { demoFarm } from '../demo-farm.ts'

const context = contextOf(demoFarm())
const { threats, canopy } = context
const share = fc.oneof(fc.constantFrom(0, 1), fc.double({ min: 0, max: 1, noNaN: true }))
const shares = fc.array(share, { minLength: threats.length, maxLength: threats.length })

test('working, numbers alone and the way of the options agree, whatever is lost and sprayed', () => {
  fc.assert(
    fc.property(
      shares,
      shares,
      fc.constantFrom('low' as const, 'usual' as const, 'high' as const),
      (lost, left, end) => {
        const figures = left.map((value) => [figure(value, 'left by sprays', 'share')])
        const calculation = new Calculation(true)
        const worked = practiceLosses(context, lost, figures, calculation, end)
        expect(practiceLosses(context, lost, figures, silent, end)).toEqual(worked)
        lossesAfter(threats, canopy, lost, left, end).forEach((loss, t) => expect(loss).toBeCloseTo(worked[t]!, 10))
        worked.forEach((loss, t) => {
          expect(loss).toBeGreaterThanOrEqual(0)
          expect(loss).toBeLessThanOrEqual(1)
          // What is returned is what the working's line says.
          expect(calculation.lines.find(({ id }) => id === `loss/${threats[t]!.name}`)?.value).toBe(loss)
        })
        if (end === 'usual') {
          expect(lossShareAfter(threats, canopy, lost, left)).toBeCloseTo(combineLosses(worked), 9)
        }
      },
    ),
  )
})

test('what a disease or pest takes before practices is the same with its working and as a number alone', () => {
  const cases: fc.Arbitrary<ThreatCase> = fc.record({
    level: fc.constantFrom(...pressureLevels),
    rating: fc.oneof(fc.integer({ min: 1, max: 9 }), fc.double({ min: 1, max: 9, noNaN: true })),
    rated: fc.constant(() => 'rated'),
    window: fc.constantFrom(...windowKinds),
    rows: fc.constantFrom(...rowPatterns),
    water: fc.constantFrom(...waters),
    tillage: fc.constantFrom(...tillages),
    yearsOut: fc.option(fc.integer({ min: 0, max: 8 })),
    stand: fc.double({ min: 0, max: 12, noNaN: true }),
    vine: fc.double({ min: 0.5, max: 3, noNaN: true }),
    vineKey: fc.constant('vine/large/usual/leaf disease'),
  })
  fc.assert(
    fc.property(cases, fc.constantFrom('low' as const, 'usual' as const, 'high' as const), (at, end) => {
      for (const table of threats) {
        const worked = shareBefore(context.book, table, at, new Calculation(true), end)
        expect(shareBefore(context.book, table, at, silent, end)).toBe(worked)
      }
    }),
    { numRuns: 500 },
  )
})
