/**
 * The columns of every sheet: label, unit, kind of cell, the headings a file may have for it. The grid draws them, the
 * importer matches them, the exports are headed by them. Long because it is one table of all columns of all sheets.
 */
import { growthLevels, pressureLevels, rowPatterns, tillages, waters } from '../field.ts'
import { vineClasses } from '../variety.ts'
import { machineKinds, windowKinds } from '../window.ts'
import { note, oneOf, type Names, type SheetColumn } from './column.ts'
import { dealerBreaks, drop, history, quoteBreaks } from './compound.ts'
import { costColumns, loadColumns, seenColumns } from './fall-columns.ts'
import { choice, day, dollars, monthDay, names, number, percent, scaled, words, yesNo, type Kind } from './kind.ts'
import { patternWords, tillageWords, waterWords } from './other-words.ts'
import type { CellValue, SheetName } from './sheet.ts'

export type { Names, SheetColumn }

const title = (name: string) => name.charAt(0).toUpperCase() + name.slice(1)

/** A column a threat: one entry of a record of the noun. */
function perThreat(record: string, unit: string, kind: Kind, before: string) {
  return (threat: string): SheetColumn => ({
    id: `${record}/${threat}`,
    label: title(threat),
    unit,
    kind,
    heads: [`${before} ${threat}`],
  })
}

const fieldColumns = ({ threats }: Names): SheetColumn[] => [
  { id: 'name', label: 'Field', kind: words, isNeeded: true, heads: ['name', 'field name'] },
  { id: 'acres', label: 'Planted', unit: 'acres', kind: number(), isNeeded: true, heads: ['acres', 'ac', 'area'] },
  {
    id: 'rowSpacingIn',
    label: 'Rows',
    unit: 'inches',
    kind: number(),
    heads: ['row spacing', 'row spacing in', 'row width'],
  },
  { id: 'rowPattern', label: 'Pattern', kind: choice(rowPatterns, patternWords), heads: ['row pattern'] },
  { id: 'water', label: 'Water', kind: choice(waters, waterWords), isNeeded: true, heads: ['irrigation', 'irrigated'] },
  { id: 'soil', label: 'Soil', kind: words, heads: ['soil type'] },
  { id: 'tillage', label: 'Tillage', kind: choice(tillages, tillageWords) },
  { id: 'growth', label: 'Vines grow', kind: choice(growthLevels), heads: ['growth'] },
  {
    id: 'yieldGoalLb',
    label: 'Yield goal',
    unit: 'lb/acre',
    kind: number(),
    isNeeded: true,
    heads: ['yield goal', 'yield'],
  },
  {
    id: 'history',
    label: 'Grown before',
    unit: 'as 2026 cotton; 2025 corn',
    kind: history,
    width: 26,
    heads: ['crops', 'crop history', 'history'],
  },
  { id: 'nematodesPer100cc', label: 'Nematodes', unit: 'per 100 cc', kind: number(), heads: ['nematodes per 100 cc'] },
  {
    id: 'nematodesPer500cc',
    path: 'nematodesPer100cc',
    label: 'Nematodes',
    unit: 'per 500 cc',
    kind: scaled(5),
    heads: ['nematodes per 500 cc'],
  },
  ...threats.map(perThreat('pressure', 'pressure', choice(pressureLevels), 'pressure')),
  { id: 'windows', label: 'Can be planted', unit: 'empty: any window', kind: names, width: 16, heads: ['windows'] },
  {
    id: 'drop',
    label: 'Own drop',
    unit: 'empty: house drop',
    kind: drop,
    heads: ['drop', 'seeds per foot', 'seeding rate'],
  },
  { id: 'split/mostVarieties', label: 'Most varieties', unit: 'empty: one', kind: number(), heads: ['most varieties'] },
  { id: 'split/leastBlockAcres', label: 'Least block', unit: 'acres', kind: number(), heads: ['least block acres'] },
  { id: 'landlord', label: 'Landlord', kind: words },
  { id: 'farmNumber', label: 'Farm number', kind: words },
  { id: 'tract', label: 'Tract', kind: words },
  { id: 'place', label: 'Place', kind: words },
  note,
]

