/**
 * Areas of polygons. Published: GeographicLib's own test polygons (geographiclib-js, geodesictest.js, C. Karney), with
 * its tolerances. Field-size ones are derived with the same library, so they only keep acres and layout right; the
 * sphere is reckoned here, with the mean radius of 6,371,008.8 m.
 */
import geodesic from 'geographiclib-geodesic'
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { boundaryAcres, ringSquareMeters } from '../../src-main/engine/import/boundary-area.ts'
import { demoFarm } from '../shared/demo-farm.ts'

interface Published {
  id: string
  /** [latitude, longitude] */
  points?: [number, number][]
  start?: [number, number]
  /** [degree from north, m] */
  edges_azimuth_m?: [number, number][]
  area: number
}

interface Derived {
  id: string
  points: [number, number][]
  area_m2: number
  acres: number
}

const { published_GeographicLib: published, derived_field_size: derived } = JSON.parse(
  readFileSync(new URL('./tables/T9_polygon_area_vectors.json', import.meta.url), 'utf8'),
) as { published_GeographicLib: { cases: Published[] }; derived_field_size: { cases: Derived[] } }

/** The table has latitude first, a boundary longitude first. */
const ringOf = (points: readonly [number, number][]) => points.map(([latitude, longitude]) => [longitude, latitude])
const caseOf = (id: string) => published.cases.find((each) => each.id === id) as Published
const fieldOf = (id: string) => derived.cases.find((each) => each.id === id) as Derived

describe('T9, published', () => {
  const tolerance = (id: string) => (id === 'Planimeter15' ? 0.5 : 1)

  it.each(published.cases.filter((each) => each.points))('$id: $area m²', ({ id, points = [], area }) => {
    expect(Math.abs(ringSquareMeters(ringOf(points)) - area)).toBeLessThanOrEqual(tolerance(id))
  })

  it('Planimeter15 the other way round is the same area, negative', () => {
    const { points = [], area } = caseOf('Planimeter15')
    expect(Math.abs(ringSquareMeters(ringOf(points.toReversed())) + area)).toBeLessThanOrEqual(0.5)
  })

  it('Planimeter29: a square kilometre walked by bearings from (0, 0), to 0.01 m²', () => {
    const { start = [0, 0], edges_azimuth_m: edges = [], area } = caseOf('Planimeter29')
    const points: [number, number][] = [start]
    for (const [azimuth, meters] of edges) {
      const [latitude, longitude] = points.at(-1) as [number, number]
      const end = geodesic.Geodesic.WGS84.Direct(latitude, longitude, azimuth, meters)
      points.push([end.lat2 as number, end.lon2 as number])
    }
    expect(points).toHaveLength(4)
    expect(Math.abs(ringSquareMeters(ringOf(points)) - area)).toBeLessThanOrEqual(0.01)
  })

  it('has all eight cases', () => {
    expect(published.cases).toHaveLength(8)
  })
})

describe('T9, of field size (derived)', () => {
  it.each(derived.cases)('$id: $acres acres', ({ points, area_m2: area, acres }) => {
    const ring = ringOf(points)
    const closed = [...ring, ring[0] as number[]]
    expect(Math.abs(Math.abs(ringSquareMeters(ring)) - area)).toBeLessThanOrEqual(0.001)
    expect(boundaryAcres({ type: 'Polygon', coordinates: [closed] })).toBeCloseTo(acres, 5)
    // Drawn clockwise, as many programs do.
    expect(boundaryAcres({ type: 'Polygon', coordinates: [closed.toReversed()] })).toBeCloseTo(acres, 5)
  })

  it('an exterior with a hole, and parts side by side', () => {
    const [whole, inner] = [fieldOf('SWGA_rect'), fieldOf('FL_rect')]
    // A pond of 0.002° square inside; on its own it is about a 25th of the field.
    const pond = [
      [-83.596, 31.504],
      [-83.594, 31.504],
      [-83.594, 31.506],
      [-83.596, 31.506],
      [-83.596, 31.504],
    ]
    const ring = ringOf(whole.points)
    const closed = [...ring, ring[0] as number[]]
    const pondAcres = boundaryAcres({ type: 'Polygon', coordinates: [pond] })
    expect(pondAcres).toBeGreaterThan(10)
    expect(pondAcres).toBeLessThan(11)
    expect(boundaryAcres({ type: 'Polygon', coordinates: [closed, pond] })).toBeCloseTo(whole.acres - pondAcres, 5)
    const other = ringOf(inner.points)
    const parts = [[closed], [[...other, other[0] as number[]]]]
    expect(boundaryAcres({ type: 'MultiPolygon', coordinates: parts })).toBeCloseTo(whole.acres + inner.acres, 5)
  })

  it('a sphere reads 0.08 % more: 0.21 acre on 260', () => {
    const { points, acres } = fieldOf('SWGA_rect')
    // Between two parallels and two meridians a sphere's area is R² × Δλ × (sin φ₂ − sin φ₁).
    const [south, north] = [Math.min(...points.map((p) => p[0])), Math.max(...points.map((p) => p[0]))]
    const [west, east] = [Math.min(...points.map((p) => p[1])), Math.max(...points.map((p) => p[1]))]
    const radians = (degrees: number) => (degrees * Math.PI) / 180
    const sphere = 6_371_008.8 ** 2 * radians(east - west) * (Math.sin(radians(north)) - Math.sin(radians(south)))
    const over = sphere / 4046.8564224 / acres - 1
    expect(over).toBeGreaterThan(0.0008)
    expect(over).toBeLessThan(0.00085)
    expect(acres * over).toBeCloseTo(0.21, 2)
  })
})

it("the demo's boundaries hold about the acres that its fields plant", () => {
  const fields = demoFarm().fields.filter((field) => field.boundary !== undefined)
  expect(fields.length).toBeGreaterThan(10)
  for (const { name, acres, boundary } of fields) {
    const ratio = boundary ? boundaryAcres(boundary) / acres : Number.NaN
    expect(ratio, name).toBeGreaterThan(0.9)
    expect(ratio, name).toBeLessThan(1.1)
  }
})
