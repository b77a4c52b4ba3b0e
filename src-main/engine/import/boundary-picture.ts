/** A small picture of what was read, for a boundary that is refused: its rings as path data of SVG, in a box of 100 by 100. */
import type { Boundary } from '../../../src-shared/field.ts'

const size = 100
/** Corners of one picture; a longer outline is thinned. */
const mostCorners = 600

/** Only letters, digits, points and blanks: nothing of the file but its numbers is in it. */
export function picturePath(boundary: Boundary): string {
  const polygons = boundary.type === 'Polygon' ? [boundary.coordinates] : boundary.coordinates
  const rings = polygons.flat()
  const corners = rings.reduce((sum, ring) => sum + ring.length, 0)
  const step = Math.ceil(corners / mostCorners)
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const [x = 0, y = 0] of rings.flat()) {
    west = Math.min(west, x)
    east = Math.max(east, x)
    south = Math.min(south, y)
    north = Math.max(north, y)
  }
  // A degree of longitude is shorter away from the equator.
  const narrow = Math.max(0.01, Math.cos((((south + north) / 2) * Math.PI) / 180))
  const scale = size / Math.max((east - west) * narrow, north - south, 1e-9)
  const show = (value: number) => String(Math.round(value * 10) / 10)
  return rings
    .map((ring) =>
      ring
        .filter((_, at) => at % step === 0 || at === ring.length - 1)
        .map(([x = 0, y = 0], at) => {
          const place = `${show((x - west) * narrow * scale)} ${show((north - y) * scale)}`
          return `${at === 0 ? 'M' : 'L'}${place}`
        })
        .join(''),
    )
    .join('')
}
