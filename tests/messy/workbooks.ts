/** Workbooks as other people keep them, made here: merged cells, two header rows, several sheets, percent and days as a spreadsheet keeps them. */
import writeFile from 'write-excel-file/node'

type Value = string | number | boolean | Date | null

const cell = (value: Value) => {
  if (value === null) return null
  if (typeof value === 'string') return { value, type: String }
  if (typeof value === 'number') return { value, type: Number }
  if (typeof value === 'boolean') return { value, type: Boolean }
  return { value, type: Date, format: 'mm/dd/yyyy' }
}

const rows = (table: Value[][]) => table.map((row) => row.map(cell))

/** A cell over several columns or rows; what it covers is empty. */
const span = (value: string, columnSpan: number, rowSpan = 1) => ({ value, type: String, columnSpan, rowSpan })

const day = (text: string) => new Date(`${text}T00:00:00Z`)

export const workbooks: Record<string, () => Promise<Buffer>> = {
  '40-book-of-the-farm.xlsx': () =>
    writeFile([
      { sheet: 'Cover', data: rows([['Pine Level Farms'], ['Call Ray before planting']]) },
      {
        sheet: 'Ground 27',
        data: [
          [span('2027 PEANUT GROUND', 8), null, null, null, null, null, null, null],
          [null],
          [
            span('Landlord', 1, 2),
            span('Field', 1, 2),
            span('Acres', 1, 2),
            span('Rows', 2),
            null,
            span('Crop', 2),
            null,
            span('Water', 1, 2),
          ],
          [null, null, null, cell('Inches'), cell('Twin'), cell(2025), cell(2026), null],
          [
            span('Ora Est.', 1, 2),
            cell('Alder'),
            cell(38),
            cell(36),
            cell('N'),
            cell('peanuts'),
            cell('cotton'),
            cell('dry'),
          ],
          [null, cell('Big Sandy'), cell(142.25), cell(36), cell('Y'), cell('cotton'), cell('cotton'), cell('pivot')],
          [
            cell('Deal Bros'),
            cell('Crane'),
            cell(75),
            cell(38),
            cell('Y'),
            cell('corn'),
            cell('peanuts'),
            cell('pivot'),
          ],
          [cell('Total'), null, cell(255.25), null, null, null, null, null],
        ],
      },
      {
        sheet: 'Varieties',
        data: rows([
          ['Variety', 'Seeds/lb', 'Germ', 'Days', 'Vine', 'HO', 'Yield index'],
          ['Brindle', 690, 0.87, 140, 'L', true, 1],
          ['Cobbler', 655, 0.88, 145, 'XL', true, 1.06],
        ]),
      },
      {
        sheet: 'Burrow Bend Seed',
        data: rows([
          ['Variety', 'Package', 'Price', 'Good thru'],
          ['Brindle', '50 lb bag', 48.5, day('2027-03-15')],
          ['Cobbler', '2,000 lb tote', 1960, day('2027-03-15')],
        ]),
      },
    ] as never).toBuffer(),
  '41-header-far-down.xlsx': () =>
    writeFile([
      {
        sheet: 'Sheet1',
        data: rows([
          ['Pine Level Farms, Inc.', null, null, null, null],
          ['Route 2', null, null, null, null],
          ['Prepared by:', 'Ray', null, 'Date:', day('2026-12-01')],
          [null],
          [null, 'Field', 'Ac', 'Irr', 'Goal (lb)'],
          [null, 'Alder', 38, 'no', 3600],
          [null, 'Big Sandy', 142, 'yes', 4900],
          [null],
          [null, 'Alder was 40 before the road came through', null, null, null],
        ]),
      },
    ] as never).toBuffer(),
}
