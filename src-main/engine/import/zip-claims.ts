/**
 * Sizes that strangers' files claim, held against the bytes that are there. A reader makes room and loops by such numbers: a header
 * of a few bytes can ask for four billion rows.
 */

/** What a farm's table may hold; the same for every format. */
export const mostRows = 200_000
export const mostColumns = 300
export const mostCells = 2_000_000

/** [byte] Fixed parts of the published formats: dBASE III header; shapefile header and record header. */
const dbfHeader = 32
const shpHeader = 100
const shpRecordHeader = 8

/** What a zip's shapefiles claim beyond their bytes, as the end of a sentence; null where all claims hold. */
export function shapefileFault(files: Readonly<Record<string, Uint8Array>>): string | null {
  for (const [name, bytes] of Object.entries(files)) {
    const fault = /\.dbf$/i.test(name) ? dbfFault(bytes) : /\.shp$/i.test(name) ? shpFault(bytes) : null
    if (fault !== null) return fault
  }
  return null
}

function dbfFault(bytes: Uint8Array): string | null {
  if (bytes.length < dbfHeader) return 'its table (.dbf) is cut off'
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const rows = view.getUint32(4, true)
  const headerLength = view.getUint16(8, true)
  const rowLength = view.getUint16(10, true)
  if (rows > mostRows) return `its table (.dbf) claims ${rows.toLocaleString('en-US')} rows`
  // Some writers leave out the last byte, the end mark.
  if (rows > 0 && (rowLength === 0 || headerLength + rows * rowLength > bytes.length + 1))
    return 'its table (.dbf) claims more rows than it has'
  return null
}

function shpFault(bytes: Uint8Array): string | null {
  if (bytes.length < shpHeader) return 'its shapes (.shp) are cut off'
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  for (let at = shpHeader; at + shpRecordHeader <= bytes.length;) {
    // [16-bit word] without the record's own header
    const length = view.getInt32(at + 4) * 2
    const content = at + shpRecordHeader
    if (length < 0 || content + length > bytes.length) return 'a shape claims to be longer than the file'
    const kind = length >= 4 ? view.getInt32(content, true) : 0
    // Lines and polygons, flat and with heights: counts of parts and points behind the kind and the box.
    if ([3, 5, 13, 15, 23, 25].includes(kind)) {
      if (length < 44) return 'a shape is cut off'
      const parts = view.getInt32(content + 36, true)
      const points = view.getInt32(content + 40, true)
      if (parts < 0 || points < 0 || 44 + parts * 4 + points * 16 > length)
        return 'a shape claims more corners than it has'
      for (let part = 0, before = 0; part < parts; part += 1) {
        const first = view.getInt32(content + 44 + part * 4, true)
        if (first < before || first > points) return 'a shape claims more corners than it has'
        before = first
      }
    }
    if ([8, 18, 28].includes(kind)) {
      if (length < 40) return 'a shape is cut off'
      const points = view.getInt32(content + 36, true)
      if (points < 0 || 40 + points * 16 > length) return 'a shape claims more corners than it has'
    }
    at = content + length
  }
  return null
}

/** A cell's place in the text of a sheet, whatever quotes it uses. */
const cellPlace = /\sr\s*=\s*["']([A-Za-z]{1,4})?(\d{1,8})["']/g

/** What a workbook's sheets span beyond what a table of a farm does, as a sentence; null where all are small enough. */
export function workbookFault(files: Readonly<Record<string, Uint8Array>>): string | null {
  for (const [name, bytes] of Object.entries(files)) {
    if (!/worksheets\/[^/]+\.xml$/i.test(name)) continue
    const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('latin1')
    let [rows, columns, farthest] = [0, 0, '']
    for (const [, letters = '', digits = '0'] of text.matchAll(cellPlace)) {
      const [row, column] = [Number(digits), columnNumber(letters)]
      if (row > rows || column > columns) farthest = `${letters}${digits}`
      rows = Math.max(rows, row)
      columns = Math.max(columns, column)
    }
    if (rows > mostRows || rows * columns > mostCells)
      return `A sheet reaches out to cell ${farthest}. That is more than a farm has.`
  }
  return null
}

function columnNumber(letters: string): number {
  let number = 0
  for (const letter of letters.toUpperCase()) number = number * 26 + letter.charCodeAt(0) - 64
  return number
}
