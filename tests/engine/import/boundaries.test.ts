/** Boundaries brought in from GeoJSON, KML and zipped shapefiles: by name, with their acres, or refused and why. */
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { createFarm } from '../../../src-main/engine/farm-file.ts'
import { boundaryAcres } from '../../../src-main/engine/import/boundary-area.ts'
import { readBoundaries } from '../../../src-main/engine/import/read-boundaries.ts'
import { readBoundaryFile } from '../../../src-main/engine/import/read-boundary-file.ts'
import { startTestEngine, type TestEngine } from '../../support/engine.ts'
import { dumpOf, smallSeason } from '../../support/open-file.ts'
import { shapefileZip } from '../../support/shapefile-zip.ts'

function smallFarm(): TestEngine {
  const test = startTestEngine()
  onTestFinished(() => test.close())
  const made = createFarm(join(test.engine.home, 'Small.farm'), smallSeason())
  if (!made.ok) throw new Error(JSON.stringify(made.problems))
  test.engine.farm = made.value
  return test
}

const csv = (text: string, name = 'file.csv') => ({ name, base64: Buffer.from(text).toString('base64') })

const square = (west: number) => [
  [
    [west, 31],
    [west + 0.01, 31],
    [west + 0.01, 31.01],
    [west, 31.01],
    [west, 31],
  ],
]

test('a pin on a shop is set aside, and the boundaries beside it come in', async () => {
  const farm = smallFarm()
  const feature = (name: string, geometry: object) => ({ type: 'Feature', properties: { name }, geometry })
  const features = [
    feature('hill', { type: 'Polygon', coordinates: square(-83) }),
    feature('Shop', { type: 'Point', coordinates: [-83, 31] }),
  ]
  const file = csv(JSON.stringify({ type: 'FeatureCollection', features }), 'map.geojson')
  const look = await farm.must('boundary.look', { file })
  expect(look.rows.map(({ fate, what }) => [fate, what])).toEqual([
    ['added', ''],
    ['blank', 'It is a point, not a boundary.'],
  ])
  expect(await farm.must('boundary.apply', { file, onlyGood: false, setAcres: false })).toMatchObject({ isDone: true })
})

test('boundaries by name: GeoJSON and KML, with their acres if wanted; a strange one is refused', async () => {
  const farm = smallFarm()
  const before = dumpOf(farm.engine.farm!.connection)
  const feature = (name: string, geometry: object) => ({
    type: 'Feature',
    properties: { id: 7, Field: name },
    geometry,
  })
  const features = [
    feature('hill', { type: 'Polygon', coordinates: square(-83) }),
    feature('Nowhere', { type: 'Polygon', coordinates: square(-82) }),
    feature('Long Field', { type: 'Point', coordinates: [-83, 31] }),
  ]
  const file = csv(JSON.stringify({ type: 'FeatureCollection', features }), 'map.geojson')
  const look = await farm.must('boundary.look', { file })
  expect(look.property).toBe('Field')
  expect(look.rows.map(({ fate }) => fate)).toEqual(['added', 'refused', 'refused'])
  expect(await farm.must('boundary.apply', { file, onlyGood: false, setAcres: true })).toMatchObject({ isDone: false })
  await farm.must('boundary.apply', { file, onlyGood: true, setAcres: true })
  const hill = (await farm.must('field.list', {})).find((row) => row.name === 'Hill')
  // About 0.954 by 1.109 km.
  expect(hill?.boundaryAcres).toBeCloseTo(261.5, 0)
  expect(hill?.acres).toBe(Math.round(hill!.boundaryAcres! * 10) / 10)
  await farm.must('undo.back', {})
  expect(dumpOf(farm.engine.farm!.connection)).toEqual(before)
  // With what a field needs beside its ground, the strange one becomes a field.
  const newFields = { water: 'dryland' as const, yieldGoalLb: 4000 }
  const fresh = await farm.must('boundary.look', { file, newFields })
  expect(fresh.rows.map(({ fate, isNew }) => [fate, isNew])).toEqual([
    ['added', false],
    ['added', true],
    ['refused', false],
  ])
  await farm.must('boundary.apply', { file, newFields, onlyGood: true, setAcres: false })
  const made = (await farm.must('field.list', {})).find((row) => row.name === 'Nowhere')
  expect(made).toMatchObject({ water: 'dryland', yieldGoalLb: 4000, rowPattern: 'single' })
  expect(made?.acres).toBe(Math.round(made!.boundaryAcres! * 10) / 10)
  await farm.must('undo.back', {})
  expect(dumpOf(farm.engine.farm!.connection)).toEqual(before)
  const ring = square(-83)[0]!
    .map(([x, y]) => `${x},${y},0`)
    .join(' ')
  const kml = `<?xml version="1.0"?><kml xmlns="http://www.opengis.net/kml/2.2"><Document><Placemark><name>Hill</name><Polygon><outerBoundaryIs><LinearRing><coordinates>${ring}</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark></Document></kml>`
  const fromKml = await farm.must('boundary.look', { file: csv(kml, 'map.kml') })
  expect(fromKml.rows).toMatchObject([{ name: 'Hill', fate: 'added', acres: expect.closeTo(look.rows[0]!.acres!, 6) }])
})

