/** Cautions travel with the data: measures, treated seed, lots on hand, options. And no interval is ever shipped. */
import { describe, expect, it } from 'vitest'
import { cautionsOfMeasure, cautionsOfOption, cautionsOfVariety } from '../../../src-shared/agronomy/cautions.ts'
import { contextOf } from '../../../src-shared/agronomy/context.ts'
import { explain } from '../../../src-shared/agronomy/explain.ts'
import { germinationMark } from '../../../src-shared/agronomy/germination.ts'
import { buildOptions } from '../../../src-shared/agronomy/option.ts'
import { Book } from '../../../src-shared/assumption.ts'
import { starterBook } from '../../../src-shared/book/starter.ts'
import { demoFarm, pick } from '../demo-farm.ts'

const farm = demoFarm()
const variety = pick(farm.varieties)
const spray = pick(farm.measures)

describe('which apply', () => {
  it('a pesticide: the label, and what was copied from it', () => {
    expect(cautionsOfMeasure(spray)).toMatchObject([{ kind: 'pesticide', about: spray.name, fromLabel: null }])
    const copied = { ...spray, fromLabel: 'as on the label of our jug' }
    expect(cautionsOfMeasure(copied)).toMatchObject([{ fromLabel: 'as on the label of our jug' }])
    expect(cautionsOfMeasure({ ...spray, isPesticide: false })).toEqual([])
  })

  it('treated seed, of a variety', () => {
    expect(cautionsOfVariety(variety).map((each) => each.kind)).toEqual(['treatedSeed'])
    expect(cautionsOfVariety({ ...variety, isTreated: false })).toEqual([])
  })

  it('an option: its seed, each pesticide, and that losses are estimates; the working carries them', () => {
    const programme = farm.measures.slice(2, 4)
    const expected = ['treatedSeed', 'pesticide', 'pesticide', 'estimate']
    expect(cautionsOfOption(variety, programme).map((each) => each.kind)).toEqual(expected)
    const context = contextOf(farm)
    const option = pick(buildOptions(context).options, (each) => each.programme.length === 2)
    const working = explain(context, option)
    expect(working.ok && working.value.cautions.map((each) => each.kind)).toEqual(expected)
  })
})

describe('intervals are on the label', () => {
  it('neither the book nor the demo ships one', () => {
    const shipped = JSON.stringify([starterBook, farm.measures])
    expect(shipped).not.toMatch(/re-?entry|restricted.entry|\bREI\b|pre-?harvest|\bPHI\b|days? to harvest/i)
    expect(farm.measures.every((measure) => measure.fromLabel === undefined)).toBe(true)
  })
})

it.each([
  [0.87, 'good'],
  [0.8, 'good'],
  [0.79, 'weak'],
  [0.75, 'weak'],
  [0.74, 'very weak'],
])('a germination of %s is %s', (germination, mark) => {
  expect(germinationMark(new Book(starterBook), germination)).toBe(mark)
})
