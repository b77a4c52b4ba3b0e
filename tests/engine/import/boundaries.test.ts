/** Boundaries brought in from GeoJSON, KML and zipped shapefiles: by name, with their acres, or refused and why. */
import { join } from 'node:path'
import { expect, onTestFinished, test } from 'vitest'
import { createFarm } from '../../../src-main/engine/farm-file.ts'
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
