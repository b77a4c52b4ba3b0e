/** Boundaries brought in from GeoJSON, KML and zipped shapefiles: by name, with their acres, or refused and why. */
import { join } from 'node:path'
import { crc32 } from 'node:zlib'
import { expect, onTestFinished, test } from 'vitest'
import { createFarm } from '../../../src-main/engine/farm-file.ts'
import { startTestEngine, type TestEngine } from '../../support/engine.ts'
import { dumpOf, smallSeason } from '../../support/open-file.ts'

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

/** A shapefile of one polygon with its table, zipped without packing: written here byte by byte from the published format. */
function shapefileZip(name: string, ring: readonly (readonly [number, number])[]): Buffer {
  const content = Buffer.alloc(44 + 4 + 16 * ring.length)
  content.writeInt32LE(5, 0)
  const [xs, ys] = [ring.map(([x]) => x), ring.map(([, y]) => y)]
  const box = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)]
  box.forEach((value, at) => content.writeDoubleLE(value, 4 + 8 * at))
  content.writeInt32LE(1, 36)
  content.writeInt32LE(ring.length, 40)
  ring.forEach(([x, y], at) => {
    content.writeDoubleLE(x, 48 + 16 * at)
    content.writeDoubleLE(y, 56 + 16 * at)
  })
  const record = Buffer.alloc(8)
  record.writeInt32BE(1, 0)
  record.writeInt32BE(content.length / 2, 4)
  const header = Buffer.alloc(100)
  header.writeInt32BE(9994, 0)
  header.writeInt32BE((100 + 8 + content.length) / 2, 24)
  header.writeInt32LE(1000, 28)
  header.writeInt32LE(5, 32)
  box.forEach((value, at) => header.writeDoubleLE(value, 36 + 8 * at))
  const dbf = Buffer.alloc(32 + 32 + 1 + 1 + 20, 0x20)
  dbf.fill(0, 0, 64)
  dbf.writeUInt8(3, 0)
  dbf.writeUInt32LE(1, 4)
  dbf.writeUInt16LE(65, 8)
  dbf.writeUInt16LE(21, 10)
  dbf.write('FIELD', 32, 'latin1')
  dbf.write('C', 43, 'latin1')
  dbf.writeUInt8(20, 48)
  dbf.writeUInt8(0x0d, 64)
  dbf.write(name, 66, 'latin1')
  return storedZip({ 'fields.shp': Buffer.concat([header, record, content]), 'fields.dbf': dbf })
}

function storedZip(files: Record<string, Buffer>): Buffer {
  const parts: Buffer[] = []
  const directory: Buffer[] = []
  let at = 0
  for (const [name, bytes] of Object.entries(files)) {
    const fields = Buffer.alloc(26)
    fields.writeUInt16LE(20, 0)
    fields.writeUInt32LE(crc32(bytes), 10)
    fields.writeUInt32LE(bytes.length, 14)
    fields.writeUInt32LE(bytes.length, 18)
    fields.writeUInt16LE(name.length, 22)
    const local = Buffer.concat([Buffer.from('PK\u0003\u0004', 'latin1'), fields, Buffer.from(name), bytes])
    const entry = Buffer.alloc(14)
    entry.writeUInt32LE(at, 10)
    directory.push(
      Buffer.concat([Buffer.from('PK\u0001\u0002\u0014\u0000', 'latin1'), fields, entry, Buffer.from(name)]),
    )
    parts.push(local)
    at += local.length
  }
  const list = Buffer.concat(directory)
  const end = Buffer.alloc(22)
  end.writeUInt32LE(0x06054b50, 0)
  end.writeUInt16LE(directory.length, 8)
  end.writeUInt16LE(directory.length, 10)
  end.writeUInt32LE(list.length, 12)
  end.writeUInt32LE(at, 16)
  return Buffer.concat([...parts, list, end])
}

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
