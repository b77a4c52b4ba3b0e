/**
 * Leaving out programmes never costs anything: the best for any weight of loss stays, against brute force over all.
 * Also what happens where there are more sets than are looked at: it is said, and no rule becomes unfulfillable.
 */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { contextOf } from '../../../src-shared/agronomy/context.ts'
import { buildOptions } from '../../../src-shared/agronomy/option.ts'
import { MOST_PROGRAMMES, programmesOf, type Programme } from '../../../src-shared/agronomy/programme.ts'
import { combineLosses } from '../../../src-shared/agronomy/threat.ts'
import type { Measure } from '../../../src-shared/threat.ts'
import { demoFarm } from '../demo-farm.ts'

const threats = ['a', 'b', 'c']

const measure = fc.record({
  group: fc.constantFrom('fungicide', 'insecticide', 'nematicide', 'seed dressing'),
  centsPerAcre: fc.integer({ min: 0, max: 9000 }),
  efficacy: fc.dictionary(
    fc.constantFrom(...threats),
    fc.integer({ min: 0, max: 10 }).map((tenth) => tenth / 10),
  ),
})
const measures = fc
  .array(measure, { maxLength: 8 })
  .map((list): Measure[] => list.map((each, m) => ({ ...each, name: `m${m}`, isPesticide: true })))

/** Every set with at most one measure of a group, by counting through all subsets. */
function allSets(list: readonly Measure[]): Measure[][] {
  return Array.from({ length: 2 ** list.length }, (_, bits) => list.filter((_, m) => (bits >> m) & 1)).filter(
    (set) => new Set(set.map((each) => each.group)).size === set.length,
  )
}

const cashOf = (set: readonly Measure[]) => set.reduce((sum, each) => sum + each.centsPerAcre, 0)
const lossOf = (set: readonly Measure[], before: readonly number[]) =>
  combineLosses(
    before.map((loss, t) => set.reduce((left, each) => left * (1 - (each.efficacy[threats[t] as string] ?? 0)), loss)),
  )

describe('programmes of a field', () => {
  const none = new Set<string>()

  it('keep the best for every weight of loss, whatever the losses are', () => {
    fc.assert(
      fc.property(
        measures,
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 3, maxLength: 3 }),
        fc.double({ min: 0, max: 1e6, noNaN: true }),
        (list, before, weight) => {
          const cost = (set: readonly Measure[]) => cashOf(set) + weight * lossOf(set, before)
          const { programmes, looked, leftAside } = programmesOf(list, threats, none)
          const all = allSets(list)
          expect(looked).toBe(all.length)
          expect(leftAside).toBe(0)
          const best = Math.min(...all.map(cost))
          expect(Math.min(...programmes.map((each) => cost(each.measures)))).toBeCloseTo(best, 6)
        },
      ),
      { numRuns: 400 },
    )
  })

  it('keep the best among those that have what a rule asks for', () => {
    const asked = new Set(['fungicide', 'nematicide'])
    fc.assert(
      fc.property(
        measures,
        fc.subarray([...asked]),
        fc.double({ min: 0, max: 1e5, noNaN: true }),
        (list, groups, weight) => {
          const fits = (set: readonly Measure[]) => groups.every((group) => set.some((each) => each.group === group))
          const cost = (set: readonly Measure[]) => cashOf(set) + weight * lossOf(set, [0.3, 0.2, 0.1])
          const kept = programmesOf(list, threats, asked).programmes.map((each) => each.measures)
          const best = Math.min(...allSets(list).filter(fits).map(cost))
          const bestKept = Math.min(...kept.filter(fits).map(cost))
          if (best === Infinity) expect(bestKept).toBe(Infinity)
          else expect(bestKept).toBeCloseTo(best, 6)
        },
      ),
      { numRuns: 400 },
    )
  })

  it('say what each costs and leaves', () => {
    const spray: Measure = {
      name: 'spray',
      group: 'fungicide',
      centsPerAcre: 5000,
      efficacy: { a: 0.9 },
      isPesticide: true,
    }
    const { programmes } = programmesOf([spray], threats, none)
    expect(programmes.map((each) => [each.names, each.cents])).toEqual([
      [[], 0],
      [['spray'], 5000],
    ])
    expect(programmes[1]?.leaves).toEqual([1 - 0.9, 1, 1])
  })
})

describe('more sets than are looked at', () => {
  // Ten groups of two, each better against another threat the dearer it is: hardly any set loses to another.
  const many: Measure[] = Array.from({ length: 20 }, (_, m) => ({
    name: `m${m}`,
    group: `group ${m >> 1}`,
    centsPerAcre: 1000 + 137 * m,
    efficacy: { [threats[m % 3] as string]: 0.2 + m / 50 },
    isPesticide: true,
  }))

  it('are counted, the empty one stays, and groups asked for are still to be had', () => {
    const asked = new Set(['group 9'])
    const { programmes, looked, leftAside } = programmesOf(many, threats, asked, 64)
    expect(looked).toBe(3 ** 10)
    expect(leftAside).toBeGreaterThan(0)
    expect(programmes.length).toBeLessThanOrEqual(64)
    expect(programmes[0]?.names).toEqual([])
    const has = (programme: Programme) => programme.measures.some((each) => each.group === 'group 9')
    expect(programmes.some(has)).toBe(true)
    expect(programmes.every(has)).toBe(false)
  })

  it('are told of with the field; a usual farm hears nothing', () => {
    const farm = demoFarm()
    const named = ['early leaf spot', 'southern stem rot', 'spotted wilt']
    const measures = many.map((each, m) => ({ ...each, efficacy: { [named[m % 3] as string]: 0.2 + m / 50 } }))
    const crowded = { ...farm, fields: farm.fields.slice(0, 1), measures, rules: [] }
    const { notices, options } = buildOptions(contextOf(crowded))
    expect(notices).toHaveLength(1)
    expect(notices[0]).toMatchObject({ code: 'left-aside', where: { name: farm.fields[0]?.name } })
    expect(notices[0]?.what).toContain(`${MOST_PROGRAMMES} were`)
    expect(options.length).toBeGreaterThan(0)
    expect(buildOptions(contextOf(farm)).notices).toEqual([])
  })
})
