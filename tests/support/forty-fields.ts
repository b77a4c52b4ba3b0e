/** An invented farm of 40 fields as it lies in a spreadsheet: rows by the labels of the tables that they are pasted into. */
import { randomFrom } from '../plan/random.ts'

export type Rows = Readonly<Record<string, string>>[]

const random = randomFrom(40)
const oneOf = (...words: string[]) => words[random.whole(0, words.length - 1)]!

const names = [
  ...[
    'Bell Corner',
    'Long Row',
    'Mill Pond',
    'Gin House',
    'Sandhill',
    'Quarry',
    'Deer Stand',
    'Cowpen',
    'Dry Lake',
    'Kiln',
  ],
  ...['Turkey Oak', 'Low Bridge', 'Tin Barn', 'School Lot', 'Wire Grass', 'Twelve Mile', 'Fox Den', 'Spring Head'],
  ...['Sawmill', 'Red Gate', 'Hog Island', 'Cane Patch', 'Plum Thicket', 'Airstrip', 'Big Pivot', 'Half Pivot'],
  ...['Stump', 'Graveyard', 'Store Field', 'Rail Siding', 'Bay Head', 'Gopher Hill', 'Well House', 'Hackberry'],
  ...['Long Pivot', 'Old Orchard', 'Power Line', 'Swamp Edge', 'New Ground', 'Far Eighty'],
]

/** Three crops a field, peanut last two, three or four seasons ago. */
const rotations = [
  '2026 cotton; 2025 corn; 2024 peanut',
  '2026 cotton; 2025 cotton; 2024 corn; 2023 peanut',
  '2026 corn; 2025 cotton; 2024 peanut',
  '2026 corn; 2025 peanut',
  '2026 bahiagrass; 2025 bahiagrass; 2024 bahiagrass; 2023 peanut',
]

export const fields: Rows = names.map((name) => {
  const irrigated = /Pivot/.test(name) || random.chance(0.4)
  return {
    Field: name,
    Planted: (random.whole(36, 310) / 2).toFixed(1),
    Rows: '36',
    Pattern: random.chance(0.6) ? 'twin' : 'single',
    Water: irrigated ? 'irrigated' : 'dryland',
    Soil: oneOf('sandy loam', 'loamy sand', 'sand'),
    Tillage: oneOf('strip', 'conventional'),
    'Vines grow': irrigated && random.chance(0.4) ? 'rank' : 'usual',
    'Yield goal': String((irrigated ? 48 : 37) * 100 + random.whole(-4, 5) * 100),
    'Grown before': oneOf(...rotations),
    'Nematodes per 100 cc': random.chance(0.15) ? String(random.whole(20, 140)) : '',
    'Early leaf spot': oneOf('low', 'moderate'),
    'Late leaf spot': oneOf('low', 'moderate', 'high'),
    'Southern stem rot': oneOf('none', 'low', 'moderate', 'high'),
    'Spotted wilt': oneOf('low', 'moderate', 'high'),
  }
})

const variety = (
  name: string,
  oil: string,
  count: number,
  vine: string,
  days: number,
  index: string,
  marks: string,
) => {
  const [early, late, rot, wilt, knot] = marks.split(' ') as [string, string, string, string, string]
  return {
    ...{ Variety: name, Oil: oil, 'Seed count': String(count), Germination: '85', Vine: vine, Maturity: String(days) },
    ...{ Yield: index, Grade: '1', 'Early leaf spot': early, 'Late leaf spot': late },
    ...{ 'Southern stem rot': rot, 'Spotted wilt': wilt, 'Root-knot nematode': knot },
  }
}

export const varieties: Rows = [
  variety('Osprey', 'high oleic', 640, 'medium', 140, '1', '6 6 5 4 8'),
  variety('Heron', 'high oleic', 585, 'large', 145, '1.03', '4 4 4 3 8'),
  variety('Wren', 'high oleic', 730, 'compact', 132, '0.96', '6 7 6 5 8'),
  variety('Marl', 'high oleic', 660, 'medium', 140, '0.98', '5 5 3 4 2'),
  variety('Tupelo', 'normal', 610, 'medium', 142, '1.01', '3 3 4 4 7'),
  variety('Saltgrass', 'high oleic', 690, 'medium', 136, '0.99', '5 6 5 2 8'),
  variety('Ironweed', 'high oleic', 625, 'large', 148, '1.02', '3 2 3 4 2'),
  variety('Pinnacle', 'normal', 700, 'compact', 134, '0.97', '6 5 4 5 7'),
]

export const dealers: Rows = [
  { Dealer: 'Lantern Seed', 'Order fee': '150', Deposit: '10' },
  { Dealer: 'Twin Forks Supply', 'Order fee': '0', 'Least order': '20000' },
  { Dealer: 'Low Country Growers', 'Order fee': '75', 'Breaks on the total': 'from 60000 lb 1.5 c/lb off' },
  { Dealer: 'Basin Elevator', 'Order fee': '40', Deposit: '25' },
]

const quote = (dealer: string, variety: string, pack: string, price: string, more: Record<string, string> = {}) => ({
  ...{ Dealer: dealer, Variety: variety, Pack: pack, Price: price, 'Order by': '2027-03-01' },
  ...more,
})

export const quotes: Rows = [
  quote('Lantern Seed', 'Osprey', '50', '46.75', { 'Price breaks': 'from 400 packs $45.60; from 1200 packs $44.85' }),
  quote('Lantern Seed', 'Heron', '50', '48.25', { 'Return by': '2027-06-20', Credit: '85' }),
  quote('Lantern Seed', 'Marl', '50', '51.50', { Available: '700' }),
  quote('Lantern Seed', 'Saltgrass', '50', '47.35'),
  quote('Twin Forks Supply', 'Osprey', '2000', '1838.00', { 'Return by': '2027-06-10', Credit: '80' }),
  quote('Twin Forks Supply', 'Wren', '50', '44.90', { 'Price breaks': 'from 300 packs $44.10' }),
  quote('Twin Forks Supply', 'Tupelo', '2000', '1795.00'),
  quote('Twin Forks Supply', 'Ironweed', '50', '52.40', { Available: '500', 'Least order': '40' }),
  quote('Low Country Growers', 'Heron', '50', '47.95', { 'Price breaks': 'from 500 packs $46.85' }),
  quote('Low Country Growers', 'Saltgrass', '2000', '1868.00'),
  quote('Low Country Growers', 'Pinnacle', '50', '43.65'),
  quote('Low Country Growers', 'Osprey', '50', '46.30'),
  quote('Basin Elevator', 'Tupelo', '50', '45.15', { 'Return by': '2027-06-30', Credit: '90' }),
  quote('Basin Elevator', 'Marl', '50', '50.95', { Available: '400' }),
  quote('Basin Elevator', 'Wren', '50', '45.55'),
]
