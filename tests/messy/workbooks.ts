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
  '120-tamm-consulting-book.xlsx': () =>
    writeFile([
      {
        sheet: 'READ ME',
        data: rows([['Tamm Crop Consulting'], ['Ratings are from the fall walk-over'], ['JT 11/20/26']]),
      },
      {
        sheet: 'Fields',
        data: [
          [
            span('Larkin Farms - disease history (0 none, 1 low, 2 moderate, 3 high, 4 severe)', 9),
            null,
            null,
            null,
            null,
            null,
            null,
            null,
            null,
          ],
          [
            span('Field', 1, 2),
            span('Acres', 1, 2),
            span('Water', 1, 2),
            span('Disease pressure', 4),
            null,
            null,
            null,
            span('Rotation', 2),
            null,
          ],
          [
            null,
            null,
            null,
            cell('Leaf spots'),
            cell('White mold'),
            cell('TSWV'),
            cell('Nematode'),
            cell('2026'),
            cell('2025'),
          ],
          ...rows([
            ['Gin House', 52.3, 'pivot', 2, 1, 1, 0, 'corn', 'cotton'],
            ['Bell Pasture', 23.1, 'dryland', 3, 3, 2, 1, 'cotton', 'peanuts'],
            ['Deep Branch 1', 88.9, 'pivot', 1, 2, 1, 4, 'cotton', 'cotton'],
            ['Deep Branch 2', 61.2, 'dryland', 1, 0, 2, 0, 'corn', 'cotton'],
          ]),
        ],
      },
      {
        sheet: 'Soil',
        data: rows([
          ['Field', 'Sampled', 'RKN/100cc', 'pH', 'Ca lb/ac'],
          ['Gin House', day('2026-10-20'), 4, 6.1, 780],
          ['Deep Branch 1', day('2026-10-20'), 240, 5.9, 510],
          ['Bell Pasture', day('2026-10-21'), null, 6.3, 900],
        ]),
      },
    ]).toBuffer(),
  '121-larkin-27-budget.xlsx': () =>
    writeFile([
      {
        sheet: 'Seed',
        data: rows([
          ['Seed budget 2027', null, null, null, null, null],
          [null],
          ['Variety', 'Supplier', 'Size', '$/bag', 'Bags available', 'Early pay disc.'],
          ['Sandhill 41', 'Fallgate', '50#', 47, 1200, 0.03],
          ['Sandhill 41', 'Broad Creek', '50#', 48.5, 1400, null],
          ['Otter HO', 'Broad Creek', '50#', 52, 600, null],
          ['Marigold', 'Fallgate', '50#', 48.5, 800, 0.03],
          ['AVERAGE', null, null, 49, null, null],
        ]),
      },
      {
        sheet: 'Varieties',
        data: rows([
          [
            'Variety',
            'Ct/lb',
            'Germ',
            'Mat',
            'Oleic',
            'TSWV (1-9)',
            'WM (1-9)',
            'ELS (1-9)',
            'LLS (1-9)',
            'RKN (1-9)',
            'Growth',
          ],
          ['Sandhill 41', 680, 0.88, 142, 'high', 2, 4, 5, 5, 9, 'medium'],
          ['Otter HO', 590, 0.85, 150, 'high', 2, 2, 3, 3, 1, 'large'],
          ['Marigold', 705, 0.9, 135, 'high', 3, 6, 7, 7, 9, 'compact'],
          ['1 = best, 9 = worst', null, null, null, null, null, null, null, null, null, null],
        ]),
      },
      {
        sheet: 'Chart data',
        data: rows([
          ['x', 'y'],
          [1, 2],
          [2, 4],
        ]),
      },
    ]).toBuffer(),
  '122-tickets-2026.xlsx': () =>
    writeFile([
      {
        sheet: 'Oct',
        data: [
          [span('Peanut loads', 6), null, null, null, null, null],
          ...rows([
            ['Tkt', 'Date', 'Fld', 'Gross', 'Tare', 'H2O'],
            [5501, day('2026-10-03'), 'Gin House', 43120, 19240, 0.098],
            [5502, day('2026-10-03'), 'Gin House', 42880, 19240, 0.104],
            [5503, day('2026-10-06'), 'Deep Branch 1', 41960, 18900, 0.112],
            [null, null, null, 127960, 57380, null],
          ]),
        ],
      },
    ]).toBuffer(),
}
