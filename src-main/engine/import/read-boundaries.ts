/** GeoJSON → the boundary of each field, found by a property that holds the field's name. RFC 7946: WGS84. */
import * as v from 'valibot'
import { boundarySchema, type Boundary } from '../../../src-shared/field.ts'
import { checkBoundary } from '../../../src-shared/boundary-check.ts'
import { fail, ok, type Problem, type Result } from '../../../src-shared/problem.ts'
import { readJson } from '../../../src-shared/read-file.ts'

const collection = v.looseObject({
  type: v.literal('FeatureCollection'),
  features: v.array(
    v.looseObject({
      type: v.literal('Feature'),
      properties: v.nullable(v.record(v.string(), v.unknown())),
      geometry: v.unknown(),
    }),
  ),
})

/** Properties that may hold the field's name, in the order tried. */
const nameProperties = ['field', 'name', 'Name', 'FIELD', 'NAME']

export function readBoundaries(text: string, file: string): Result<Map<string, Boundary>> {
  const json = readJson(text, file)
  if (!json.ok) return json
  const parsed = v.safeParse(collection, json.value)
  if (!parsed.success) {
    return fail({
      code: 'bad-file',
      what: 'The file is not a GeoJSON feature collection.',
      where: { file },
      remedy: 'Export the boundaries as GeoJSON (RFC 7946) and try again.',
    })
  }
  const problems: Problem[] = []
  const found = new Map<string, Boundary>()
  parsed.output.features.forEach((feature, index) => {
    const path = `features[${index}]`
    const name = nameProperties
      .map((property) => feature.properties?.[property])
      .find((value) => typeof value === 'string')
    const boundary = v.safeParse(boundarySchema, feature.geometry)
    if (typeof name !== 'string') {
      problems.push({
        code: 'missing',
        what: 'A boundary has no field name.',
        where: { file, path },
        remedy: 'Give it a property "field" with the name.',
      })
    } else if (!boundary.success || !isOnEarth(boundary.output)) {
      problems.push({
        code: 'bad-value',
        what: `The boundary of ${name} is not a closed polygon in degrees of longitude and latitude.`,
        where: { file, path, name },
        remedy: 'Export it as a polygon in WGS84, longitude first.',
      })
    } else if (found.has(name)) {
      problems.push({
        code: 'repeated-name',
        what: `${name} has two boundaries.`,
        where: { file, path, name },
        remedy: 'Join them into one multi-polygon.',
      })
    } else {
      const checked = checkBoundary(boundary.output)
      if (checked.ok) found.set(name, checked.boundary)
      else {
        const what = `The boundary of ${name} is refused. ${checked.what}`
        problems.push({ code: 'bad-value', what, where: { file, path, name }, remedy: checked.remedy })
      }
    }
  })
  return problems.length > 0 ? fail(...problems) : ok(found)
}

/** Every ring closed, and in degrees. */
export function isOnEarth(boundary: Boundary): boolean {
  const polygons = boundary.type === 'Polygon' ? [boundary.coordinates] : boundary.coordinates
  return polygons.flat().every((ring) => {
    const [first, last] = [ring[0] as number[], ring.at(-1) as number[]]
    const isClosed = first[0] === last[0] && first[1] === last[1]
    return (
      isClosed &&
      ring.every(([longitude = 999, latitude = 999]) => Math.abs(longitude) <= 180 && Math.abs(latitude) <= 90)
    )
  })
}
