/** Spreadsheets to fill in: headings with their units, and rows that show how a cell is written. Data. All names are invented. */
import type { SheetName } from '../sheet/sheet.ts'

export interface Template {
  title: string
  /** Heading and two examples of each column; “@dealer” and “@variety” and “@field” are names of the farm, where it has some. */
  columns: readonly (readonly [heading: string, first: string | number, second: string | number])[]
}

const scale = '1 resistant, 9 susceptible'

/** @param threats names of the farm’s diseases and pests */
export function templateOf(sheet: SheetName, threats: readonly string[], season: number): Template | null {
  const title = (name: string) => name.charAt(0).toUpperCase() + name.slice(1)
  const all: Partial<Record<SheetName, Template>> = {
    field: {
      title: 'Fields',
      columns: [
        ['Field', 'Example Home 40', 'Example Pivot 3'],
        ['Planted (acres)', 38.5, 128],
        ['Water', 'dryland', 'irrigated'],
        ['Row spacing (inches)', 36, 38],
        ['Row pattern', 'single', 'twin'],
        ['Yield goal (lb/acre)', 3600, 4900],
        ['Soil', 'sandy loam', 'sand'],
        ['Tillage', 'conventional', 'strip'],
        [`${season - 1} crop`, 'cotton', 'corn'],
        [`${season - 2} crop`, 'corn', 'cotton'],
        [`${season - 3} crop`, 'peanut', 'peanut'],
        ...threats.map((threat, at): [string, string, string] => [
          `${title(threat)} pressure`,
          at % 2 === 0 ? 'low' : 'none',
          at % 2 === 0 ? 'moderate' : 'high',
        ]),
        ['Nematodes per 100 cc', '', 12],
        ['Landlord', '', 'Example Estate'],
        ['Farm number', '4417', '4417'],
        ['Tract', '1203', '1310'],
        ['Place', 'home', 'north side'],
        ['Note', '', 'wet corner'],
      ],
    },
    variety: {
      title: 'Varieties',
      columns: [
        ['Variety', '@variety', 'Example B'],
        ['Seed count (seeds/lb)', 690, 655],
        ['Germination (%)', '87%', '88%'],
        ['Vine', 'large', 'very large'],
        ['Maturity (days)', 140, 145],
        ['Oil', 'high oleic', 'normal'],
        ['Yield index (usual = 1)', 1, 1.06],
        ['Grade index (usual = 1)', 1, 0.99],
        ...threats.map((threat, at): [string, number, number] => [`${title(threat)} (${scale})`, 3 + (at % 4), 5]),
        ['Treated', 'yes', 'yes'],
        ['Note', '', ''],
      ],
    },
    quote: {
      title: 'Quotes',
      columns: [
        ['Dealer', '@dealer', '@dealer'],
        ['Variety', '@variety', '@variety'],
        ['Kind of offer', 'regular', 'early order'],
        ['Pack', '50 lb bag', '50 lb bag'],
        ['Price ($ a pack)', 48.5, 46.4],
        ['Price breaks', '$47.25 over 400 bags', ''],
        ['Available (bags)', '', 1400],
        ['Least order (bags)', '', 100],
        ['Order by', `${season}-03-15`, `${season}-01-31`],
        ['Return by', `${season}-06-20`, ''],
        ['Return credit (%)', '80%', ''],
        ['Note', '', ''],
      ],
    },
    dealer: {
      title: 'Dealers',
      columns: [
        ['Dealer', '@dealer', 'Example Store'],
        ['Order fee ($)', 150, ''],
        ['Least order (lb)', 2000, ''],
        ['Delivers at most (lb)', '', 60000],
        ['Deposit (%)', '25%', ''],
        ['Note', '', ''],
      ],
    },
    carried: {
      title: 'Carryover seed',
      columns: [
        ['Variety', '@variety', '@variety'],
        ['Lot', 'EX-2203', 'EX-2207'],
        ['On hand (lb)', 1800, 650],
        ['New germination test (%)', '81%', ''],
        ['Must be used', 'yes', 'no'],
        ['Own growing', 'no', 'no'],
      ],
    },
    load: {
      title: 'Loads',
      columns: [
        ['Ticket', '40117', '40118'],
        ['Hauled', `${season}-09-28`, `${season}-09-29`],
        ['Field', '@field', '@field'],
        ['Gross (lb)', 41220, 40880],
        ['Tare (lb)', 15180, 15200],
        ['Moisture (%)', '9.2%', '8.8%'],
        ['Foreign material (%)', '4%', '3%'],
        ['Loose kernels (%)', '2%', '3%'],
        ['Sound mature (%)', '70%', '72%'],
        ['Sound splits (%)', '3%', '3%'],
        ['Other kernels (%)', '4%', '3%'],
        ['Damaged (%)', '1%', '1%'],
        ['Segregation', 1, 1],
        ['Price ($/ton)', 505, 505],
        ['Buyer', 'Example Point', 'Example Point'],
      ],
    },
  }
  return all[sheet] ?? null
}

export const templateSheets: readonly SheetName[] = ['field', 'variety', 'dealer', 'quote', 'carried', 'load']