test.each([
  ['entities.kml', '<!DOCTYPE x [<!ENTITY a "b">]><kml>&a;</kml>'],
  ['broken.kml', '<kml><Document>'],
  ['not.geojson', '{"type":"Nothing"}'],
  ['cut.geojson', '{"type":'],
  ['a.shp', 'xx'],
  ['cut.zip', 'PK\u0003\u0004cut'],
])('%s holds no boundaries and says so', async (name, text) => {
  const farm = smallFarm()
  const reply = await farm.call('boundary.look', {
    file: { name, base64: Buffer.from(text, 'latin1').toString('base64') },
  })
  expect(reply).toMatchObject({
    ok: false,
    problems: [{ code: 'bad-file', remedy: expect.stringContaining('GeoJSON') }],
  })
  expect(farm.bugs).toEqual([])
})

test('a zipped shapefile', async () => {
  const farm = smallFarm()
  // Clockwise, as the format wants exteriors.
  const ring = [...square(-83)[0]!].reverse().map(([x, y]) => [x, y] as [number, number])
  const file = { name: 'map.zip', base64: shapefileZip('Hill', ring).toString('base64') }
  const look = await farm.must('boundary.look', { file })
  expect(look).toMatchObject({
    property: 'FIELD',
    rows: [{ name: 'Hill', fate: 'added', acres: expect.closeTo(261.5, 0) }],
  })
})

const placed = (name: string, geometry: object) => ({ type: 'Feature', properties: { field: name }, geometry })
const collection = (...features: object[]) => JSON.stringify({ type: 'FeatureCollection', features })

test('the parts of a field: a multi-polygon, a collection with a point, and a collection without ground', async () => {
  const both = { type: 'MultiPolygon', coordinates: [square(-83), square(-82)] }
  const polygons = [-83, -82].map((west) => ({ type: 'Polygon', coordinates: square(west) }))
  const mixed = { type: 'GeometryCollection', geometries: [...polygons, { type: 'Point', coordinates: [-83, 31] }] }
  const nested = { type: 'GeometryCollection', geometries: [both] }
  const bare = { type: 'GeometryCollection', geometries: [{ type: 'Point', coordinates: [-83, 31] }] }
  const empty = { type: 'GeometryCollection' }
  const shapes = { both, mixed, nested, bare, empty }
  const text = collection(...Object.entries(shapes).map(([name, geometry]) => placed(name, geometry)))
  const read = await readBoundaryFile('map.geojson', Buffer.from(text))
  if (!read.ok) throw new Error(JSON.stringify(read.problems))
  const acres = read.value.features.map(({ boundary }) => boundary && Math.round(boundaryAcres(boundary)))
  expect(acres).toEqual([523, 523, 523, null, null])
  const one = await readBoundaryFile('map.geojson', Buffer.from(JSON.stringify(placed('Hill', both))))
  expect(one.ok ? one.value.features : []).toHaveLength(1)
  expect(await readBoundaryFile('map.geojson', Buffer.from(collection()))).toMatchObject({
    problems: [{ what: expect.stringContaining('there is nothing in it') }],
  })
})

test('what is not on earth or not closed is no boundary', async () => {
  const rings = [
    square(-83)[0]!.slice(0, 4),
    square(-83)[0]!.map(([x, y]) => [x! * 3, y!]),
    square(-83)[0]!.map(([x, y]) => [x!, y! * 3]),
  ]
  const text = collection(...rings.map((ring) => placed('Hill', { type: 'Polygon', coordinates: [ring] })))
  const read = await readBoundaryFile('map.geojson', Buffer.from(text))
  expect(read.ok ? read.value.features.map(({ boundary }) => boundary) : []).toEqual([null, null, null])
})

