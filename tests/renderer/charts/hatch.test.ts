/** Varieties are told apart by colour and hatch, on a black-and-white print by hatch alone. */
import { expect, test } from 'vitest'
import { hatchFill, hatches, lookOf, mostHatches } from '../../../src-renderer/charts/hatch.ts'

const all = Array.from({ length: mostHatches }, (_, index) => index)

test('no two of sixty varieties share a hatch on paper or a fill on screen', () => {
  expect(mostHatches).toBeGreaterThanOrEqual(60)
  const onPaper = all.map(lookOf).map(({ hatch, scale, isInverted }) => [hatches.indexOf(hatch), scale, isInverted])
  expect(new Set(onPaper.map((look) => look.join())).size).toBe(mostHatches)
  expect(new Set(all.map(hatchFill)).size).toBe(mostHatches)
})

test('a hatch that comes again has another colour each time', () => {
  for (const hatch of hatches) {
    const colours = all.map(lookOf).flatMap((look) => (look.hatch === hatch ? [look.colour] : []))
    expect(new Set(colours).size).toBe(colours.length)
  }
})

test('the first ten keep one colour each', () => {
  expect(new Set(all.slice(0, 10).map((index) => lookOf(index).colour)).size).toBe(10)
})