const varietyColumns = ({ threats }: Names): SheetColumn[] => [
  { id: 'name', label: 'Variety', kind: words, isNeeded: true, heads: ['name', 'variety name'] },
  { id: 'oilType', label: 'Oil', kind: choice(['high oleic', 'normal']), heads: ['oil type'] },
  {
    id: 'seedsPerPound',
    label: 'Seed count',
    unit: 'seeds/lb',
    kind: number(),
    isNeeded: true,
    heads: ['seeds per pound', 'seed count', 'seeds/lb'],
  },
  { id: 'germination', label: 'Germination', unit: '%', kind: percent, heads: ['germination', 'germ'] },
  { id: 'vine', label: 'Vine', kind: choice(vineClasses), isNeeded: true, heads: ['vine size'] },
  {
    id: 'daysToMaturity',
    label: 'Maturity',
    unit: 'days',
    kind: number(),
    isNeeded: true,
    heads: ['days to maturity', 'maturity'],
  },
  { id: 'yieldIndex', label: 'Yield', unit: 'usual = 1', kind: number(2), heads: ['yield index'] },
  { id: 'gradeIndex', label: 'Grade', unit: 'usual = 1', kind: number(2), heads: ['grade index'] },
  ...threats.map(perThreat('ratings', '1 hardy, 9 prone', number(), 'rating')),
  { id: 'isTreated', label: 'Treated', kind: yesNo },
  note,
]

const dealerColumns: SheetColumn[] = [
  { id: 'name', label: 'Dealer', kind: words, isNeeded: true, heads: ['name', 'dealer name'] },
  { id: 'orderFeeCents', label: 'Order fee', unit: '$', kind: dollars, heads: ['order fee'] },
  { id: 'leastPounds', label: 'Least order', unit: 'lb', kind: number(), heads: ['least lb'] },
  { id: 'mostPounds', label: 'Delivers at most', unit: 'lb', kind: number(), heads: ['most lb'] },
  {
    id: 'breaks',
    label: 'Breaks on the total',
    unit: 'as from 60000 lb 1.5 c/lb off',
    kind: dealerBreaks,
    width: 32,
    heads: ['breaks'],
  },
  { id: 'depositShare', label: 'Deposit', unit: '% of the order', kind: percent, heads: ['deposit %', 'deposit'] },
  note,
]

const quoteColumns = ({ dealers, varieties }: Names): SheetColumn[] => [
  { id: 'dealer', label: 'Dealer', kind: oneOf(dealers), isNeeded: true },
  { id: 'variety', label: 'Variety', kind: oneOf(varieties), isNeeded: true },
  { id: 'name', label: 'Kind of offer', kind: words, heads: ['quote', 'offer'] },
  { id: 'packPounds', label: 'Pack', unit: 'lb', kind: number(), isNeeded: true, heads: ['pack lb', 'pack', 'bag lb'] },
  {
    id: 'packPriceCents',
    label: 'Price',
    unit: '$ a pack',
    kind: dollars,
    isNeeded: true,
    heads: ['price', 'price $'],
  },
  {
    id: 'breaks',
    label: 'Price breaks',
    unit: 'as from 400 packs $47.25',
    kind: quoteBreaks,
    width: 26,
    heads: ['breaks'],
  },
  { id: 'availablePacks', label: 'Available', unit: 'packs', kind: number(), heads: ['available packs'] },
  { id: 'leastPacks', label: 'Least order', unit: 'packs', kind: number(), heads: ['least packs'] },
  { id: 'orderBy', label: 'Order by', unit: 'as 2027-03-15', kind: day, heads: ['order by', 'early order date'] },
  { id: 'returnBy', label: 'Return by', unit: 'as 2027-06-20', kind: day, heads: ['return by'] },
  {
    id: 'returnCredit',
    label: 'Credit',
    unit: '% of price',
    kind: percent,
    heads: ['return credit', 'return credit %'],
  },
  { ...note, width: 24 },
]

const carriedColumns = ({ varieties }: Names): SheetColumn[] => [
  { id: 'variety', label: 'Variety', kind: oneOf(varieties), isNeeded: true },
  { id: 'lot', label: 'Lot', kind: words, heads: ['lot number'] },
  { id: 'pounds', label: 'On hand', unit: 'lb', kind: number(), isNeeded: true, heads: ['pounds'] },
  { id: 'germination', label: 'New germination test', unit: '%', kind: percent, heads: ['germination'] },
  { id: 'mustUse', label: 'Must be used', kind: yesNo },
  { id: 'isOwnGrown', label: 'Own growing', kind: yesNo },
]

const windowColumns: SheetColumn[] = [
  { id: 'name', label: 'Window', kind: words, isNeeded: true, heads: ['name'] },
  { id: 'kind', label: 'Kind', kind: choice(windowKinds), isNeeded: true },
  { id: 'opens', label: 'Opens', unit: 'as 04-28', kind: monthDay, isNeeded: true },
  { id: 'closes', label: 'Closes', unit: 'as 05-20', kind: monthDay, isNeeded: true },
  { id: 'fitDays', label: 'Fit for planting', unit: 'days', kind: number(), isNeeded: true, heads: ['fit days'] },
]