test.each<[string, string, object]>([
  ['{', 'no JSON', { code: 'bad-file' }],
  ['[]', 'no collection', { code: 'bad-file', remedy: expect.stringContaining('GeoJSON') }],
  [
    collection({ type: 'Feature', properties: { id: 7 }, geometry: null }),
    'a boundary without a name',
    { code: 'missing', where: { path: 'features[0]' }, remedy: 'Give it a property "field" with the name.' },
  ],
  [
    collection({ type: 'Feature', properties: null, geometry: null }),
    'one without properties',
    { code: 'missing', where: { path: 'features[0]' } },
  ],
  [
    collection(placed('Hill', { type: 'Polygon', coordinates: [square(-83)[0]!.slice(0, 4)] })),
    'one that is not closed',
    { code: 'bad-value', where: { path: 'features[0]', name: 'Hill' } },
  ],
  [
    collection(placed('Hill', { type: 'Point', coordinates: [-83, 31] })),
    'a point',
    { code: 'bad-value', what: expect.stringContaining('Hill is not a closed polygon') },
  ],
  [
    collection(...[-83, -82].map((west) => placed('Hill', { type: 'Polygon', coordinates: square(west) }))),
    'two of one field',
    {
      code: 'repeated-name',
      where: { path: 'features[1]', name: 'Hill' },
      remedy: 'Join them into one multi-polygon.',
    },
  ],
])('of a season’s own boundaries %s is refused: %s', (text, _what, problem) => {
  expect(readBoundaries(text, 'b.geojson')).toMatchObject({ ok: false, problems: [problem] })
})

test('a multi-polygon is a boundary of a season', () => {
  const both = { type: 'MultiPolygon', coordinates: [square(-83), square(-82)] }
  const read = readBoundaries(collection(placed('Hill', both)), 'b.geojson')
  expect(read.ok ? [...read.value.keys()] : []).toEqual(['Hill'])
})

const bowTie = [
  [-83, 31],
  [-82.99, 31.01],
  [-82.99, 31],
  [-83, 31.01],
  [-83, 31],
]
const wholeEarth = [
  [-180, -90],
  [180, -90],
  [180, 90],
  [-180, 90],
  [-180, -90],
]
const largeHole = square(-83)[0]!.map(([x, y]) => [-83 + (x! + 83) * 10 - 0.04, 31 + (y! - 31) * 10 - 0.04])

test.each<[string, number[][][], string]>([
  ['a bow tie', [bowTie], 'crosses itself'],
  ['a hole larger than the field', [square(-83)[0]!, largeHole], 'A hole is as large as the field or larger'],
  ['the whole earth', [wholeEarth], 'No field is that large'],
])('refuses %s with a picture and writes nothing', async (_what, coordinates, what) => {
  const farm = smallFarm()
  const before = dumpOf(farm.engine.farm!.connection)
  const file = csv(collection(placed('Hill', { type: 'Polygon', coordinates })), 'map.geojson')
  const look = await farm.must('boundary.look', { file })
  expect(look.rows).toMatchObject([
    { name: 'Hill', fate: 'refused', acres: null, what: expect.stringContaining(what), remedy: expect.any(String) },
  ])
  expect(look.rows[0]?.picture).toMatch(/^(M[\d.]+ [\d.]+(L[\d.]+ [\d.]+)+)+$/)
  await farm.must('boundary.apply', { file, onlyGood: true, setAcres: true })
  expect(dumpOf(farm.engine.farm!.connection)).toEqual(before)
  const cells = [{ id: 1, path: 'boundary', value: { type: 'Polygon', coordinates } as never }]
  const typed = await farm.call('sheet.change', { sheet: 'field', says: 'Draw', cells, added: [], removed: [] })
  expect(JSON.stringify(typed)).toContain(what)
  expect(dumpOf(farm.engine.farm!.connection)).toEqual(before)
  const own = readBoundaries(collection(placed('Hill', { type: 'Polygon', coordinates })), 'b.geojson')
  expect(own).toMatchObject({ ok: false, problems: [{ code: 'bad-value', where: { name: 'Hill' } }] })
})

test('mends a boundary where it is plain, and says so', async () => {
  const farm = smallFarm()
  const track = [...square(-83)[0]!.slice(0, 4), [-82.9999, 30.9999], [-83.0001, 30.9999], [-83, 31]]
  const file = csv(collection(placed('Hill', { type: 'Polygon', coordinates: [track] })), 'map.geojson')
  const look = await farm.must('boundary.look', { file })
  expect(look.rows).toMatchObject([{ fate: 'added', what: 'Small loops in its outline were left out.' }])
  expect(look.rows[0]?.acres).toBeGreaterThan(255)
  expect(look.rows[0]?.picture).not.toBeNull()
})
