/** The words of a block and where they stand in it, so that nothing runs over its edge: fewer or smaller words, never more room. Pure. */
import { stretches, type Plot, type Point } from './ground.ts'

export interface Label {
  /** Middle of the first line. */
  x: number
  y: number
  /** [unit] height of a letter. */
  letter: number
  name: string[]
  figures: string[]
}

/** From line to line, in letters. */
export const leading = 1.12

/** Smaller than the last is not read. */
const sizes = [1, 0.88, 0.78]

/** [letter] Clear ground at each side of a line. */
const clear = 0.2

/** Where a label may stand, from the middle of the block up and down. */
const places = [0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.2, 0.8]

/** @param bags empty where the block has none @returns null where not even the beginning of the name has room */
export function placeLabel(
  { rings, box }: Pick<Plot, 'rings' | 'box'>,
  { name, bags, acres }: { name: string; bags: string; acres: string },
  letter: number,
): Label | null {
  const names = [[name], wrapped(name)].filter((lines, at) => at === 0 || lines.length > 1)
  const both = bags === '' ? [] : [[`${bags} · ${acres}`], [bags, acres], [bags]]
  const wordings = [...both, [acres]].flatMap((figures) => names.map((lines) => ({ name: lines, figures })))
  // All there is to say first, if need be in small letters; the name alone only where there is no room for more.
  const tries = [wordings, names.map((lines) => ({ name: lines, figures: [] }))].flatMap((list) =>
    sizes.flatMap((size) => list.map((words) => ({ ...words, letter: letter * size }))),
  )
  for (const words of tries) {
    const lines = [...words.name, ...words.figures]
    const spot = widest(rings, box, lines.length * words.letter * leading)
    const wanted = Math.max(...lines.map((line) => widthOf(line, words.letter))) + 2 * clear * words.letter
    if (spot && spot.width >= wanted) return placed(words, spot)
  }
  const small = letter * (sizes.at(-1) ?? 1)
  const spot = widest(rings, box, small * leading)
  for (let kept = name.length - 1; spot && kept >= 3; kept -= 1) {
    const begun = `${name.slice(0, kept).trim()}…`
    if (widthOf(begun, small) <= spot.width) return placed({ name: [begun], figures: [], letter: small }, spot)
  }
  return null
}

function placed(words: Omit<Label, 'x' | 'y'>, { x, y }: Point): Label {
  const below = words.name.length + words.figures.length - 1
  return { ...words, x, y: y - (below * words.letter * leading) / 2 }
}

/** In two lines, parted at the blank nearest its middle; one line where there is none. */
function wrapped(name: string): string[] {
  const blanks = [...name.matchAll(/ /g)].map(({ index }) => index)
  const [at] = blanks.toSorted((one, other) => Math.abs(one - name.length / 2) - Math.abs(other - name.length / 2))
  return at === undefined ? [name] : [name.slice(0, at), name.slice(at + 1)]
}

/** [unit] About as wide as the window draws it, a little more rather than less. */
export function widthOf(line: string, letter: number): number {
  const share = (sign: string) => {
    if (/[MWmw@%—■]/.test(sign)) return 0.82
    if (/[iljtfrI.,:;'’·!| ()-]/.test(sign)) return 0.33
    return /[A-Z]/.test(sign) ? 0.62 : 0.52
  }
  return [...line].reduce((sum, sign) => sum + share(sign), 0) * letter
}

/** The stretch of ground of this height that is widest, near the middle unless another is clearly wider. */
function widest(rings: readonly Point[][], box: Plot['box'], height: number): (Point & { width: number }) | null {
  let best: (Point & { width: number; stretch: Stretch }) | null = null
  for (const place of places) {
    const y = box.top + place * (box.bottom - box.top)
    const near = [-0.5, -0.25, 0.25, 0.5].map((share) => y + share * height)
    for (const stretch of stretches(rings, y, 'y')) {
      const [left, right] = narrowed(rings, stretch, near)
      const width = right - left
      if (width > (best === null ? 0 : best.width * 1.2)) best = { x: (left + right) / 2, y, width, stretch }
    }
  }
  if (best === null) return null
  // Corners only now: of the outline of a county there are thousands.
  const corners = cornersBetween(rings, best.y - height / 2, best.y + height / 2)
  const ends = [best.y - height / 2, best.y + height / 2]
  const [left, right] = narrowed(rings, best.stretch, [...ends, ...corners])
  return { x: (left + right) / 2, y: best.y, width: right - left }
}

type Stretch = readonly [left: number, right: number]

/** What of a stretch is ground on all of these lines, around its middle. */
function narrowed(rings: readonly Point[][], [from, to]: Stretch, lines: readonly number[]): Stretch {
  let [left, right] = [from, to]
  for (const line of lines) {
    const middle = (left + right) / 2
    const band = stretches(rings, line, 'y').find(([low, high]) => low <= middle && middle <= high)
    left = Math.max(left, band?.[0] ?? right)
    right = Math.min(right, band?.[1] ?? left)
  }
  return [left, right]
}

/** [unit] A corner lies on two edges: it is looked at from both sides. */
const beside = 1e-6

/** Between its ends, ground can be narrowest only just beside a corner. */
function cornersBetween(rings: readonly Point[][], top: number, bottom: number): number[] {
  const corners = rings.flat().filter(({ y }) => y > top && y < bottom)
  return corners.flatMap(({ y }) => [y - beside, y + beside])
}
