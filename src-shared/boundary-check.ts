/**
 * Is a boundary the outline of a field? Area formulas give a figure for any rings: 0 acres for a bow tie, less than none for a hole
 * that is larger than its field. Pure; in plain degrees, which is exact enough to tell sides over half a degree.
 */
import type { Boundary } from './field.ts'
import { loopsOf, planarArea, ringsCross, type Point } from './ring-crossings.ts'

export type BoundaryCheck =
  | { ok: true; boundary: Boundary; /** What was mended, in a sentence; null: nothing. */ mended: string | null }
  | { ok: false; what: string; remedy: string }

/** [degree] some 35 miles: no field is so wide, and beyond it degrees are no plane. */
const widestPart = 0.5
/** [degree] of latitude: beyond it longitude and latitude were exchanged, as GeoJSON has longitude first. */
const mostLatitude = 60
/** [square degree] about a tenth of a square meter: a ring that has no ground. */
const noGround = 1e-11
/** Loops that a monitor draws where its track begins and ends are below this share of the field. */
const smallLoops = 0.01

/** @param given closed rings in degrees */
export function checkBoundary(given: Boundary): BoundaryCheck {
  const polygons = given.type === 'Polygon' ? [given.coordinates] : given.coordinates
  const parts: Point[][][] = []
  const mends = new Set<string>()
  for (const rings of polygons) {
    const checked = checkPart(rings as Point[][], mends)
    if (!Array.isArray(checked)) return checked
    parts.push(checked)
  }
  for (const [at, [outline = []]] of parts.entries()) {
    for (const [other = [], ...holes] of parts.slice(at + 1)) {
      if (ringsCross(outline, other) || liesIn(other, outline, parts[at]) || liesIn(outline, other, [other, ...holes]))
        return refuse('Two of its parts overlap.', 'Join the parts that overlap into one, then export it again.')
    }
  }
  if (mends.size === 0) return { ok: true, boundary: given, mended: null }
  const boundary: Boundary =
    given.type === 'Polygon' && parts.length === 1
      ? { type: 'Polygon', coordinates: parts[0] as Point[][] }
      : { type: 'MultiPolygon', coordinates: parts }
  return { ok: true, boundary, mended: [...mends].join(' ') }
}

/** One outline with its holes, mended where it is plain. */
function checkPart(rings: Point[][], mends: Set<string>): Point[][] | Extract<BoundaryCheck, { ok: false }> {
  const [first = [], ...otherRings] = rings
  for (const ring of rings) {
    const span = (axis: 0 | 1) => Math.max(...extent(ring, axis)) - Math.min(...extent(ring, axis))
    const widest = Math.max(span(0), span(1))
    if (widest > widestPart) {
      const size = widest.toLocaleString('en-US', { maximumFractionDigits: 1 })
      return refuse(`It spans ${size} degrees. No field is that large.`, 'Check its corners, then export it again.')
    }
  }
  const north = Math.max(...extent(first, 1).map(Math.abs))
  if (north > mostLatitude) {
    const what = `It lies at latitude ${north.toLocaleString('en-US', { maximumFractionDigits: 1 })}, where no peanut grows.`
    return refuse(what, 'Exchange longitude and latitude: each corner is written longitude first.')
  }
  const outline = simple(first, mends)
  if (outline === null)
    return refuse('Its outline crosses itself.', 'Put its corners in order around the field, then export it again.')
  const area = Math.abs(planarArea(outline))
  if (area < noGround)
    return refuse('It has no ground inside.', 'Draw at least three corners that are not on one line.')
  const holes: Point[][] = []
  for (const ring of otherRings) {
    const hole = simple(ring, mends)
    if (hole === null) return refuse('One of its holes crosses itself.', 'Put the corners of the hole in order.')
    const holeArea = Math.abs(planarArea(hole))
    if (holeArea < noGround) {
      mends.add('A hole without ground was left out.')
      continue
    }
    if (holeArea >= area) return refuse('A hole is as large as the field or larger.', outlineFirst)
    if (ringsCross(outline, hole) || !liesIn(hole, outline))
      return refuse('A hole reaches outside the field.', outlineFirst)
    if (holes.some((other) => ringsCross(hole, other) || liesIn(hole, other) || liesIn(other, hole)))
      return refuse('Two of its holes overlap.', 'Join the holes that overlap, then export it again.')
    holes.push(hole)
  }
  return [outline, ...holes]
}

const outlineFirst = 'Draw the outline first and its holes inside it, then export it again.'

function refuse(what: string, remedy: string): Extract<BoundaryCheck, { ok: false }> {
  return { ok: false, what, remedy }
}

/** The least and the greatest; a spread of 200,000 corners would be too many arguments. */
function extent(ring: readonly Point[], axis: 0 | 1): [number, number] {
  let [least, greatest] = [Infinity, -Infinity]
  for (const point of ring) {
    least = Math.min(least, point[axis] as number)
    greatest = Math.max(greatest, point[axis] as number)
  }
  return [least, greatest]
}

/** The ring where it does not cross itself, without small loops where it does; null where that is not plain. */
function simple(ring: Point[], mends: Set<string>): Point[] | null {
  const { loops, crosses } = loopsOf(ring)
  if (loops === null) return null
  if (loops.length < 2) return ring
  const sorted = loops.toSorted((one, other) => Math.abs(planarArea(other)) - Math.abs(planarArea(one)))
  const [largest = [], ...others] = sorted
  const sign = Math.sign(planarArea(largest))
  const isTouching = !crosses && others.every((loop) => Math.sign(planarArea(loop)) !== -sign)
  if (isTouching) return ring
  const small = others.reduce((sum, loop) => sum + Math.abs(planarArea(loop)), 0)
  if (small > smallLoops * Math.abs(planarArea(largest))) return null
  if (small > 0) mends.add('Small loops in its outline were left out.')
  return small > 0 ? largest : ring
}

/** @param rings of what it may lie in; a ring in a hole of it does not */
function liesIn(
  inner: readonly Point[],
  outer: readonly Point[],
  rings: readonly (readonly Point[])[] = [outer],
): boolean {
  const [outline = [], ...holes] = rings
  // A corner on the line tells nothing; the first that is off it does.
  for (const point of inner) {
    const place = placeOf(point, outline)
    if (place === 'on') continue
    if (place === 'out') return false
    return !holes.some((hole) => placeOf(point, hole) === 'in')
  }
  // All corners on the line: the same outline, or one cut from it.
  const [one, , three] = inner
  if (!one || !three) return false
  return placeOf([((one[0] ?? 0) + (three[0] ?? 0)) / 2, ((one[1] ?? 0) + (three[1] ?? 0)) / 2], outline) !== 'out'
}

/** By the number of edges that a line to the east meets. */
function placeOf([x = 0, y = 0]: Point, ring: readonly Point[]): 'in' | 'on' | 'out' {
  let isIn = false
  for (let at = 1; at < ring.length; at += 1) {
    const [x1 = 0, y1 = 0] = ring[at - 1] as Point
    const [x2 = 0, y2 = 0] = ring[at] as Point
    const side = (x2 - x1) * (y - y1) - (y2 - y1) * (x - x1)
    const isBeside = Math.min(x1, x2) <= x && x <= Math.max(x1, x2) && Math.min(y1, y2) <= y && y <= Math.max(y1, y2)
    if (side === 0 && isBeside) return 'on'
    if (y1 > y !== y2 > y && x < x1 + ((y - y1) / (y2 - y1)) * (x2 - x1)) isIn = !isIn
  }
  return isIn ? 'in' : 'out'
}