const machineColumns: SheetColumn[] = [
  { id: 'name', label: 'Machine', kind: words, isNeeded: true, heads: ['name'] },
  { id: 'kind', label: 'Kind', kind: choice(machineKinds), isNeeded: true },
  { id: 'count', label: 'How many', kind: number(), heads: ['count'] },
  { id: 'widthFt', label: 'Width', unit: 'ft', kind: number(), isNeeded: true },
  { id: 'speedMph', label: 'Speed', unit: 'mph', kind: number(), isNeeded: true },
  { id: 'fieldEfficiency', label: 'Field efficiency', unit: '%', kind: percent, isNeeded: true },
  { id: 'hoursPerDay', label: 'Hours', unit: 'a day', kind: number(), isNeeded: true, heads: ['hours per day'] },
]

const measureColumns = ({ threats }: Names): SheetColumn[] => [
  { id: 'name', label: 'Measure', kind: words, isNeeded: true, heads: ['name'] },
  { id: 'group', label: 'Group', kind: words, isNeeded: true },
  // A rate, so it may have a fraction of a cent.
  { id: 'centsPerAcre', label: 'Cost', unit: '$/acre', kind: scaled(0.01), isNeeded: true, heads: ['cost $/acre'] },
  ...threats.map((threat): SheetColumn => ({
    id: `efficacy/${threat}`,
    label: title(threat),
    unit: '% of loss stopped',
    kind: percent,
    heads: [`stops ${threat} %`, `stops ${threat}`],
  })),
  { id: 'isPesticide', label: 'Pesticide', kind: yesNo },
  { id: 'source', label: 'Source', kind: words, width: 30 },
  { id: 'fromLabel', label: 'From the label', kind: words, width: 30 },
]

const threatColumns: SheetColumn[] = [
  { id: 'name', label: 'Threat', kind: words, isNeeded: true, heads: ['name'] },
  {
    id: 'kind',
    label: 'Lives in',
    kind: choice(['leaf', 'soil', 'virus', 'nematode', 'other']),
    isNeeded: true,
    heads: ['kind'],
  },
  note,
]

const ruleColumns: SheetColumn[] = [
  { id: 'rule', label: 'Rule', kind: words, isNeeded: true },
  { id: 'subject', label: 'About', kind: words },
  { id: 'amount', label: 'Amount', kind: number() },
  { id: 'isOn', label: 'On', kind: yesNo },
  note,
]

const all: Record<SheetName, (names: Names) => SheetColumn[]> = {
  field: fieldColumns,
  variety: varietyColumns,
  dealer: () => dealerColumns,
  quote: quoteColumns,
  carried: carriedColumns,
  window: () => windowColumns,
  machine: () => machineColumns,
  measure: measureColumns,
  threat: () => threatColumns,
  rule: () => ruleColumns,
  load: loadColumns,
  seen: seenColumns,
  cost: costColumns,
}

/** @param names of the farm's own, which some sheets have a column of each of */
export function columnsOf(sheet: SheetName, names: Names): SheetColumn[] {
  return all[sheet](names)
}

/**
 * Paths that tell one row of a sheet from another: two rows that agree in all of them are the same. Of a load its ticket
 * goes before: `same-row.ts`.
 */
export const keyPaths: Record<SheetName, readonly string[]> = {
  field: ['name'],
  variety: ['name'],
  dealer: ['name'],
  quote: ['dealer', 'variety', 'name'],
  carried: ['variety', 'lot'],
  window: ['name'],
  machine: ['name'],
  measure: ['name'],
  threat: ['name'],
  rule: ['rule', 'subject'],
  load: ['field', 'hauledOn', 'grossPounds', 'tarePounds'],
  seen: ['field', 'threat', 'seenOn'],
  cost: ['kind', 'says', 'field', 'dealer', 'spentOn'],
}

/** Where the column's value stands in a row, as `acres` or `ratings/spotted wilt`. */
export function pathOf(column: SheetColumn): string {
  return column.path ?? column.id
}

/** What a row has at a path; null where there is nothing. */
export function valueAt(row: object, path: string): CellValue {
  const slash = path.indexOf('/')
  const own = (thing: unknown, key: string): unknown =>
    typeof thing === 'object' && thing !== null && Object.hasOwn(thing, key) ? (thing as never)[key] : null
  const value = slash < 0 ? own(row, path) : own(own(row, path.slice(0, slash)), path.slice(slash + 1))
  return (value ?? null) as CellValue
}
