/** WCAG 2.2 AA worked out from tokens.css: 4.5:1 for words, 3:1 for lines, focus and variety colours, in both themes. */
import { readFileSync } from 'node:fs'
import { resolve } from 'node:path'
import { describe, expect, test } from 'vitest'

type Colour = [red: number, green: number, blue: number]

const css = readFileSync(resolve(import.meta.dirname, '../../../src-renderer/styles/tokens.css'), 'utf8')
const tokens = new Map(
  [...css.matchAll(/--([\w-]+): light-dark\((#\w{6}), (#\w{6})\)/g)].map((found) => [
    found[1] as string,
    [hex(found[2] as string), hex(found[3] as string)] as const,
  ]),
)

function hex(text: string): Colour {
  return [1, 3, 5].map((at) => Number.parseInt(text.slice(at, at + 2), 16)) as Colour
}

function luminance(colour: Colour): number {
  const [red, green, blue] = colour.map((value) => {
    const share = value / 255
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4
  }) as Colour
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue
}

function contrast(one: Colour, other: Colour): number {
  const [dark, light] = [luminance(one), luminance(other)].sort((a, b) => a - b) as [number, number]
  return (light + 0.05) / (dark + 0.05)
}

const mixed = (one: Colour, other: Colour, share: number) =>
  one.map((value, at) => value * share + (other[at] as number) * (1 - share)) as Colour

const varieties = Array.from({ length: 10 }, (_, index) => `v${index + 1}`)

describe.each([
  ['light', 0],
  ['dark', 1],
] as const)('%s', (_theme, side) => {
  const colour = (name: string): Colour => {
    const pair = tokens.get(name)
    if (!pair) throw new Error(`tokens.css has no --${name} of two six-digit colours.`)
    return pair[side]
  }

  test.each(
    ['ink', 'quiet', 'act', 'heed', 'wrong'].flatMap((words) =>
      ['paper', 'sheet', 'sunk'].map((ground) => [words, ground] as const),
    ),
  )('%s on %s is read', (words, ground) => {
    expect(contrast(colour(words), colour(ground))).toBeGreaterThanOrEqual(4.5)
  })

  test.each([
    ['on-act', 'act'],
    ['act', 'act-tint'],
    ['ink', 'act-tint'],
    ['quiet', 'act-tint'],
    ['ink', 'wrong-tint'],
    ['wrong', 'wrong-tint'],
    ['heed', 'act-tint'],
  ] as const)('%s on %s is read', (words, ground) => {
    expect(contrast(colour(words), colour(ground))).toBeGreaterThanOrEqual(4.5)
  })

  test.each(['paper', 'sheet', 'sunk'])('lines that bound an input are seen on %s', (ground) => {
    expect(contrast(colour('line'), colour(ground))).toBeGreaterThanOrEqual(3)
  })

  test.each(varieties)('%s is seen on the ground, and words are read on its field', (name) => {
    expect(contrast(colour(name), colour('paper'))).toBeGreaterThanOrEqual(3)
    const field = mixed(colour(name), colour('paper'), 0.26)
    expect(contrast(colour('ink'), field)).toBeGreaterThanOrEqual(4.5)
  })
})
