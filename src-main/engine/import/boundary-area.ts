/**
 * Area of a field's boundary, on the ellipsoid: a sphere reads about 0.08 % too much where peanuts grow. Beside the
 * acres that the manager plants it is a check, never a replacement.
 */
import geodesic from 'geographiclib-geodesic'
import { SQUARE_METERS_PER_ACRE } from '../../../src-shared/agronomy/seed.ts'
import type { Boundary } from '../../../src-shared/field.ts'

/** A corner. [degree] WGS84, longitude first as in RFC 7946; a height after it is not used. */
type Position = readonly number[]

/**
 * Signed area of a ring along geodesics of WGS84: positive counter-clockwise, as RFC 7946 wants exteriors.
 * Source: C. F. F. Karney, GeographicLib (its own published test polygons are ours).
 * @param ring corners; the first may be repeated at the end
 * @returns [m²]
 */
export function ringSquareMeters(ring: readonly Position[]): number {
  const polygon = geodesic.Geodesic.WGS84.Polygon(false)
  for (const [longitude = Number.NaN, latitude = Number.NaN] of ring) polygon.AddPoint(latitude, longitude)
  return polygon.Compute(false, true).area ?? Number.NaN
}

/**
 * Acres inside a boundary: exteriors less holes, whichever way round they were drawn, all parts of a multi-polygon.
 * @returns [acre] ≥ 0 for rings that do not cross themselves
 */
export function boundaryAcres(boundary: Boundary): number {
  const polygons = boundary.type === 'Polygon' ? [boundary.coordinates] : boundary.coordinates
  const squareMeters = polygons.reduce((sum, [exterior = [], ...holes]) => {
    const inside = Math.abs(ringSquareMeters(exterior))
    return sum + holes.reduce((left, hole) => left - Math.abs(ringSquareMeters(hole)), inside)
  }, 0)
  return squareMeters / SQUARE_METERS_PER_ACRE
}
