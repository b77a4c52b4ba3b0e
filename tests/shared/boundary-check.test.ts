/** Outlines that are no field's: each is mended where it is plain, else refused, and what is good stays as it is. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checkBoundary } from '../../src-shared/boundary-check.ts'
import type { Boundary } from '../../src-shared/field.ts'
import { planarArea } from '../../src-shared/ring-crossings.ts'

/** Corners in thousandths of a degree from one place, closed. */
const ring = (...corners: [number, number][]) =>
  [...corners, corners[0] as [number, number]].map(([x, y]) => [-83 + x / 1000, 31 + y / 1000])
const polygon = (...rings: number[][][]): Boundary => ({ type: 'Polygon', coordinates: rings })
const parts = (...polygons: number[][][][]): Boundary => ({ type: 'MultiPolygon', coordinates: polygons })

const square = ring([0, 0], [10, 0], [10, 10], [0, 10])
const hole = ring([2, 2], [4, 2], [4, 4], [2, 4])
const wholeEarth = [
  [-180, -90],
  [180, -90],
  [180, 90],
  [-180, 90],
  [-180, -90],
]

test.each<[string, Boundary]>([
  ['a square', polygon(square)],
  ['a square with a hole', polygon(square, hole)],
  ['a square with two holes', polygon(square, hole, ring([6, 6], [8, 6], [8, 8]))],
  ['a hole that touches the outline in one corner', polygon(square, ring([0, 5], [3, 4], [3, 6]))],
  ['a square drawn clockwise', polygon(square.toReversed())],
  ['two lobes that touch in one corner', polygon(ring([0, 0], [5, 5], [10, 0], [10, 10], [5, 5], [0, 10]))],
  ['a corner written twice', polygon(ring([0, 0], [10, 0], [10, 0], [10, 10], [0, 10]))],
  ['a spike out and back', polygon(ring([0, 0], [10, 0], [10, 10], [5, 10], [5, 15], [5, 10], [0, 10]))],
  ['two parts side by side', parts([square], [ring([20, 0], [30, 0], [30, 10], [20, 10])])],
  ['two parts with one edge in common', parts([square], [ring([10, 0], [20, 0], [20, 10], [10, 10])])],
  ['an island in the hole of the other part', parts([square, hole], [ring([2.5, 2.5], [3.5, 2.5], [3.5, 3.5])])],
])('leaves %s as it is', (_what, boundary) => {
  expect(checkBoundary(boundary)).toEqual({ ok: true, boundary, mended: null })
})

test.each<[string, Boundary, string]>([
  ['a bow tie', polygon(ring([0, 0], [10, 10], [10, 0], [0, 10])), 'crosses itself'],
  [
    'a bow tie that crosses in a corner',
    polygon(ring([0, 0], [5, 5], [10, 10], [10, 0], [5, 5], [0, 10])),
    'crosses itself',
  ],
  ['a star drawn in one line', polygon(ring([0, 4], [10, 4], [2, 10], [5, 0], [8, 10])), 'crosses itself'],
  ['a hole larger than the field', polygon(square, ring([-90, -90], [90, -90], [90, 90], [-90, 90])), 'larger'],
  ['a hole that is the field', polygon(square, square), 'larger'],
  ['a hole outside', polygon(square, ring([20, 2], [24, 2], [24, 4])), 'outside'],
  ['a hole half outside', polygon(square, ring([8, 2], [14, 2], [14, 4], [8, 4])), 'outside'],
  ['two holes that overlap', polygon(square, hole, ring([3, 3], [6, 3], [6, 6])), 'overlap'],
  ['a hole in a hole', polygon(square, ring([1, 1], [8, 1], [8, 8], [1, 8]), hole), 'overlap'],
  ['the whole earth', polygon(wholeEarth), 'No field is that large'],
  ['a half of the earth', polygon([...wholeEarth.slice(0, 3), wholeEarth[0] as number[]]), 'No field is that large'],
  ['three corners on one line', polygon(ring([0, 0], [5, 5], [10, 10])), 'no ground'],
  ['one corner four times', polygon(ring([1, 1], [1, 1], [1, 1])), 'no ground'],
  ['a part on top of the other', parts([square], [ring([5, 5], [15, 5], [15, 15], [5, 15])]), 'overlap'],
  ['the same part twice', parts([square], [square]), 'overlap'],
  ['a part inside the other', parts([square], [hole]), 'overlap'],
])('refuses %s', (_what, boundary, what) => {
  expect(checkBoundary(boundary)).toMatchObject({ ok: false, what: expect.stringContaining(what) })
})

test('leaves out the small loop where a track ends over its beginning', () => {
  const track = ring([0, 0], [10, 0], [10, 10], [0, 10], [0.2, -0.2], [-0.2, -0.2])
  const checked = checkBoundary(polygon(track))
  expect(checked).toMatchObject({ ok: true, mended: 'Small loops in its outline were left out.' })
  const [mended = []] = (checked as { boundary: Boundary }).boundary.coordinates as number[][][]
  expect(Math.abs(planarArea(mended))).toBeGreaterThan(0.98 * 1e-4)
  expect(checkBoundary(polygon(mended))).toMatchObject({ ok: true, mended: null })
})

test('leaves out a hole without ground', () => {
  const checked = checkBoundary(polygon(square, ring([2, 2], [3, 3], [4, 4])))
  expect(checked).toEqual({ ok: true, boundary: polygon(square), mended: 'A hole without ground was left out.' })
})

test('accepts every star-shaped outline', () => {
  // Corners around a center by rising angle never cross: a fact of geometry, whatever their distances.
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 5, max: 100 }), { minLength: 8, maxLength: 60 }), (distances) => {
      const corners = distances.map((far, at): [number, number] => {
        const angle = (2 * Math.PI * at) / distances.length
        return [far * Math.cos(angle), far * Math.sin(angle)]
      })
      expect(checkBoundary(polygon(ring(...corners)))).toMatchObject({ ok: true, mended: null })
    }),
    { numRuns: 500, seed: 13 },
  )
})

type Corner = [number, number]
const corners = (count: number) =>
  Array.from({ length: count }, (_, at): Corner => {
    const angle = (2 * Math.PI * at) / count
    return [(100 + (at % 3)) * Math.cos(angle), (100 + (at % 3)) * Math.sin(angle)]
  })

/** [s] of this thread's processor time. */
function timed(work: () => void): number {
  const before = process.threadCpuUsage()
  work()
  const { user, system } = process.threadCpuUsage(before)
  return (user + system) / 1e6
}

/** How many pairs of sides cross, each held against every other. */
function crossings(outline: readonly Corner[]): number {
  const side = (a: Corner, b: Corner, c: Corner) => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
  let found = 0
  for (let one = 0; one + 1 < outline.length; one += 1) {
    const [a, b] = [outline[one] as Corner, outline[one + 1] as Corner]
    for (let other = one + 2; other + 1 < outline.length; other += 1) {
      const [c, d] = [outline[other] as Corner, outline[other + 1] as Corner]
      if (side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0) found += 1
    }
  }
  return found
}

test(
  'reads an outline of 50,000 corners by less work than holding every side against every other',
  { timeout: 300_000 },
  () => {
    const large = polygon(ring(...corners(50_000)))
    const ours = timed(() => expect(checkBoundary(large)).toMatchObject({ ok: true }))
    // A tenth of the corners has a hundredth of the pairs.
    const allPairs = 100 * timed(() => crossings(corners(5000)))
    expect(ours / allPairs).toBeLessThan(0.5)
  },
)
