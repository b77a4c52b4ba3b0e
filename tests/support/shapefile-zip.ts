/** Zips and shapefiles made byte by byte, for tests of what reads them. */
import { crc32 } from 'node:zlib'

/** A shapefile of one polygon with its table, zipped without packing: written here byte by byte from the published format. */
export function shapefileZip(name: string, ring: readonly (readonly [number, number])[]): Buffer {
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

/** A zip whose entries are not packed. */
export function storedZip(files: Record<string, Buffer>): Buffer {
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
