/**
 * The farm as ground: each field's outline in drawing units, north up. A field with a boundary lies where it lies; one
 * without is a square of its acres, set in rows below. Pure.
 */
import { SQUARE_METERS_PER_ACRE } from '../../../src-shared/agronomy/seed.ts'
import type { Boundary } from '../../../src-shared/field.ts'

export interface Point {
  x: number
  y: number
}

export interface Plot {
  id: number
  /** Outlines; where one lies inside another it is a hole. */
  rings: Point[][]
  box: { left: number; right: number; top: number; bottom: number }
  middle: Point
}

export interface Ground {
  width: number
  height: number
  plots: Plot[]
}

interface GroundField {
  id: number
  acres: number
  boundary?: Boundary
}

/** [unit] drawn width; about the pixels it gets on a common screen, so that text in units has a common size. */
export const groundWidth = 760
const margin = 4
const metersPerDegree = 111_320

export function layGround(fields: readonly GroundField[]): Ground {
  const placed = project(fields)
  const loose = fields.filter((field) => !field.boundary)
  const outlines = [
    ...placed,
    ...shelve(
      loose,
      placed.flatMap((each) => each.rings.flat()),
    ),
  ]
  const all = outlines.flatMap((each) => each.rings.flat())
  if (all.length === 0) return { width: groundWidth, height: 0, plots: [] }
  const box = boxOf(all)
  const scale = (groundWidth - 2 * margin) / Math.max(box.right - box.left, 1e-9)
  const plots = outlines.map(({ id, rings }) => {
    const drawn = rings.map((ring) =>
      ring.map(({ x, y }) => ({ x: (x - box.left) * scale + margin, y: (y - box.top) * scale + margin })),
    )
    return { id, rings: drawn, box: boxOf(drawn.flat()), middle: middleOf(drawn) }
  })
  return { width: groundWidth, height: (box.bottom - box.top) * scale + 2 * margin, plots }
}

interface Outline {
  id: number
  rings: Point[][]
}

/** [meter] Over a farm the earth is flat enough: one degree of longitude is shortened by the farm's mean latitude. */
function project(fields: readonly GroundField[]): Outline[] {
  const bounded = fields.flatMap(({ id, boundary }) => (boundary ? [{ id, rings: ringsOf(boundary) }] : []))
  const latitudes = bounded.flatMap(({ rings }) => rings.flat().map((position) => position[1] as number))
  const mean = latitudes.reduce((sum, latitude) => sum + latitude, 0) / Math.max(1, latitudes.length)
  const east = metersPerDegree * Math.cos((mean * Math.PI) / 180)
  return bounded.map(({ id, rings }) => ({
    id,
    rings: rings.map((ring) =>
      ring.map(([longitude = 0, latitude = 0]) => ({ x: longitude * east, y: -latitude * metersPerDegree })),
    ),
  }))
}

function ringsOf(boundary: Boundary): number[][][] {
  return boundary.type === 'Polygon' ? boundary.coordinates : boundary.coordinates.flat()
}

/** [meter] Squares of their acres in rows, largest first, below what is placed and no wider. */
function shelve(fields: readonly GroundField[], placed: readonly Point[]): Outline[] {
  const box = placed.length > 0 ? boxOf(placed) : null
  const sides = fields.map((field) => ({ id: field.id, side: Math.sqrt(field.acres * SQUARE_METERS_PER_ACRE) }))
  sides.sort((one, other) => other.side - one.side || one.id - other.id)
  const gap = (sides[0]?.side ?? 0) * 0.08
  const area = sides.reduce((sum, { side }) => sum + (side + gap) ** 2, 0)
  const width = Math.max(box ? box.right - box.left : Math.sqrt(area * 1.7), sides[0]?.side ?? 0)
  const left = box?.left ?? 0
  let [x, y, tallest] = [left, box ? box.bottom + gap * 2 : 0, 0]
  return sides.map(({ id, side }) => {
    if (x > left && x + side > left + width + 1e-6) {
      y += tallest + gap
      x = left
      tallest = 0
    }
    const [right, bottom] = [x + side, y + side]
    const ring = [
      { x, y },
      { x: right, y },
      { x: right, y: bottom },
      { x, y: bottom },
    ]
    x = right + gap
    tallest = Math.max(tallest, side)
    return { id, rings: [ring] }
  })
}

function boxOf(points: readonly Point[]) {
  return points.reduce(
    (box, { x, y }) => ({
      left: Math.min(box.left, x),
      right: Math.max(box.right, x),
      top: Math.min(box.top, y),
      bottom: Math.max(box.bottom, y),
    }),
    { left: Infinity, right: -Infinity, top: Infinity, bottom: -Infinity },
  )
}

/** Where the middle of the block lies, on its own ground. */
function middleOf(rings: readonly Point[][]): Point {
  const box = boxOf(rings.flat())
  const y = (box.top + box.bottom) / 2
  const [widest] = stretches(rings, y, 'y').toSorted((one, other) => other[1] - other[0] - (one[1] - one[0]))
  return { x: widest ? (widest[0] + widest[1]) / 2 : (box.left + box.right) / 2, y }
}

/** Stretches of ground along the line on which `axis` has the value; holes are left out. */
export function stretches(rings: readonly Point[][], value: number, axis: 'x' | 'y'): [number, number][] {
  const across = axis === 'y' ? 'x' : 'y'
  const cuts: number[] = []
  for (const ring of rings) {
    ring.forEach((from, index) => {
      const to = ring[(index + 1) % ring.length] as Point
      if (from[axis] > value === to[axis] > value) return
      const share = (value - from[axis]) / (to[axis] - from[axis])
      cuts.push(from[across] + share * (to[across] - from[across]))
    })
  }
  cuts.sort((one, other) => one - other)
  const found: [number, number][] = []
  for (let at = 0; at + 1 < cuts.length; at += 2) found.push([cuts[at] as number, cuts[at + 1] as number])
  return found
}

/** The outline as an SVG path; fill it by the even-odd rule. */
export function pathOf(rings: readonly Point[][]): string {
  return rings.map((ring) => `M${ring.map(({ x, y }) => `${x.toFixed(1)},${y.toFixed(1)}`).join('L')}Z`).join('')
}
