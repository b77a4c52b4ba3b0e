/**
 * Boundaries from what map programs and dealers' portals write: GeoJSON, KML, a zipped shapefile. Libraries read the
 * formats; here it is decided what is a field's boundary. A projected shapefile is brought to longitude and latitude.
 */
import * as v from 'valibot'
import { boundarySchema, type Boundary } from '../../../src-shared/field.ts'
import { checkBoundary } from '../../../src-shared/boundary-check.ts'
import { fail, ok, type Result } from '../../../src-shared/problem.ts'
import { picturePath } from './boundary-picture.ts'
import { isOnEarth } from './read-boundaries.ts'
import { xmlFault } from './xml-shape.ts'
import { safeZip } from './zip.ts'
import { shapefileFault } from './zip-claims.ts'

export interface BoundaryFile {
  /** Names of the properties that hold text or numbers, the likeliest to be the name first. */
  properties: string[]
  features: ({ properties: Record<string, string> } & BoundaryRead)[]
}

export interface BoundaryRead {
  /** Null: it is no boundary of a field. */
  boundary: Boundary | null
  /** Why it is none, or what was mended; empty where it is taken as it was read. */
  what: string
  remedy: string
  /** A pin on the map, as of a shop or a well. */
  isPoint: boolean
  /** Path data of a picture of what was read, where that was refused or mended. */
  picture: string | null
}

const likely = ['field', 'name', 'fieldname', 'field_name', 'field name', 'title', 'id']

/** GeoJSON, a shapefile in a zip, or KML, by what is in it. @returns outlines, or why the file is none */
export async function readBoundaryFile(name: string, bytes: Buffer): Promise<Result<BoundaryFile>> {
  try {
    const features = await featuresOf(name, bytes)
    if (typeof features === 'string') return refuse(name, features)
    if (features.length === 0) return refuse(name, 'there is nothing in it')
    return ok(shaped(features))
  } catch {
    return refuse(name, 'it is damaged or of another format')
  }
}

function refuse(file: string, why: string): Result<never> {
  return fail({
    code: 'bad-file',
    what: `The boundaries in “${file}” cannot be read: ${why}.`,
    where: { file },
    remedy: 'Export them as GeoJSON, KML or a zipped shapefile and try again.',
  })
}

interface Feature {
  properties: Record<string, unknown> | null
  geometry: unknown
}

/** A sentence's end where they cannot be had. */
async function featuresOf(name: string, bytes: Buffer): Promise<Feature[] | string> {
  if (bytes[0] === 0x50 && bytes[1] === 0x4b) {
    const zip = safeZip(bytes)
    if (!zip.ok) return zip.why
    const claim = shapefileFault(zip.files)
    if (claim !== null) return claim
    // Readers are loaded when they are needed: the engine starts without.
    const { default: readShapefile } = await import('shpjs')
    const found = await readShapefile(new Uint8Array(zip.bytes).buffer)
    return [found].flat().flatMap((collection) => collection.features as Feature[])
  }
  const text = bytes.toString('utf8').replace(/^\uFEFF/, '')
  if (/^\s*</.test(text)) {
    // Entities of one's own can be made to grow without end; no map program writes them.
    if (/<!(DOCTYPE|ENTITY)/i.test(text)) return 'it defines entities of its own'
    const fault = xmlFault(text)
    if (fault !== null) return fault
    // What is wrong is thrown; nothing is to be printed.
    const [{ kml }, { DOMParser }] = await Promise.all([import('@tmcw/togeojson'), import('@xmldom/xmldom')])
    const parser = new DOMParser({ onError: () => undefined })
    return kml(parser.parseFromString(text, 'text/xml')).features as Feature[]
  }
  if (/\.(shp|dbf|shx|prj)$/i.test(name)) return 'a shapefile comes in several files; put them into one zip'
  return v.parse(geoJson, JSON.parse(text)).features
}

const feature = v.looseObject({ properties: v.nullish(v.record(v.string(), v.unknown()), null), geometry: v.unknown() })
const geoJson = v.pipe(
  v.union([
    v.looseObject({ type: v.literal('FeatureCollection'), features: v.array(feature) }),
    v.pipe(
      v.looseObject({ type: v.literal('Feature'), ...feature.entries }),
      v.transform((only) => ({ type: 'FeatureCollection', features: [only] })),
    ),
  ]),
)

function shaped(features: readonly Feature[]): BoundaryFile {
  const read = features.map(({ properties, geometry }) => ({
    properties: Object.fromEntries(
      Object.entries(properties ?? {})
        .filter(([, value]) => typeof value === 'string' || typeof value === 'number')
        .map(([key, value]) => [key, String(value).trim()]),
    ),
    ...judged(boundaryOf(geometry), /^(?:Multi)?Point$/.test((geometry as { type?: string } | null)?.type ?? '')),
  }))
  const names = [...new Set(read.flatMap(({ properties }) => Object.keys(properties)))]
  const rank = (name: string) => {
    const at = likely.indexOf(name.toLowerCase())
    return at < 0 ? likely.length : at
  }
  return { properties: names.toSorted((one, other) => rank(one) - rank(other)), features: read }
}

function judged(read: Boundary | null, isPoint: boolean): BoundaryRead {
  if (isPoint) return { boundary: null, what: 'It is a point, not a boundary.', remedy: '', isPoint, picture: null }
  if (read === null) {
    const what = 'It is no closed polygon in degrees.'
    return { boundary: null, what, remedy: 'Export it as a polygon in longitude and latitude.', isPoint, picture: null }
  }
  const checked = checkBoundary(read)
  if (!checked.ok)
    return { boundary: null, what: checked.what, remedy: checked.remedy, isPoint, picture: picturePath(read) }
  const { boundary, mended } = checked
  return { boundary, what: mended ?? '', remedy: '', isPoint, picture: mended === null ? null : picturePath(read) }
}

/** Polygons of a collection are one field's parts. Heights are dropped. */
function boundaryOf(geometry: unknown): Boundary | null {
  const given = geometry as { type?: string; geometries?: unknown[]; coordinates?: unknown } | null
  if (given?.type === 'GeometryCollection') {
    const parts = (given.geometries ?? []).map(boundaryOf).filter((part) => part !== null)
    const polygons = parts.flatMap((part) => (part.type === 'Polygon' ? [part.coordinates] : part.coordinates))
    return polygons.length === 0 ? null : checked({ type: 'MultiPolygon', coordinates: polygons })
  }
  return checked({ type: given?.type, coordinates: given?.coordinates })
}

function checked(geometry: unknown): Boundary | null {
  const parsed = v.safeParse(boundarySchema, geometry)
  if (!parsed.success) return null
  const flat = (ring: number[][]) => ring.map(([longitude = 999, latitude = 999]) => [longitude, latitude])
  const boundary: Boundary =
    parsed.output.type === 'Polygon'
      ? { type: 'Polygon', coordinates: parsed.output.coordinates.map(flat) }
      : { type: 'MultiPolygon', coordinates: parsed.output.coordinates.map((polygon) => polygon.map(flat)) }
  return isOnEarth(boundary) ? boundary : null
}
