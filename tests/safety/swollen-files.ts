/** Small files that ask a reader for far more time or memory than they are long. */
import { storedZip, shapefileZip } from '../support/shapefile-zip.ts'

const ring = [
  [-83, 31],
  [-83, 31.01],
  [-82.99, 31.01],
  [-82.99, 31],
  [-83, 31],
] as [number, number][]

/** A workbook of one sheet, with the given text between the sheet's tags. */
export function workbook(sheet: string): Buffer {
  const types = 'http://schemas.openxmlformats.org'
  return storedZip({
    '[Content_Types].xml': Buffer.from(`<Types xmlns="${types}/package/2006/content-types"/>`),
    'xl/workbook.xml': Buffer.from(
      `<workbook xmlns="${types}/spreadsheetml/2006/main" xmlns:r="${types}/officeDocument/2006/relationships"><sheets><sheet name="Fields" sheetId="1" r:id="rId1"/></sheets></workbook>`,
    ),
    'xl/_rels/workbook.xml.rels': Buffer.from(
      `<Relationships xmlns="${types}/package/2006/relationships"><Relationship Id="rId1" Type="${types}/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
    ),
    'xl/worksheets/sheet1.xml': Buffer.from(
      `<worksheet xmlns="${types}/spreadsheetml/2006/main"><sheetData>${sheet}</sheetData></worksheet>`,
    ),
  })
}

const cell = (at: string, text: string) =>
  `<row r="${at.replace(/\D/g, '')}"><c r="${at}" t="inlineStr"><is><t>${text}</t></is></c></row>`

/** The shapefile of `shapefileZip`, not packed, with one 32 bit number of its table or its shapes overwritten. */
function overwritten(entry: 'dbf' | 'shp', at: number, value: number): Buffer {
  const zip = shapefileZip('Hill', ring)
  const name = Buffer.from(`fields.${entry}`)
  const start = zip.indexOf(name) + name.length
  zip.writeUInt32LE(value, start + at)
  return zip
}

const kml = (inside: string) => Buffer.from(`<kml xmlns="http://www.opengis.net/kml/2.2">${inside}</kml>`)

function nested(levels: number): string {
  const open = Array.from({ length: levels }, (_, n) => `<a xmlns:n${n}="u">`).join('')
  return `${open}${'</a>'.repeat(levels)}`
}

/** What it is, how it is read, its name, its bytes. */
export const swollen: [string, 'table' | 'boundary', string, () => Buffer][] = [
  ['a dBASE header of 4 billion rows', 'boundary', 'rows.zip', () => overwritten('dbf', 4, 0xffffffff)],
  // 100 header, 8 record header, 36 into the record.
  ['a shape of 2 billion parts', 'boundary', 'parts.zip', () => overwritten('shp', 144, 0x7fffffff)],
  ['a shape of 2 billion points', 'boundary', 'points.zip', () => overwritten('shp', 148, 0x7fffffff)],
  [
    'a workbook with one cell at XFD1048576',
    'table',
    'far.xlsx',
    () => workbook(cell('A1', 'Field') + cell('XFD1048576', 'x')),
  ],
  [
    'a workbook whose far cell is written with single quotes',
    'table',
    'quoted.xlsx',
    () => workbook(cell('A1', 'Field') + cell('XFD1048576', 'x').replaceAll('"', "'")),
  ],
  [
    'a workbook whose far cell is written with entities',
    'table',
    'entity.xlsx',
    () => workbook(cell('A1', 'Field') + cell('XFD1048576', 'x').replace('r="XFD', 'r="&#88;FD')),
  ],
  ['150,000 nested namespaces', 'boundary', 'nested.kml', () => kml(nested(150_000))],
  ['a million opening brackets', 'boundary', 'brackets.kml', () => kml('<'.repeat(1_000_000))],
  ['half a million open tags', 'boundary', 'open.kml', () => kml('<a>'.repeat(500_000))],
]
