/** Files that are meant to do harm, or that real programs write and readers trip over. */
import { deflateRawSync } from 'node:zlib'
import { storedZip } from '../support/shapefile-zip.ts'

/** A zip entry packed, whose directory says `saidSize` and whose bytes unpack to `size` noughts. */
function bomb(name: string, size: number, saidSize: number): Buffer {
  const packed = deflateRawSync(Buffer.alloc(size))
  const zip = storedZip({ [name]: packed })
  // Method: deflated; size unpacked as it is said, in the entry and in the directory.
  for (const [mark, method, unpacked] of [
    ['PK\u0003\u0004', 8, 22],
    ['PK\u0001\u0002', 10, 24],
  ] as const) {
    const at = zip.indexOf(Buffer.from(mark, 'latin1'))
    zip.writeUInt16LE(8, at + method)
    zip.writeUInt32LE(saidSize, at + unpacked)
  }
  return zip
}

const deepJson = `{"type":"FeatureCollection","features":${'['.repeat(200_000)}${']'.repeat(200_000)}}`
/** What it is, how it is read, its name, its bytes. */
export const byHand: [string, string, string, () => Buffer][] = [
  ['a zip bomb that says its size', 'table', 'bomb.xlsx', () => bomb('xl/workbook.xml', 300_000_000, 300_000_000)],
  ['a zip bomb that lies', 'table', 'bomb.xlsx', () => bomb('xl/workbook.xml', 300_000_000, 1000)],
  ['a zip bomb as a shapefile', 'boundary', 'bomb.zip', () => bomb('fields.shp', 300_000_000, 1000)],
  [
    'names that climb out of the zip',
    'boundary',
    'climb.zip',
    () => storedZip({ '../../../evil.shp': Buffer.alloc(200), '/etc/evil.dbf': Buffer.alloc(70) }),
  ],
  [
    'entities that grow',
    'boundary',
    'laugh.kml',
    () => Buffer.from('<!DOCTYPE k [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">]><kml>&b;</kml>'),
  ],
  [
    'entities that reach for a file',
    'boundary',
    'reach.kml',
    () => Buffer.from('<!DOCTYPE k [<!ENTITY a SYSTEM "file:///etc/passwd">]><kml><name>&a;</name></kml>'),
  ],
  ['JSON two hundred thousand deep', 'boundary', 'deep.geojson', () => Buffer.from(deepJson)],
  [
    'a cell of five million characters',
    'table',
    'huge.csv',
    () => Buffer.from(`Field,Planted\n${'x'.repeat(5_000_000)},1\n`),
  ],
  [
    'ten thousand columns',
    'table',
    'wide.csv',
    () => Buffer.from(`${Array.from({ length: 10_000 }, (_, n) => `c${n}`).join(',')}\n1\n`),
  ],
  ['three hundred thousand rows', 'table', 'long.csv', () => Buffer.from(`Field,Planted\n${'a,1\n'.repeat(300_000)}`)],
  [
    'a quote that never ends',
    'table',
    'quote.csv',
    () => Buffer.from(`Field,Planted\n"Creek,88\n${'x,1\n'.repeat(100_000)}`),
  ],
  ['lone carriage returns', 'table', 'mac.csv', () => Buffer.from('Field,Planted\rCreek,88\rHill,40\r')],
  ['line ends of three kinds', 'table', 'mixed.csv', () => Buffer.from('Field,Planted\r\nCreek,88\nHill,40\rLong,3\n')],
  ['a byte order mark', 'table', 'bom.csv', () => Buffer.from('\ufeffField,Planted\nCreek,88\n')],
  ['headers of prototypes', 'table', 'proto.csv', () => Buffer.from('__proto__,constructor,toString\n1,2,3\n')],
  ['a picture', 'table', 'fields.csv', () => Buffer.from('89504e470d0a1a0a0000000d49484452', 'hex')],
  ['nothing', 'table', 'empty.csv', () => Buffer.alloc(0)],
  ['nothing, as boundaries', 'boundary', 'empty.geojson', () => Buffer.alloc(0)],
  ['noughts', 'table', 'noughts.xlsx', () => Buffer.alloc(100_000)],
  ['an old workbook', 'table', 'old.xls', () => Buffer.from('d0cf11e0a1b11ae1', 'hex')],
  ['a database of another program', 'farm', 'Other.farm', () => Buffer.from('SQLite format 3\0'.padEnd(4096, '\0'))],
]
