/** Where rings of corners cross, and the simple loops that a ring is made of. Pure, in plain coordinates. */

/** [degree] longitude, latitude; what follows is not used. */
export type Point = number[]

/** More than a field's outline can have by chance; past it nothing is mended. */
const mostCrossings = 500

interface Segment {
  at: number
  from: Point
  to: Point
}

/** Twice the area of the triangle: above 0 where `c` lies left of the line from `a` to `b`. */
function side(a: Point, b: Point, c: Point): number {
  const [ax = 0, ay = 0] = a
  return ((b[0] ?? 0) - ax) * ((c[1] ?? 0) - ay) - ((b[1] ?? 0) - ay) * ((c[0] ?? 0) - ax)
}

/** Signed, counter-clockwise above 0. Near the first corner, so that no digits are lost. */
export function planarArea(ring: readonly Point[]): number {
  const origin = ring[0] ?? [0, 0]
  let twice = 0
  for (let at = 2; at < ring.length; at += 1) twice += side(origin, ring[at - 1] as Point, ring[at] as Point)
  return twice / 2
}

function segmentsOf(ring: readonly Point[]): Segment[] {
  return ring.slice(1).map((to, at) => ({ at, from: ring[at] as Point, to }))
}

const west = ({ from, to }: Segment) => Math.min(from[0] ?? 0, to[0] ?? 0)
const east = ({ from, to }: Segment) => Math.max(from[0] ?? 0, to[0] ?? 0)
const south = ({ from, to }: Segment) => Math.min(from[1] ?? 0, to[1] ?? 0)
const north = ({ from, to }: Segment) => Math.max(from[1] ?? 0, to[1] ?? 0)

/** Calls with each pair whose boxes meet, from west to east; `meet` returns true to stop. */
function sweep(segments: readonly (Segment & { ring?: 0 | 1 })[], meet: (one: number, other: number) => boolean): void {
  const order = segments
    .map((segment, index) => ({ index, west: west(segment), east: east(segment) }))
    .sort((one, other) => one.west - other.west)
  let active: typeof order = []
  for (const next of order) {
    active = active.filter((each) => each.east >= next.west)
    const [low, high] = [south(segments[next.index] as Segment), north(segments[next.index] as Segment)]
    for (const each of active) {
      const other = segments[each.index] as Segment
      if (north(other) < low || south(other) > high) continue
      if (meet(each.index, next.index)) return
    }
    active.push(next)
  }
}

/** True where edges of the two go through each other; touching is no crossing. */
export function ringsCross(one: readonly Point[], other: readonly Point[]): boolean {
  const first = segmentsOf(one)
  const all = [...first, ...segmentsOf(other)]
  let found = false
  sweep(all, (a, b) => {
    if (a < first.length === b < first.length) return false
    found = isProper(all[a] as Segment, all[b] as Segment)
    return found
  })
  return found
}

function isProper(one: Segment, other: Segment): boolean {
  const [a, b] = [side(one.from, one.to, other.from), side(one.from, one.to, other.to)]
  const [c, d] = [side(other.from, other.to, one.from), side(other.from, other.to, one.to)]
  return a * b < 0 && c * d < 0
}

function isOn(point: Point, { from, to }: Segment): boolean {
  const [x = 0, y = 0] = point
  const segment = { at: 0, from, to }
  return (
    side(from, to, point) === 0 &&
    x >= west(segment) &&
    x <= east(segment) &&
    y >= south(segment) &&
    y <= north(segment)
  )
}

/**
 * The ring cut wherever it meets itself. One loop: it does not.
 * @returns loops null: it meets itself too often to be told apart; crosses: some edges go through each other
 */
export function loopsOf(ring: readonly Point[]): { loops: Point[][] | null; crosses: boolean } {
  const segments = segmentsOf(ring)
  const cuts = new Map<number, Point[]>()
  const cut = (at: number, point: Point) => cuts.set(at, [...(cuts.get(at) ?? []), point])
  let crossings = 0
  let crosses = false
  sweep(segments, (a, b) => {
    const [one, other] = [segments[a] as Segment, segments[b] as Segment]
    if (isProper(one, other)) {
      const point = meeting(one, other)
      cut(a, point)
      cut(b, point)
      crosses = true
      crossings += 1
    } else {
      for (const [corner, at] of [
        [one.from, b],
        [other.from, a],
      ] as const) {
        const edge = segments[at] as Segment
        if (isSame(corner, edge.from) || isSame(corner, edge.to) || !isOn(corner, edge)) continue
        cut(at, corner)
        crossings += 1
      }
    }
    return crossings > mostCrossings
  })
  if (crossings > mostCrossings) return { loops: null, crosses }
  const walk = segments.flatMap(({ at, from }) => [from, ...along(from, cuts.get(at) ?? [])])
  return { loops: loopsAlong(walk), crosses }
}

const isSame = (one: Point, other: Point) => one[0] === other[0] && one[1] === other[1]

const distance = (one: Point, other: Point) =>
  Math.hypot((one[0] ?? 0) - (other[0] ?? 0), (one[1] ?? 0) - (other[1] ?? 0))

function along(from: Point, points: readonly Point[]): Point[] {
  return points.toSorted((one, other) => distance(from, one) - distance(from, other))
}

function meeting(one: Segment, other: Segment): Point {
  const [a, b] = [side(other.from, other.to, one.from), side(other.from, other.to, one.to)]
  const share = a / (a - b)
  const between = (axis: 0 | 1) => (one.from[axis] ?? 0) + share * ((one.to[axis] ?? 0) - (one.from[axis] ?? 0))
  return [between(0), between(1)]
}

/** A walk along the ring: where it comes to a point once more, what lies between is a loop. */
function loopsAlong(walk: readonly Point[]): Point[][] {
  const loops: Point[][] = []
  const path: Point[] = []
  const placed = new Map<string, number>()
  for (const point of [...walk, walk[0] as Point]) {
    const key = `${point[0]},${point[1]}`
    const before = placed.get(key)
    if (before !== undefined) {
      const loop = path.splice(before + 1)
      for (const passed of loop) placed.delete(`${passed[0]},${passed[1]}`)
      // A corner written twice, or a spike out and back, has no ground.
      if (loop.length >= 2) loops.push([point, ...loop, point])
      continue
    }
    placed.set(key, path.length)
    path.push(point)
  }
  return loops
}
